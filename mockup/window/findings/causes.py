"""Findings grouped by their cause: what one change cures, or what stands between the same things, is told once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mockup.model.edit import Edit, Move, PutLength, PutValue
from mockup.model.finding import SEVERITIES, Finding, Severity, Subject


@dataclass(frozen=True, kw_only=True)
class Cause:
    """One cause: the numbers of its findings, the worst first, and the edits that mend it, if any do.

    `against` are the numbers of the causes whose edits undo these: of two such remedies neither helps.
    """

    findings: tuple[int, ...]
    severity: Severity
    edits: tuple[Edit, ...] = ()
    against: tuple[int, ...] = ()
    is_failure: bool = False

    @property
    def offered(self) -> tuple[Edit, ...]:
        """The edits that are offered: none where they work against those of another cause."""
        return () if self.against else self.edits

    @property
    def first(self) -> int:
        """The number of its worst finding."""
        return self.findings[0]


def causes(findings: Sequence[Finding]) -> tuple[Cause, ...]:
    """Return the causes of findings, the worst first; each finding belongs to one.

    Findings belong together that the same edits mend, and those between the same two or more parts that stop or warn.
    """
    groups: list[list[int]] = []
    keys: dict[object, list[int]] = {}
    for number, finding in enumerate(findings):
        known = [keys[key] for key in _keys(finding) if key in keys]
        group = known[0] if known else []
        if not known:
            groups.append(group)
        group.append(number)
        for key in _keys(finding):
            keys.setdefault(key, group)
    found = [_cause(findings, group) for group in groups]
    found.sort(key=lambda each: (SEVERITIES.index(each.severity), each.first))
    return tuple(
        replace(
            cause,
            against=tuple(
                number
                for number, other in enumerate(found)
                if any(is_contrary(one, two) for one in cause.edits for two in other.edits)
            ),
        )
        for cause in found
    )


def is_contrary(one: Edit, other: Edit) -> bool:
    """Return whether one edit undoes the other: the same thing moved to and fro, or one value put two ways."""
    if isinstance(one, Move) and isinstance(other, Move) and one.address == other.address:
        return one.right_mm * other.right_mm < 0 or one.down_mm * other.down_mm < 0
    if isinstance(one, PutValue | PutLength) and isinstance(other, PutValue | PutLength):
        return one != other and one.address == other.address
    return False


def cause_of(found: Sequence[Cause], finding: int | None) -> int | None:
    """Return the number of the cause that a finding belongs to."""
    return next((number for number, each in enumerate(found) if finding in each.findings), None)


def _keys(finding: Finding) -> tuple[object, ...]:
    parts = frozenset(each for each in finding.subjects if isinstance(each, Subject) and each.kind == "part")
    between = (parts,) if len(parts) == 2 and finding.severity != "note" and not finding.failure else ()
    return (finding.edits, *between) if finding.edits else between


def _cause(findings: Sequence[Finding], group: Sequence[int]) -> Cause:
    order = sorted(group, key=lambda number: (SEVERITIES.index(findings[number].severity), number))
    edits = next((findings[number].edits for number in order if findings[number].edits), ())
    return Cause(
        findings=tuple(order),
        severity=findings[order[0]].severity,
        edits=edits,
        is_failure=bool(findings[order[0]].failure),
    )
