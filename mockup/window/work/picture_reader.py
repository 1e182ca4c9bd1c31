"""Scans and photographs read for the window, in a process of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from mockup.model.errors import MockupError
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import in_window
from mockup.window.work.newest_job import NewestJobThread
from mockup.worker import Worker, WorkerGoneError

Deliver = Callable[[Any, str], None]
"""Takes what is read, or None and why it is not."""


@dataclass(frozen=True, kw_only=True)
class PictureJob:
    """The function that reads, what it is given, and who is told; `question` imports it where it is asked."""

    question: Callable[[], Callable[..., Any]]
    given: tuple[Any, ...]
    deliver: Deliver


class PictureReader:
    """Reads the newest pictures that it is given; who asked is told on the window's own thread."""

    def __init__(self, mailbox: Mailbox) -> None:
        self._mailbox = mailbox
        self._worker = Worker()
        self._free: Callable[[], None] | None = None
        self._jobs: NewestJobThread[PictureJob] = NewestJobThread(self._work, "pictures")

    def read(self, job: PictureJob) -> None:
        """Read pictures."""
        self._jobs.request(job)

    def replace(self, free: Callable[[], None]) -> None:
        """Free what the reading before was shown with; `free` is for this one, next time."""
        before, self._free = self._free, free
        if before is not None:
            before()

    def close(self) -> None:
        """End the thread and its process."""
        self._worker.close()
        self._jobs.close()

    def _work(self, job: PictureJob) -> None:
        found, why = None, ""
        try:
            found = self._worker.ask(job.question(), *job.given)
        except MockupError as error:
            why = in_window(error.lines[0])
        except WorkerGoneError:
            why = "The picture could not be read. Try again."
        self._mailbox.post(lambda: job.deliver(found, why))
