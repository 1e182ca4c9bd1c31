"""All checks on one design: built once, every finding in order of how bad it is."""

from __future__ import annotations

import traceback
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import PurePath
from typing import cast

from mockup.checks import CHECKS, Check
from mockup.checks.panel.built import Built
from mockup.checks.report.sentences import named
from mockup.model.design import Design
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.finding import SEVERITIES, Finding
from mockup.model.limits import limits


def run(design: Design, only: Sequence[str] = ()) -> tuple[Finding, ...]:
    """Return what the checks find: stops first, then warnings, then notes; by check, then by subject.

    `only` names the checks to run, none meaning all. Raises `InputError` for a name that is no check.
    """
    names = CHECKS.names()
    unknown = [name for name in only if name not in names]
    if unknown:
        raise InputError(
            Fault(file="--only", what=f"there is no check {name!r}", remedy=nearest(name, names)) for name in unknown
        )
    return run_on(Built(design), only)


def run_on(built: Built, only: Sequence[str] = ()) -> tuple[Finding, ...]:
    """Return what `run` does of a design that is built already; `only` names checks that exist."""
    chosen = [name for name in CHECKS.names() if not only or name in only]
    return in_order(finding for name in chosen for finding in findings_of(name, built))


def findings_of(name: str, built: Built) -> tuple[Finding, ...]:
    """Return what one check finds. One that fails inside yields a finding that says so: the others still run."""
    try:
        found = cast(Check, CHECKS.load(name)).check(built, limits(built.design.limits))
        return tuple(replace(each, check=name) for each in found)
    except Exception as error:  # a mistake of ours, of whatever kind
        return (failure(name, error),)


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


def in_order(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with the stops first, then warnings, then notes; by check, then by subject."""

    def place(each: Finding) -> tuple[int, str, list[str]]:
        return SEVERITIES.index(each.severity), each.check, [named(subject, "mm") for subject in each.subjects]

    return tuple(sorted(found, key=place))
