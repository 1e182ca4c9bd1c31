"""What the window saves: one output at a time, made in a process of its own that can be stopped."""

from __future__ import annotations

import threading
from dataclasses import dataclass
from pathlib import Path

from mockup import failure, files
from mockup.model.errors import MockupError
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import MessageLine
from mockup.window.work.output_options import Given
from mockup.window.work.save_worker import SaveJob, made
from mockup.worker import Worker, WorkerGoneError


@dataclass(frozen=True, kw_only=True)
class SaveProgress:
    """How far a job is: its share done (0 to 1), what it does, and at the end files or a fault."""

    job: SaveJob
    share: float = 0.0
    what: str = ""
    files: tuple[Path, ...] = ()
    fault: str = ""
    is_over: bool = False


class SaveJobs:
    """Makes one output at a time and holds what is chosen for each; `progress` is of the last job."""

    def __init__(self, mailbox: Mailbox, messages: MessageLine) -> None:
        self._mailbox = mailbox
        self._messages = messages
        self._worker: Worker | None = None
        self._is_stopped = False
        self.progress: SaveProgress | None = None
        self.chosen = "still"
        self.suffix: dict[str, str] = {}
        self.given: dict[str, dict[str, Given]] = {}

    @property
    def is_busy(self) -> bool:
        """True while something is being made."""
        return self._worker is not None

    def start(self, job: SaveJob) -> None:
        """Begin a job; one at a time, so that another one is refused with a message."""
        if self._worker is not None:
            self._messages.say("Something is being saved already; wait for it, or stop it first.")
            return

        def told(done: int, total: int, what: str) -> None:
            self._tell(SaveProgress(job=job, share=done / max(total, 1), what=what))

        self._is_stopped = False
        self.progress = SaveProgress(job=job, what="starting")
        self._worker = Worker(told)
        threading.Thread(target=self._follow, args=(self._worker, job), name="saving", daemon=True).start()

    def stop(self) -> None:
        """Stop what is being made; nothing of it is written."""
        if self._worker is not None:
            self._is_stopped = True
            self._worker.close()

    def _follow(self, worker: Worker, job: SaveJob) -> None:
        written: tuple[Path, ...] = ()
        fault = ""
        try:
            found = worker.ask(made, job)
            if not self._is_stopped:
                files.write_all(found)
                written = tuple(found)
        except MockupError as error:
            fault = str(error).splitlines()[0]
        except WorkerGoneError as gone:
            fault = failure.noted(gone, f"the {job.output} could not be made: this went wrong")
        if self._is_stopped and not written:
            fault = "stopped; nothing was written"
        worker.close()
        self._worker = None
        self._tell(SaveProgress(job=job, share=1.0, files=written, fault=fault, is_over=True))

    def _tell(self, progress: SaveProgress) -> None:
        self._mailbox.post(lambda: self._take(progress))

    def _take(self, progress: SaveProgress) -> None:
        self.progress = progress
        if progress.is_over and progress.fault:
            self._messages.say(progress.fault)
        elif progress.is_over:
            self._messages.say(f"Saved: {', '.join(path.name for path in progress.files)}.")
