"""What the checks find, in a process of its own, so that the window never stutters while they think."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from mockup.model.errors import MockupError
from mockup.model.finding import Finding
from mockup.window.pane_content import PaneContent
from mockup.window.work.assets import Assets
from mockup.window.work.newest_job import NewestJobThread
from mockup.window.work.project import Project
from mockup.worker import Worker, WorkerGoneError

GONE = "The checks could not run; they are tried again with the next change."


@dataclass(frozen=True, kw_only=True)
class CheckRequest:
    """A variant of an edited layout to be checked; `text` None means as it is on disk."""

    project: Project
    text: str | None = None
    variant: str | None = None
    is_as_built: bool = False


def question_of(project: Project, text: str | None, content: PaneContent) -> CheckRequest:
    """Return what is asked about what a pane shows."""
    variant, is_as_built = content.checked
    return CheckRequest(project=project, text=text, variant=variant, is_as_built=is_as_built)


@dataclass(frozen=True, kw_only=True)
class CheckResult:
    """What the checks found of a question, the worst first; `faults` say why they could not run."""

    question: CheckRequest
    findings: tuple[Finding, ...] = ()
    faults: tuple[str, ...] = ()


class CheckRunner:
    """Asks a process of its own; each answer goes to `deliver`, which is called on a thread of its own.

    The newest question wins. The process begins with the first question and ends with `close`.
    """

    def __init__(self, deliver: Callable[[CheckResult], None]) -> None:
        self._deliver = deliver
        self._is_closed = False
        self._aside = Worker(is_behind=True)
        self.jobs: NewestJobThread[CheckRequest] = NewestJobThread(self._work, "checks")

    def request(self, question: CheckRequest) -> None:
        """Ask for a variant to be checked in place of any that is not begun."""
        self.jobs.request(question)

    def close(self) -> None:
        """End the process and the thread, whatever they are at."""
        self._is_closed = True
        self._aside.close()
        self.jobs.close()

    def _work(self, question: CheckRequest) -> None:
        try:
            found = CheckResult(question=question, findings=self._aside.ask(findings, question))
        except MockupError as error:
            found = CheckResult(question=question, faults=tuple(str(error).splitlines()))
        except WorkerGoneError:
            found = CheckResult(question=question, faults=(GONE,))
        if not self._is_closed:
            self._deliver(found)


def findings(question: CheckRequest) -> tuple[Finding, ...]:
    """Return what the checks find; `InputError` where the layout or its files are broken."""
    from mockup import cache
    from mockup.checks.report.run import run

    cache.attach()
    assets, project = Assets(), question.project
    text = assets.text(project) if question.text is None else question.text
    return run(assets.design(text, project, question.variant, is_as_built=question.is_as_built))
