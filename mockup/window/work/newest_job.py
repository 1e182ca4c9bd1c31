"""A thread that always does the newest thing it was asked for, one at a time."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

Job = TypeVar("Job")


class NewestJobThread(Generic[Job]):
    """Runs `work` on the newest job in a thread of its own; a job that a newer one overtakes never starts.

    `work` must not raise. The thread ends with the program, or when it is closed.
    """

    def __init__(self, work: Callable[[Job], None], name: str) -> None:
        self._work = work
        self._changed = threading.Condition()
        self._job: Job | None = None
        self._is_busy = False
        self._is_closed = False
        self._thread = threading.Thread(target=self._run, name=name, daemon=True)
        self._thread.start()

    def request(self, job: Job) -> None:
        """Ask for a job in place of any that has not begun; never waits."""
        with self._changed:
            self._job = job
            self._changed.notify_all()

    @property
    def is_overtaken(self) -> bool:
        """True while a newer job waits: what is being done may as well stop."""
        return self._job is not None or self._is_closed

    def wait(self, seconds: float) -> bool:
        """Sleep inside a job; return at once and True when a newer one comes."""
        with self._changed:
            return self._changed.wait_for(lambda: self.is_overtaken, seconds)

    def idle(self, timeout: float) -> bool:
        """Wait until nothing is left to do; False where that takes longer than `timeout` seconds."""
        with self._changed:
            return self._changed.wait_for(lambda: self._job is None and not self._is_busy, timeout)

    def close(self, timeout: float = 5.0) -> None:
        """End the thread after the job it is at; what has not begun is dropped."""
        with self._changed:
            self._is_closed = True
            self._job = None
            self._changed.notify_all()
        if self._thread is not threading.current_thread():
            self._thread.join(timeout)

    def _run(self) -> None:
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._job is not None or self._is_closed)
                if self._is_closed:
                    return
                job, self._job, self._is_busy = self._job, None, True
            assert job is not None
            try:
                self._work(job)
            finally:
                with self._changed:
                    self._is_busy = False
                    self._changed.notify_all()
