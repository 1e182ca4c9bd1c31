"""Bodies inside the box that meet each other, a wall, a screw post or the lid."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.closeness import close_pairs
from mockup.checks.panel.moves import cure
from mockup.clearance.rules import BODIES, WIRES
from mockup.clearance.table import Margin
from mockup.clearance.walls import LID, LIP
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.units import round_up

LIMITS = """
[body_gap_mm]
value = 0.5
about = "room between two bodies inside, or a body and a wall, screw post or the lid"
source = "common practice, no source"

[body_gap_near_mm]
value = 1.0
about = "the same, from which nothing is said"
source = "common practice, no source"

[wiring_mm]
value = 1.0
about = "room that a terminal needs round it for wire and solder"
source = "common practice, no source"

[wiring_near_mm]
value = 2.0
about = "the same, from which nothing is said"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
FIGURES = ("body", "terminals", "inside")
_A = part_text("A", "pot-16", left=20, top=30)
PLANTED = Case(_A + part_text("B", "pot-16", left=32, top=30))  # cans 16 mm wide, 12 mm apart
SOUND = Case(_A + part_text("B", "pot-16", left=40, top=30))
RADIUS_MM = 5.0  # of a mark: our choice


def check(built: Built) -> Iterator[Finding]:
    """Yield every two bodies inside the box that overlap or come too close, and every terminal without room."""
    seen = set()
    for margin in built.broken(BODIES, WIRES):  # of one pair the bodies come first
        between = margin.parts, margin.other
        if between not in seen:
            seen.add(between)
            yield _finding(built, margin)
    near = [each for each in built.near(BODIES) if (each.parts, each.other) not in seen]
    what = "{closest} have {measured} between them inside the box, less than {limit}"
    yield from close_pairs(
        built,
        near,
        title="Little room inside",
        what=what,
        remedy="Move one of them, or insulate them where they are near",
    )
    seen |= {(each.parts, each.other) for each in near}
    wires = [each for each in built.near(WIRES) if (each.parts, each.other) not in seen]
    yield from close_pairs(built, wires, title="Little room for a wire", what=what.replace("have", "leave a terminal"))


def _finding(built: Built, margin: Margin) -> Finding:
    parts, names = [built.part(name) for name in margin.parts], margin.parts
    other = margin.other or names[1]
    if margin.rule == WIRES:
        title = "No room for a wire"
        what = "a terminal between {first} and {other} has {measured} for its wire and solder, less than {limit}"
    elif margin.is_overlap:
        title, what = "Two things in one place", "{first} and {other} run into each other by {by} inside the box"
    elif margin.is_touch:
        title, what = "Bodies touch", "{first} and {other} touch inside the box; leave {wanted} between them"
    else:
        title, what = "Bodies too close", "{first} and {other} are {measured} apart inside the box, less than {limit}"
    is_below_top = parts[0].kind.mount == "panel" and parts[0].face == "top"
    return Finding(
        severity="stop" if margin.rule == BODIES and margin.is_touch else "warn",
        title=title,
        what=what,
        subjects=Subject.parts(*names),
        edits=cure(built, names, BODIES, WIRES, turns=True),
        remedy="Choose a part that is {lower} less deep, or a box that much higher"
        if other in (LID, LIP) and is_below_top
        else "Choose a smaller part or a larger box, or move several parts",
        measured=mm(margin.room_mm),
        limit=margin.limit.quantity if margin.is_touch else margin.limit,
        facts={
            "other": other,
            "wanted": margin.limit.quantity,
            "lower": mm(round_up(-margin.spare_mm, built.design.units)),
        },
        marks=tuple(Mark.at(part, RADIUS_MM) for part in parts),
    )
