"""Findings as rows of a table and as plain data."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any, cast

from mockup import __version__
from mockup.checks.report.accepted import counted
from mockup.checks.report.sentences import finer, named, quantity, remedy, sentence, what
from mockup.decal.account import Account
from mockup.limits import limits
from mockup.model.design import Design
from mockup.model.digest import digest
from mockup.model.finding import SEVERITIES, SEVERITY_WORDS, Finding, Limit, Quantity, Severity
from mockup.model.units import Unit

SYMBOLS: dict[Severity, str] = {"stop": "✖", "warn": "▲", "note": "·"}
PLAIN: dict[Severity, str] = {"stop": "X", "warn": "!", "note": "-"}
"""The same for terminals that cannot show them."""
SHOWN_SUBJECTS = 3
_DECIMALS = 4  # of figures in plain data


@dataclass(frozen=True, kw_only=True)
class Row:
    """One finding as a table shows it."""

    severity: Severity
    check: str
    subjects: str
    what: str
    sentence: str
    remedy: str
    measured: str
    limit: str
    source: str


def row(finding: Finding, units: Unit) -> Row:
    """Return a finding as text; lengths in the reader's units, an overridden limit marked "own"."""
    more = finer(finding.measured, finding.limit, units)
    own = " (own)" if isinstance(finding.limit, Limit) and finding.limit.is_own else ""
    return Row(
        severity=finding.severity,
        check=finding.check,
        subjects=subjects(finding, units),
        what=what(finding, units),
        sentence=sentence(finding, units),
        remedy=remedy(finding, units),
        measured=figure(finding.measured, units, more),
        limit=figure(finding.limit, units, more) + own if finding.limit is not None else "",
        source=finding.source,
    )


def report_data(
    design: Design, loaded: Iterable[Account], findings: Iterable[Finding], advice: str = ""
) -> dict[str, Any]:
    """Return the whole report as plain data, figures to a ten thousandth."""
    told = tuple(findings)
    counts = counted(told)
    tally_data: dict[str, int] = {each: counts[each] for each in SEVERITIES}
    report = {
        "program": f"mockup {__version__}",
        "design": design.name,
        "layout": design.source,
        "variant": design.variant,
        "units": design.units,
        "tally": {
            **tally_data,
            "accepted": sum(bool(each.accepted) for each in told),
            "failed": sum(bool(each.failure) for each in told),
        },
        "art": [account_data(each) for each in loaded],
        "findings": [data(each, design.units) for each in told],
        "advice": advice,
    }
    return cast(dict[str, Any], _rounded(report))


def _rounded(value: Any) -> Any:
    """Return plain data with its figures rounded: what lies beyond is noise of arithmetic."""
    if isinstance(value, float):
        return round(value, _DECIMALS) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(each) for key, each in value.items()}
    return [_rounded(each) for each in value] if isinstance(value, list | tuple) else value


def fingerprint(finding: Finding) -> str:
    """Return what a finding is known by from one report to the next, whatever its figures: twelve digits."""
    about = sorted(
        (each.kind, each.name or f"{each.face} {each.u_mm:.0f} {each.v_mm:.0f}") for each in finding.subjects
    )
    return digest(finding.check, finding.title, about)[:12]


def data(finding: Finding, units: Unit) -> dict[str, Any]:
    """Return a finding as plain data: its facts, and its sentences in the layout's units."""
    found, limit = finding.measured, finding.limit
    return {
        "fingerprint": fingerprint(finding),
        "check": finding.check,
        "severity": finding.severity,
        "title": finding.title,
        "subjects": [
            {"kind": each.kind, "name": each.name}
            if each.name
            else {"kind": each.kind, "face": each.face, "u_mm": each.u_mm, "v_mm": each.v_mm}
            for each in finding.subjects
        ],
        "what": what(finding, units),
        "remedy": remedy(finding, units),
        "remedy_edits": [{"edit": type(each).__name__, **asdict(each)} for each in finding.edits],
        "source": finding.source,
        "measured": found.value if found is not None else None,
        "limit": limit.value if limit is not None else None,
        "unit": found.unit if found is not None else limit.unit if limit is not None else "",
        "marks": [asdict(each) for each in finding.marks],
        "failure": finding.failure,
        "accepted": finding.accepted,
    }


def account_data(account: Account) -> dict[str, Any]:
    """Return the account of a picture file as plain data."""
    return {
        "art": account.art,
        "face": account.face,
        "decal": account.decal,
        "lines": [{"name": each.name, "text": each.text} for each in account.lines],
        "troubles": [
            {
                "name": each.name,
                "title": each.title,
                "what": each.what,
                "order": each.order,
                "edits": [{"edit": type(edit).__name__, **asdict(edit)} for edit in each.edits],
            }
            for each in account.troubles
        ],
    }


def subjects(finding: Finding, units: Unit) -> str:
    """Return the first few subjects; a finding may concern every label there is."""
    names = [named(each, units) for each in finding.subjects]
    if len(names) <= SHOWN_SUBJECTS:
        return ", ".join(names)
    return f"{', '.join(names[: SHOWN_SUBJECTS - 1])} and {len(names) - SHOWN_SUBJECTS + 1} more"


def figure(found: Quantity | None, units: Unit, more: int = 0) -> str:
    """Return a figure with its unit, to so many digits more than usual, empty where there is none."""
    return "" if found is None else quantity(found, units, more)


def overrides(design: Design) -> tuple[str, ...]:
    """Return one piece of text per limit that the layout overrides, with its usual value."""
    return tuple(
        f"{each.name} = {each.value:g} {each.unit}".rstrip() + f" (usual {each.usual:g})"
        for each in limits(design.limits).values()
        if each.is_own
    )


def tally(findings: Iterable[Finding]) -> str:
    """Return how many findings there are of each severity, ``1 stop, 2 warnings, 3 notes``, and how many accepted."""
    told = tuple(findings)
    found = counted(told)
    counts = {word: found[each] for each, word in SEVERITY_WORDS.items()}
    said = ", ".join(f"{count} {word}{'s' * (count != 1)}" for word, count in counts.items())
    accepted = len(told) - found.total()
    return said + (f", {accepted} accepted" if accepted else "")
