"""The least change that clears what stands in the way, looked for in a process of its own that can be stopped."""

from __future__ import annotations

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
from mockup.window.work.search_process import Refusal, SearchProcess


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
        self._search = SearchProcess(mailbox, "cure")
        self.question: CheckRequest | None = None
        self.result: CureResult | None = None
        self.fault, self.what, self.share = "", "", 0.0

    @property
    def is_busy(self) -> bool:
        """True while it searches."""
        return self._search.is_busy

    def start(self, question: CheckRequest) -> None:
        """Begin to look for a cure; what it was at is stopped."""
        self.stop()
        self.question, self.what = question, "looking for places"
        self._search.start(cured, question, self._take, self._tell)

    def stop(self) -> None:
        """End the search, and forget what it found."""
        self._search.stop()
        self.question, self.result = None, None
        self.fault, self.what, self.share = "", "", 0.0

    def _tell(self, done: int, total: int, what: str) -> None:
        self.share, self.what = done / max(total, 1), what

    def _take(self, found: CureResult | Refusal) -> None:
        if isinstance(found, CureResult):
            self.result = found
        elif isinstance(found, MockupError):
            self.fault = in_window(found.lines[0])
        else:
            self.fault = failure.noted(found, "the search went wrong")


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
