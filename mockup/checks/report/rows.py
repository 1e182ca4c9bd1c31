"""A finding in words for people: figures with units, what the layout overrides."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from mockup.model.design import Design
from mockup.model.finding import SEVERITIES, Finding, Severity
from mockup.model.limits import limits
from mockup.model.units import Unit, format_length

SYMBOLS: dict[Severity, str] = {"stop": "✖", "warn": "▲", "note": "·"}
PLAIN: dict[Severity, str] = {"stop": "X", "warn": "!", "note": "-"}
"""The same for terminals that cannot show them."""
SHOWN_SUBJECTS = 3
OWN = "this layout's [limits]"
"""How the source of a limit begins that the layout overrides."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One finding as a table shows it."""

    severity: Severity
    check: str
    subjects: str
    what: str
    remedy: str
    measured: str
    limit: str
    source: str


def row(finding: Finding, units: Unit) -> Row:
    """Return a finding as text; lengths in the layout's units, an overridden limit marked "own"."""
    own = " (own)" if finding.source.startswith(OWN) else ""
    return Row(
        severity=finding.severity,
        check=finding.check,
        subjects=_named(finding.subjects),
        what=_sentence(finding.what, finding.subjects),
        remedy=_sentence(finding.remedy, finding.subjects),
        measured=figure(finding.measured, finding.unit, units),
        limit=figure(finding.limit, finding.unit, units) + own if finding.limit is not None else "",
        source=finding.source,
    )


def _named(subjects: tuple[str, ...]) -> str:
    """Return the first few subjects; a finding may concern every label there is."""
    if len(subjects) <= SHOWN_SUBJECTS:
        return ", ".join(subjects)
    return f"{', '.join(subjects[: SHOWN_SUBJECTS - 1])} and {len(subjects) - SHOWN_SUBJECTS + 1} more"


def figure(value: float | None, unit: str, units: Unit) -> str:
    """Return a figure with its unit, lengths in the layout's units; empty where there is none."""
    if value is None:
        return ""
    if unit == "mm":
        return format_length(round(value, 2), units)
    number = f"{value:.3g}" if abs(value) < 1000 else f"{value:.0f}"
    return f"{number}{'' if unit in ('%', ':1') or not unit else ' '}{unit}"


def overrides(design: Design) -> tuple[str, ...]:
    """Return one piece of text per limit that the layout overrides, with its usual value."""
    return tuple(
        f"{each.name} = {each.value:g} {each.unit}".rstrip() + f" (usual {each.usual:g})"
        for each in limits(design.limits).values()
        if each.is_own
    )


def tally(findings: Iterable[Finding]) -> str:
    """Return how many findings there are of each severity: ``1 stop, 2 warnings, 3 notes``."""
    found = [finding.severity for finding in findings]
    words = {"stop": ("stop", "stops"), "warn": ("warning", "warnings"), "note": ("note", "notes")}
    return ", ".join(f"{found.count(each)} {words[each][found.count(each) != 1]}" for each in SEVERITIES)


def _sentence(text: str, subjects: tuple[str, ...]) -> str:
    """Return one sentence: a capital first, unless a name stands there, and a full stop."""
    if not text:
        return ""
    if not text.startswith(subjects):
        text = text[0].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."
