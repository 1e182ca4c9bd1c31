"""Which design a page in hand shows, looked up in a process of its own."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mockup.model.errors import MockupError
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import in_window
from mockup.window.work.newest_job import NewestJobThread
from mockup.worker import Worker, WorkerGoneError


@dataclass(frozen=True, kw_only=True)
class PageQuestion:
    """What is typed from a page, and the layout that it is held against."""

    mark: str
    layout: Path


class PageLookup:
    """Answers the newest question; `lines` are the answer to `asked`, None while it is looked for."""

    def __init__(self, mailbox: Mailbox) -> None:
        self._mailbox = mailbox
        self.asked: PageQuestion | None = None
        self.lines: tuple[str, ...] | None = None
        self._worker = Worker()
        self._jobs: NewestJobThread[PageQuestion] = NewestJobThread(self._work, "page in hand")

    def ask(self, question: PageQuestion) -> None:
        """Look a page up."""
        self.asked, self.lines = question, None
        self._jobs.request(question)

    def clear(self) -> None:
        """Forget what was asked."""
        self.asked, self.lines = None, None

    def close(self) -> None:
        """End the thread and its process."""
        self._worker.close()
        self._jobs.close()

    def _work(self, question: PageQuestion) -> None:
        from mockup.comparison.page_origin import which  # no part of what a start waits for

        try:
            lines = self._worker.ask(which, question.mark, question.layout).lines
        except MockupError as error:
            lines = tuple(map(in_window, error.lines))
        except WorkerGoneError:
            lines = ("It could not be looked up. Try again.",)
        self._mailbox.post(lambda: self._take(question, lines))

    def _take(self, question: PageQuestion, lines: tuple[str, ...]) -> None:
        if question == self.asked:
            self.lines = lines
