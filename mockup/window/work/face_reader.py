"""Pictures of a drilled face read for the window, in a process of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from mockup.model.errors import MockupError
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import in_window
from mockup.window.work.newest_job import NewestJobThread
from mockup.worker import Worker, WorkerGoneError

if TYPE_CHECKING:
    from mockup.as_built import FaceReading, FaceRequest

Deliver = Callable[["FaceReading | None", str], None]
"""Takes what is read, or None and why it is not."""


@dataclass(frozen=True, kw_only=True)
class FaceJob:
    """What is to be read, of which layout, and who is told."""

    layout: Path
    variant: str | None
    request: FaceRequest
    deliver: Deliver


class FaceReader:
    """Reads the newest pictures that it is given; who asked is told on the window's own thread."""

    def __init__(self, mailbox: Mailbox) -> None:
        self._mailbox = mailbox
        self._worker = Worker()
        self._free: Callable[[], None] | None = None
        self._jobs: NewestJobThread[FaceJob] = NewestJobThread(self._work, "holes as drilled")

    def read(self, job: FaceJob) -> None:
        """Read pictures of a face."""
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

    def _work(self, job: FaceJob) -> None:
        from mockup.as_built import read_face  # no part of what a start waits for

        reading, why = None, ""
        try:
            reading = self._worker.ask(read_face, job.layout, job.request, job.variant)
        except MockupError as error:
            why = in_window(error.lines[0])
        except WorkerGoneError:
            why = "The picture could not be read. Try again."
        self._mailbox.post(lambda: job.deliver(reading, why))
