"""What the checks found of the pedal in hand, and of a change that is only on trial."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.checks.report.accepted import opened
from mockup.model.finding import Finding
from mockup.window.shell.mailbox import Mailbox
from mockup.window.shell.messages import MessageLine
from mockup.window.work.check_runner import GONE, CheckRequest, CheckResult, CheckRunner

CHECKS = "checks"
"""The source of a fault in the strip."""


class FindingBook:
    """Holds the last findings; everything here runs on the window's own thread.

    `checked` is the variant that `findings` are of, "" for the layout itself, None before the first answer. `accepted`
    are the findings that the layout accepts. `of_trial` are those of a change on trial, None until they are there.
    """

    def __init__(self, mailbox: Mailbox, messages: MessageLine) -> None:
        self._messages = messages
        self._checker = CheckRunner(lambda result: mailbox.post(lambda: self._checked(result)))
        self._asked: CheckRequest | None = None
        self._trial: CheckRequest | None = None
        self._tried: CheckRequest | None = None  # the last one on trial, put back or not: its answer may still come
        self._is_owed = False  # a trial has pushed the newest question out
        self.findings: tuple[Finding, ...] = ()
        self.accepted: tuple[Finding, ...] = ()
        self.of_trial: tuple[Finding, ...] | None = None
        self.checked: str | None = None
        self.is_checking = False
        self._beside: tuple[CheckRequest, ...] = ()
        self._known: dict[CheckRequest, tuple[Finding, ...]] = {}

    def request(self, question: CheckRequest, beside: Sequence[CheckRequest] = ()) -> None:
        """Ask for findings; `beside` are the other variants in sight, which are looked at afterwards."""
        self._asked, self.is_checking, self._is_owed = question, True, False
        self._beside = tuple(each for each in beside if each != question)
        self._known = {each: found for each, found in self._known.items() if each in (question, *self._beside)}
        self._checker.request(question)

    def of(self, question: CheckRequest) -> tuple[Finding, ...] | None:
        """Return the findings of a variant in sight, None as long as they are not there."""
        return self._known.get(question)

    def request_trial(self, question: CheckRequest) -> None:
        """Ask for the findings of a change on trial."""
        self._trial = self._tried = question
        self.of_trial, self._is_owed = None, self.is_checking
        self._checker.request(question)

    def end_trial(self) -> None:
        """Forget the change on trial."""
        self._trial, self.of_trial = None, None

    def clear(self) -> None:
        """Forget everything: another project is opened."""
        self.findings, self.accepted, self.checked, self.is_checking, self._asked = (), (), None, False, None
        self._beside, self._known = (), {}
        self.end_trial()

    def close(self) -> None:
        """End what works beside the window."""
        self._checker.close()

    def _checked(self, result: CheckResult) -> None:
        if self._trial is not None and result.question == self._trial:
            self.of_trial = opened(result.findings)
        if self._is_owed and self._asked is not None and result.question != self._asked:
            self._is_owed = False
            self._checker.request(self._asked)
        if result.question == self._tried and result.question != self._asked:
            return
        if self._asked is None or result.question.project != self._asked.project:
            return
        if not result.faults and result.question in (self._asked, *self._beside):
            self._known[result.question] = opened(result.findings)
        if result.question.variant == self._asked.variant:  # an older answer will do until the newest is there
            self._take(result)
        left = [each for each in self._beside if each not in self._known]
        if left and not self.is_checking and (result.question == self._asked or not result.faults):
            self._checker.request(left[0])

    def _take(self, result: CheckResult) -> None:
        self.is_checking = result.question != self._asked
        self._is_owed &= self.is_checking
        if result.faults == (GONE,):
            self._messages.fault(CHECKS, GONE)
        else:
            self._messages.mended(CHECKS)
        if not result.faults:
            self.findings = opened(result.findings)
            self.accepted = result.findings[len(self.findings) :]
            self.checked = result.question.variant or ""
