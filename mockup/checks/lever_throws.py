"""Levers of toggle switches, thrown both ways: what they meet, and room for a finger beside a knob."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance.rules import KNOB, KNOB_ROOM, LEVER
from mockup.clearance.table import Margin
from mockup.model.finding import Finding, Mark, Subject, mm

LIMITS = """
[lever_gap_mm]
value = 1.0
about = "room between a toggle's lever, thrown either way, and hardware beside it"
source = "common practice, no source"

[lever_knob_mm]
value = 3.0
about = "room between a toggle's lever, thrown either way, and a knob, for the finger that throws it"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
FIGURES = ("lever", "nut", "shaft", "button")
_WAY, _KNOB = part_text("WAY", "toggle-mini", top=40), {"style": "barrel", "diameter": 18}
PLANTED = Case(_WAY + part_text("A", "pot-16", top=54.6, knob=_KNOB))  # the knob 5.6 mm away, the lever leans 4
SOUND = Case(_WAY + part_text("A", "pot-16", top=60, knob=_KNOB))
RADIUS_MM = 6.0  # of a mark: our choice


def check(built: Built) -> Iterator[Finding]:
    """Yield levers that meet a neighbour at one of their throws; what a knob runs into is told by `knob-overlaps`."""
    rubbed = {frozenset(each.parts) for each in built.broken(KNOB_ROOM) if each.is_overlap}
    seen: set[frozenset[str]] = set()
    for margin in sorted(built.broken(LEVER), key=lambda each: each.spare_mm):
        pair = frozenset(margin.parts)
        if pair not in seen and pair not in rubbed:
            seen.add(pair)
            yield _finding(built, margin)


def _finding(built: Built, margin: Margin) -> Finding:
    beside = "the knob of {second}" if margin.other == KNOB else "{second}"
    if margin.is_touch:
        title, what = "Lever cannot be thrown", "the lever of {first} runs into " + beside + " at one of its throws"
    else:
        title = "No room at the lever"
        what = "the lever of {first} comes within {measured} of " + beside + " at one of its throws, less than {limit}"
    return Finding(
        severity="stop" if margin.is_touch else "warn",
        title=title,
        what=what,
        subjects=Subject.parts(*margin.parts),
        edits=cure(built, margin.parts, LEVER),
        remedy="Turn the switch by 90 degrees, or choose a smaller knob",
        measured=mm(margin.room_mm),
        limit=margin.limit.quantity if margin.is_touch else margin.limit,
        marks=tuple(Mark.at(built.part(name), RADIUS_MM) for name in margin.parts),
    )
