"""What the checks find, in a process of its own, so that the window never stutters while they think."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from mockup.model.errors import InputError
from mockup.model.finding import Finding
from mockup.window.work.assets import Shelf
from mockup.window.work.child import Aside, GoneError
from mockup.window.work.latest import Latest
from mockup.window.work.project import Project

GONE = "the checks could not run; they are tried again with the next change"


@dataclass(frozen=True, kw_only=True)
class Question:
    """A version of an edited layout to be checked; `text` None means as it is on disk."""

    project: Project
    text: str | None = None
    variant: str | None = None
    number: int = 0


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What the checks found of a question, the worst first; `faults` say why they could not run."""

    question: Question
    findings: tuple[Finding, ...] = ()
    faults: tuple[str, ...] = ()


class Checker:
    """Asks a process of its own; each answer goes to `deliver`, which is called on a thread of its own.

    The newest question wins. The process begins with the first question and ends with `close`.
    """

    def __init__(self, deliver: Callable[[Answer], None]) -> None:
        self._deliver = deliver
        self._numbers = itertools.count(1)
        self._is_closed = False
        self._aside = Aside(is_behind=True)
        self._latest: Latest[Question] = Latest(self._work, "checks")

    def request(self, question: Question) -> int:
        """Ask for a version to be checked in place of any that is not begun; return the question's number."""
        number = next(self._numbers)
        self._latest.request(replace(question, number=number))
        return number

    def idle(self, timeout: float) -> bool:
        """Wait until nothing is left to check; False where that takes longer than `timeout` seconds."""
        return self._latest.idle(timeout)

    def close(self) -> None:
        """End the process and the thread, whatever they are at."""
        self._is_closed = True
        self._aside.close()
        self._latest.close()

    def _work(self, question: Question) -> None:
        try:
            found = Answer(question=question, findings=self._aside.ask(findings, question))
        except InputError as error:
            found = Answer(question=question, faults=tuple(str(error).splitlines()))
        except GoneError:
            found = Answer(question=question, faults=(GONE,))
        if not self._is_closed:
            self._deliver(found)


def findings(question: Question) -> tuple[Finding, ...]:
    """Return what the checks find; `InputError` where the layout or its files are broken."""
    from mockup.checks.report.run import run

    shelf, project = _shelf(question.project), question.project
    text = shelf.text(project) if question.text is None else question.text
    return run(shelf.design(shelf.layout(text, project), project, question.variant))


@lru_cache(maxsize=1)
def _shelf(_: Project) -> Shelf:
    return Shelf()
