"""What the window saves: outputs made one after the other, each in a process of its own that can be stopped."""

from __future__ import annotations

import threading
import time
from collections import deque
from dataclasses import dataclass, field
from pathlib import Path

from mockup import failure, files
from mockup.model.errors import MockupError, OutputError
from mockup.window.saves.output_options import Given
from mockup.window.saves.save_worker import SaveJob, recorded
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import MessageLine, in_window
from mockup.worker import Worker, WorkerGoneError

MOST_DONE = 8  # jobs that are over and still listed: our choice


@dataclass(frozen=True, kw_only=True)
class SaveProgress:
    """How far a job is: its share done (0 to 1), what it does, and at the end files or a fault.

    `since` is when it began, a time of `time.monotonic`.
    """

    job: SaveJob
    share: float = 0.0
    what: str = ""
    files: tuple[Path, ...] = ()
    fault: str = ""
    is_over: bool = False
    since: float = field(default_factory=time.monotonic)

    def left_s(self, now: float) -> float | None:
        """Return the seconds that are left, as far as can be told from the share done; None too early for that."""
        if not 0.05 <= self.share < 1.0:
            return None
        return (now - self.since) / self.share * (1.0 - self.share)


class SaveJobs:
    """A queue of jobs, what is chosen for each output, and what became of the jobs that are over, newest first."""

    def __init__(self, mailbox: Mailbox, messages: MessageLine) -> None:
        self._mailbox = mailbox
        self._messages = messages
        self._worker: Worker | None = None
        self._is_stopped = False
        self._waiting: deque[SaveJob] = deque()
        self.progress: SaveProgress | None = None
        self.done: deque[SaveProgress] = deque(maxlen=MOST_DONE)
        self.chosen = "template"
        self.ticked: set[str] = {"template", "sheet"}
        self.suffix: dict[str, str] = {}
        self.given: dict[str, dict[str, Given]] = {}
        self.folder: Path | None = None

    @property
    def is_busy(self) -> bool:
        """True while something is being made, or waits for that."""
        return self._worker is not None or bool(self._waiting)

    @property
    def waiting(self) -> tuple[SaveJob, ...]:
        """The jobs that have not begun, in order."""
        return tuple(self._waiting)

    def leave_out(self, number: int) -> None:
        """Take a job back that has not begun."""
        if 0 <= number < len(self._waiting):
            del self._waiting[number]

    def start(self, job: SaveJob) -> None:
        """Begin a job, or put it behind those that wait."""
        self._waiting.append(job)
        self._begin()

    def stop(self) -> None:
        """Stop what is being made; nothing of it is written. What waits is dropped."""
        self._waiting.clear()
        if self._worker is not None:
            self._is_stopped = True
            self._worker.close()

    def leave(self) -> None:
        """Forget the jobs of a pedal that is left, and the folder chosen for it."""
        self.stop()
        self.done.clear()
        self.folder = None

    def _begin(self) -> None:
        if self._worker is not None or not self._waiting:
            return
        job = self._waiting.popleft()
        since = time.monotonic()

        def told(done: int, total: int, what: str) -> None:
            self._tell(SaveProgress(job=job, share=done / max(total, 1), what=what, since=since))

        self._is_stopped = False
        self.progress = SaveProgress(job=job, what="starting", since=since)
        self._worker = Worker(told)
        threading.Thread(target=self._follow, args=(self._worker, job), name="saving", daemon=True).start()

    def _follow(self, worker: Worker, job: SaveJob) -> None:
        written: tuple[Path, ...] = ()
        fault = ""
        try:
            found = worker.ask(recorded, job)
            if not self._is_stopped:
                files.write_all(found)
                written = tuple(found)
        except OutputError as error:
            fault = f"{in_window(error.lines[0])}; choose another folder"
        except MockupError as error:
            fault = in_window(error.lines[0])
        except WorkerGoneError as gone:
            fault = failure.noted(gone, f"the {job.output} could not be made: this went wrong")
        if self._is_stopped and not written:
            fault = "Stopped; nothing was written"
        worker.close()
        self._tell(SaveProgress(job=job, share=1.0, files=written, fault=fault, is_over=True))

    def _tell(self, progress: SaveProgress) -> None:
        self._mailbox.post(lambda: self._take(progress))

    def _take(self, progress: SaveProgress) -> None:
        if not progress.is_over:
            if self._worker is not None:
                self.progress = progress
            return
        self.progress, self._worker = None, None
        self.done.appendleft(progress)
        if progress.fault:
            self._messages.say(progress.fault)
        else:
            self._messages.say(f"Saved {', '.join(path.name for path in progress.files)}.")
        self._begin()
