"""One search at a time, in a process of its own that can be stopped."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import TypeVar

from mockup.model.errors import MockupError
from mockup.options import Progress
from mockup.window.shell.mailbox import Mailbox
from mockup.worker import Worker, WorkerGoneError

Question = TypeVar("Question")
Answer = TypeVar("Answer")
Refusal = MockupError | WorkerGoneError
"""Why there is no answer."""


class SearchProcess:
    """Runs the search that was begun last; the one before is ended and heard of no more.

    `name` is that of its thread. With `is_behind` it leaves the processor to the window. What it tells and what it
    finds comes on the window's own thread.
    """

    def __init__(self, mailbox: Mailbox, name: str, *, is_behind: bool = False) -> None:
        self._mailbox = mailbox
        self._name = name
        self._is_behind = is_behind
        self._worker: Worker | None = None

    @property
    def is_busy(self) -> bool:
        """True while it searches."""
        return self._worker is not None

    def start(
        self,
        search: Callable[[Question], Answer],
        question: Question,
        deliver: Callable[[Answer | Refusal], None],
        tell: Progress | None = None,
    ) -> None:
        """Begin a search; `deliver` is given what it finds, `tell` how far it is."""
        self.stop()

        def told(done: int, total: int, what: str) -> None:
            self._mailbox.post(lambda: tell(done, total, what) if tell and worker is self._worker else None)

        worker = self._worker = Worker(told if tell is not None else None, is_behind=self._is_behind)

        def follow() -> None:
            found: Answer | Refusal
            try:
                found = worker.ask(search, question)
            except (MockupError, WorkerGoneError) as refusal:
                found = refusal
            worker.close()
            self._mailbox.post(lambda: take(found))

        def take(found: Answer | Refusal) -> None:
            if worker is self._worker:
                self._worker = None
                deliver(found)

        threading.Thread(target=follow, name=self._name, daemon=True).start()

    def stop(self) -> None:
        """End the search."""
        worker, self._worker = self._worker, None
        if worker is not None:
            worker.close()
