"""All checks on one design: built once, every finding in order of how bad it is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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
    chosen = limits(built.design.limits)
    found = [
        finding
        for name in CHECKS.names()
        if not only or name in only
        for finding in cast(Check, CHECKS.load(name)).check(built, chosen)
    ]
    return in_order(found)


def in_order(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with the stops first, then warnings, then notes; by check, then by subject."""
    return tuple(sorted(found, key=lambda each: (SEVERITIES.index(each.severity), each.check, each.subjects)))
