"""Calls that other threads send to the window's own thread."""

from __future__ import annotations

import queue
from collections.abc import Callable


class Mailbox:
    """Holds calls until the window's thread collects them; `wake` makes it look, and may be called from any thread."""

    def __init__(self, wake: Callable[[], None]) -> None:
        self._wake = wake
        self._calls: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()

    def post(self, call: Callable[[], None]) -> None:
        """Have something called on the window's thread; may be called from any thread."""
        self._calls.put(call)
        self._wake()

    def collect(self) -> bool:
        """Make every waiting call; return True where there was one."""
        is_any = False
        while True:
            try:
                call = self._calls.get_nowait()
            except queue.Empty:
                return is_any
            call()
            is_any = True
