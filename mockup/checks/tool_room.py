"""Nuts that no spanner or socket goes over, because a neighbour stands too close."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance.figures import nuts
from mockup.clearance.rules import SEATS, SPANNER
from mockup.model.finding import Finding, Mark, Subject, mm

LIMITS = """
[socket_mm]
value = 1.5
about = "room round the corners of a nut for the wall of a thin socket or nut driver"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
FIGURES = ("nut",)
_A = part_text("A", "pot-9", left=20, top=30)
PLANTED = Case(_A + part_text("GLOW", "lamp-5", left=31.8, top=30))  # the nut reaches 5.8, the bezel 5.2: 0.8 left
SOUND = Case(_A + part_text("GLOW", "lamp-5", left=33, top=30))


def check(built: Built) -> Iterator[Finding]:
    """Yield nuts beside which something stands too close for a tool; washers that meet are told by `seats`."""
    met = {frozenset(margin.parts) for margin in built.broken(SEATS)}
    seen: set[frozenset[str]] = set()
    for margin in sorted(built.broken(SPANNER), key=lambda each: each.room_mm):
        pair = frozenset(margin.parts)
        if pair in met or pair in seen:
            continue
        seen.add(pair)
        yield Finding(
            severity="warn",
            title="No room for a spanner",
            what="{second} stands {measured} from the nut of {first}; a thin socket needs {limit} round it",
            subjects=Subject.parts(*margin.parts),
            edits=cure(built, margin.parts, SPANNER),
            remedy="Move one of them, or choose one with a smaller nut",
            measured=mm(margin.room_mm),
            limit=margin.limit,
            marks=tuple(Mark.at(built.part(name), _reach_mm(built, name)) for name in margin.parts),
        )


def _reach_mm(built: Built, name: str) -> float:
    return max((each.radius_mm for each in nuts(built.part(name))), default=4.0) + 1.0
