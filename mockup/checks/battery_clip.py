"""Room for the clip on a battery's terminals, with its wires."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance.rules import CLIP
from mockup.model.finding import Finding, Mark, Subject, mm

LIMITS = """
[battery_clip_mm]
value = 8.0
about = "length of a clip on a battery's terminals, with the bend of its wires"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
FIGURES = ("body", "terminals", "inside")
PLANTED = Case(part_text("CELL", "battery-9v", depth=8, top=30))  # its terminals 5.75 mm from the far side
SOUND = Case(part_text("CELL", "battery-9v", depth=8, top=50))
RADIUS_MM = 8.0  # of a mark: our choice


def check(built: Built) -> Iterator[Finding]:
    """Yield batteries whose clip runs into something, once for each, with the tightest place."""
    seen: set[str] = set()
    for margin in sorted(built.broken(CLIP), key=lambda each: each.room_mm):
        name = margin.parts[0]
        if name in seen or (margin.is_touch and not margin.is_overlap):
            continue
        seen.add(name)
        other = margin.other or margin.parts[1]
        yield Finding(
            severity="warn",
            title="No room for the battery clip",
            what="the clip on {first} is {by} too long for the room before {other}",
            subjects=Subject.parts(*margin.parts),
            edits=cure(built, margin.parts, CLIP),
            remedy="Turn {first} round, or move it",
            measured=mm(margin.room_mm),
            limit=mm(0.0),
            origin=built.limits["battery_clip_mm"].source,
            facts={"other": other},
            marks=(Mark.at(built.part(name), RADIUS_MM),),
        )
