"""Findings that the layout accepts: told from the open ones, and open again where their figure got worse."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from mockup.checks.report.sentences import named
from mockup.model.acceptance import Acceptance
from mockup.model.finding import Finding, Severity

_DECIMALS = 3  # a figure is kept so finely: far below what anybody measures
_SAME = 2 * 10.0**-_DECIMALS


def acceptance_of(finding: Finding, why: str) -> Acceptance:
    """Return what accepts a finding as it is now."""
    measured = None if finding.measured is None else round(finding.measured.value, _DECIMALS)
    return Acceptance(check=finding.check, subjects=_subjects(finding), why=why, measured=measured)


def marked(findings: Iterable[Finding], accepted: Sequence[Acceptance]) -> tuple[Finding, ...]:
    """Return findings with the reason in each that is accepted, those behind the open ones."""
    found = [replace(each, accepted=each.accepted or _reason(each, accepted)) for each in findings]
    return tuple(sorted(found, key=lambda each: bool(each.accepted)))


def opened(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings that nobody accepted."""
    return tuple(each for each in findings if not each.accepted)


def counted(findings: Iterable[Finding]) -> Counter[Severity]:
    """Return how many findings of each severity are open."""
    return Counter(each.severity for each in opened(findings))


def _reason(finding: Finding, accepted: Sequence[Acceptance]) -> str:
    if finding.failure:
        return ""  # a check that gave no answer has nothing to accept
    subjects = frozenset(_subjects(finding))
    for each in accepted:
        if each.check == finding.check and frozenset(each.subjects) == subjects and not _is_worse(finding, each):
            return each.why
    return ""


def _is_worse(finding: Finding, accepted: Acceptance) -> bool:
    """Return whether the figure went further from its limit than it was when it was accepted."""
    if accepted.measured is None or finding.measured is None:
        return False
    value, before = finding.measured.value, accepted.measured
    if finding.limit is not None:
        is_low = value < finding.limit.value
        return value < before - _SAME if is_low else value > before + _SAME
    return abs(value) > abs(before) + _SAME  # an overlap: the more the worse


def _subjects(finding: Finding) -> tuple[str, ...]:
    return tuple(named(each, "mm") for each in finding.subjects)
