"""All checks on one design: every finding in order of how bad it is."""

from __future__ import annotations

import traceback
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import PurePath
from types import SimpleNamespace
from typing import cast

from mockup.checks import CHECKS, Check
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import agree, clearing
from mockup.checks.report.accepted import marked, opened
from mockup.checks.report.grouping import grouped
from mockup.checks.report.sentences import clause, named
from mockup.memo import MEMORY
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.finding import SEVERITIES, Finding

DOUBT_MM = 3.0  # what parts of one kind may differ by from maker to maker: common practice, no source


def run(design: Design, only: Sequence[str] = ()) -> tuple[Finding, ...]:
    """Return what the checks find: stops first, then warnings, then notes; by check, then by subject.

    Those that the design accepts come last, each with the reason. What has one cause is one finding.

    `only` names the checks to run, none meaning all. Raises `InputError` for a name that is no check.
    """
    found = _in_order(each for each in _every(design, only) if not each.is_advice)
    told = marked(found, design.accepted)
    built = Built(design)
    open_ones = grouped(opened(told), lambda name: clearing(built, name), lambda edits: agree(built, edits))
    return marked((*_in_order(open_ones), *(each for each in told if each.accepted)), design.accepted)


def advice(design: Design, only: Sequence[str] = ()) -> str:
    """Return in one line what published figures advise and a small panel cannot give; empty where there is nothing."""
    said = [clause(each, design.units) for each in _every(design, only) if each.is_advice]
    return f"Nothing has to change, but so you know: {'; '.join(said)}." if said else ""


def _every(design: Design, only: Sequence[str]) -> Iterator[Finding]:
    names = CHECKS.names()
    unknown = [name for name in only if name not in names]
    if unknown:
        raise InputError(
            Fault(file="--only", what=f"there is no check {name!r}", remedy=nearest(name, names)) for name in unknown
        )
    for name in dict.fromkeys(only or names):
        yield from _findings(name, design)


def _findings(name: str, design: Design) -> tuple[Finding, ...]:
    """Return what one check finds, from memory where nothing that it reads has changed.

    One that fails inside yields a finding that says so: the others still run.
    """
    try:
        check = cast(Check, CHECKS.load(name))
        read = {each: getattr(design, each) for each in (*check.READS, "limits")}
        seen = cast(Design, SimpleNamespace(**read))  # what it does not declare is not there to be read
        found = MEMORY.recall(check.check, read, lambda: tuple(check.check(Built(seen))))
        figures = getattr(check, "FIGURES", ())
        return tuple(replace(each, check=name, unmeasured=_unmeasured(each, design, figures)) for each in found)
    except Exception as error:  # a mistake of ours, of whatever kind
        return (failure(name, error),)


def _unmeasured(finding: Finding, design: Design, figures: Sequence[str]) -> tuple[str, ...]:
    """Return the parts of a finding whose figures are from memory, where less than `DOUBT_MM` decide it."""
    measured, limit = finding.measured, finding.limit
    if (
        not figures
        or finding.is_advice
        or measured is None
        or limit is None
        or abs(measured.value - limit.value) >= DOUBT_MM
    ):
        return ()
    kinds = {part.name: part.kind for part in design.parts}
    names = [each.name for each in finding.subjects if each.kind == "part" and each.name in kinds]
    return tuple(name for name in names if not all(map(kinds[name].is_measured, figures)))


def failure(name: str, error: Exception) -> Finding:
    """Return the finding that stands for a check that failed inside: which one, and where in it."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    place = f"{type(error).__name__} in {PurePath(last.filename).name}, line {last.lineno}"
    return Finding(
        check=name,
        severity="warn",
        title="A check failed",
        what="{check} gave no answer, so what it looks for is not known ({place})",
        remedy="This is a mistake in the program, not in your layout: please report it, with the layout",
        origin="no limit: the program's own failure",
        facts={"check": name, "place": place},
        failure=f"{place}: {error}",
    )


def _in_order(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with the stops first, then warnings, then notes; by check, then by subject."""

    def place(each: Finding) -> tuple[int, str, list[str]]:
        return SEVERITIES.index(each.severity), each.check, [named(subject, "mm") for subject in each.subjects]

    return tuple(sorted(found, key=place))
