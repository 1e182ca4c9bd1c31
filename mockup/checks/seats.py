"""Nuts, washers, bezels and flanges that overhang an edge or meet a neighbour's."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance import regions
from mockup.clearance.figures import seat, stack
from mockup.clearance.rules import SEAT_EDGE, SEATS
from mockup.clearance.table import Margin
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm

READS = ("enclosure", "parts", "units")
FIGURES = ("nut", "washer", "collar", "bezel", "flange")
PLANTED = Case(part_text("A", "footswitch", top=40, left=8))  # its washer is 17 mm wide
SOUND = Case(part_text("A", "footswitch", top=40))


def check(built: Built) -> Iterator[Finding]:
    """Yield what does not sit flat, and what two parts claim at once."""
    overhangs = sorted(built.broken(SEAT_EDGE), key=lambda margin: margin.room_mm)
    yield from (_overhang(built, margin) for margin in {each.parts: each for each in reversed(overhangs)}.values())
    yield from (_meeting(built, margin) for margin in built.broken(SEATS))


def _overhang(built: Built, margin: Margin) -> Finding:
    part, room, limit = built.part(margin.parts[0]), margin.room_mm, margin.limit
    face = built.faces[part.face]
    outline = regions.outline(built.design.enclosure, face)
    beyond = -min(outline.room(each) for each in seat(part))
    if beyond > 0:
        title = "Washer over the edge"
        what = "the washer or flange of {first} hangs {beyond} over the edge of the {face} face"
    elif room < 0:
        title = "Washer not flat"
        what = "{by} of the washer or flange of {first} lies on the rounding of an edge or corner"
    else:
        title, what = "Washer near the edge", "the washer or flange of {first} leaves {measured} to the rounding"
    return Finding(
        severity="stop" if beyond > 0 else "warn",
        title=title,
        what=what,
        subjects=Subject.parts(part.name),
        edits=cure(built, margin.parts, SEAT_EDGE),
        remedy="Choose a part with a smaller washer, or a larger box",
        measured=mm(room),
        limit=limit.quantity if room < 0 else limit,
        facts={"beyond": mm(beyond), "face": face.name},
        marks=(_mark(part),),
    )


def _meeting(built: Built, margin: Margin) -> Finding:
    is_over = margin.room_mm < 0
    return Finding(
        severity="stop" if is_over else "warn",
        title="Washers overlap" if is_over else "Washers too close",
        what="the nuts, washers or flanges of {subjects} "
        + ("overlap by {by}" if is_over else "are {measured} apart, less than {limit}"),
        subjects=Subject.parts(*margin.parts),
        edits=cure(built, margin.parts, SEATS),
        remedy="Choose smaller washers, or move both apart",
        measured=mm(margin.room_mm),
        limit=margin.limit.quantity if is_over else margin.limit,
        marks=tuple(_mark(built.part(name)) for name in margin.parts),
    )


def _mark(part: Placement) -> Mark:
    reach = max((each.reach_mm + math.dist(each.middle, (part.u_mm, part.v_mm)) for each in stack(part)), default=3.0)
    return Mark.at(part, min(reach, 9.0))
