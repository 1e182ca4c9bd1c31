"""All checks on one design: built once, every finding in order of how bad it is."""

from __future__ import annotations

import traceback
from collections.abc import Iterable, Sequence
from pathlib import PurePath
from typing import cast

from mockup.checks import CHECKS, Check
from mockup.checks.panel.built import Built
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
        return tuple(cast(Check, CHECKS.load(name)).check(built, limits(built.design.limits)))
    except Exception as error:  # a mistake of ours, of whatever kind
        return (failure(name, error),)


def failure(name: str, error: Exception) -> Finding:
    """Return the finding that stands for a check that failed inside: which one, and where in it."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    what = f"{type(error).__name__} in {PurePath(last.filename).name}, line {last.lineno}"
    return Finding(
        check=name,
        severity="warn",
        subjects=(),
        what=f"The check {name} failed, so that nothing is known of what it looks for: {what}",
        remedy="This is a mistake in the program, not in your layout: please report it with the layout",
        source="no limit: the program's own failure",
        failure=f"{what}: {error}",
    )


def in_order(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with the stops first, then warnings, then notes; by check, then by subject."""
    return tuple(sorted(found, key=lambda each: (SEVERITIES.index(each.severity), each.check, each.subjects)))
