"""The least change that clears what stands in the way, looked for in a process of its own that can be stopped."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass

from mockup import failure
from mockup.model.design import Design
from mockup.model.edit import Edit
from mockup.model.errors import MockupError
from mockup.options import Progress, silent
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import in_window
from mockup.window.work.assets import Assets
from mockup.window.work.check_runner import CheckRequest
from mockup.worker import Worker, WorkerGoneError


@dataclass(frozen=True, kw_only=True)
class Cure:
    """A change of the layout: its edits, and what has to be given up for it, "" for nothing. `notes` are sentences."""

    edits: tuple[Edit, ...]
    concession: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class CureResult:
    """The change by moves and turns alone, and the one that gives something up, None where none is needed or helps."""

    plain: Cure
    conceding: Cure | None = None


class Mender:
    """Looks for a cure of one layout at a time; everything but the search runs on the window's own thread.

    `question` is what it is, or was last, at. `result` is what it found, None before; `fault` says in a line why there
    is none. `share` and `what` tell how far it is.
    """

    def __init__(self, mailbox: Mailbox) -> None:
        self._mailbox = mailbox
        self._worker: Worker | None = None
        self.question: CheckRequest | None = None
        self.result: CureResult | None = None
        self.fault, self.what, self.share = "", "", 0.0

    @property
    def is_busy(self) -> bool:
        """True while it searches."""
        return self._worker is not None

    def start(self, question: CheckRequest) -> None:
        """Begin to look for a cure; what it was at is stopped."""
        self.stop()

        def told(done: int, total: int, what: str) -> None:
            self._mailbox.post(lambda: self._tell(worker, done / max(total, 1), what))

        worker = Worker(told)
        self._worker, self.question = worker, question
        self.what = "looking for places"
        threading.Thread(target=self._follow, args=(worker, question), name="cure", daemon=True).start()

    def stop(self) -> None:
        """End the search, and forget what it found."""
        worker, self._worker = self._worker, None
        if worker is not None:
            worker.close()
        self.question, self.result = None, None
        self.fault, self.what, self.share = "", "", 0.0

    def _follow(self, worker: Worker, question: CheckRequest) -> None:
        result, fault = None, ""
        try:
            result = worker.ask(cured, question)
        except MockupError as error:
            fault = in_window(error.lines[0])
        except WorkerGoneError as gone:
            fault = "" if gone.reason == "closed" else failure.noted(gone, "the search went wrong")
        worker.close()
        self._mailbox.post(lambda: self._take(worker, result, fault))

    def _tell(self, worker: Worker, share: float, what: str) -> None:
        if worker is self._worker:
            self.share, self.what = share, what

    def _take(self, worker: Worker, result: CureResult | None, fault: str) -> None:
        if worker is self._worker:
            self._worker, self.result, self.fault = None, result, fault


def cured(question: CheckRequest, progress: Progress = silent) -> CureResult:
    """Return the least change of a layout that clears what moves can clear; runs aside."""
    from mockup import cache
    from mockup.arrange.least_concession import has_too_little_room, least_concession
    from mockup.arrange.mending import Mending, mending
    from mockup.layout.edit.apply import apply

    cache.attach()
    assets, project = Assets(), question.project
    text = assets.text(project) if question.text is None else question.text
    design = assets.design(text, project, question.variant)  # as designed: drilled holes stay

    def after(edits: Sequence[Edit]) -> Design:
        return assets.design(apply(text, edits, project.layout.name), project, question.variant)

    def told(found: Mending) -> Cure:
        edits = () if found.brought else found.edits  # what brings something new is no cure
        return Cure(edits=edits, concession=found.concession, notes=found.notes)

    plain = mending(design, after, progress=progress)
    given = least_concession(design, after, plain, progress=progress) if has_too_little_room(plain.design) else None
    return CureResult(plain=told(plain), conceding=told(given) if given is not None else None)
