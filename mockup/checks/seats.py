"""Nuts, washers, bezels and flanges that overhang an edge or meet a neighbour's."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure, keeps
from mockup.checks.panel.plan import least_between, room_in_flat, room_on_box, room_to_rim, seat, stack
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.units import is_enough

READS = ("enclosure", "parts", "units")
_SWITCH = """
[[part]]
name = "A"
kind = "footswitch"
top = 40
"""
PLANTED = Case(_SWITCH + "left = 8\n")  # its washer is 17 mm wide
SOUND = Case(_SWITCH)


def check(built: Built) -> Iterator[Finding]:
    """Yield what does not sit flat, and what two parts claim at once."""
    parts = [part for part in built.design.parts if part.kind.mount == "panel"]
    for part in parts:
        yield from _overhang(built, part)
    for first, second in combinations(parts, 2):
        if first.face == second.face:
            yield from _meeting(built, first, second)


def _overhang(built: Built, part: Placement) -> Iterator[Finding]:
    box, face, limit = built.design.enclosure, built.faces[part.face], built.limits["seat_edge_mm"]
    figures = seat(part)
    room = min((min(room_in_flat(box, face, each), room_to_rim(face, each)) for each in figures), default=math.inf)
    if is_enough(room, limit.value, built.design.units):
        return
    beyond = -min(room_on_box(box, face, each) for each in figures)
    if beyond > 0:
        title = "Washer over the edge"
        what = "the washer or flange of {first} hangs {beyond} over the edge of the {face} face"
    elif room < 0:
        title = "Washer not flat"
        what = "{by} of the washer or flange of {first} lies on the rounding of an edge or corner"
    else:
        title, what = "Washer near the edge", "the washer or flange of {first} leaves {measured} to the rounding"
    yield Finding(
        severity="stop" if beyond > 0 else "warn",
        title=title,
        what=what,
        subjects=Subject.parts(part.name),
        edits=cure(built, (part.name,), keeps(built, "seat edge")),
        remedy="Choose a part with a smaller washer, or a larger box",
        measured=mm(room),
        limit=limit.quantity if room < 0 else limit,
        facts={"beyond": mm(beyond), "face": face.name},
        marks=(_mark(part),),
    )


def _meeting(built: Built, first: Placement, second: Placement) -> Iterator[Finding]:
    limit, names = built.limits["seat_gap_mm"], (first.name, second.name)
    gap = least_between(stack(first), stack(second))
    if is_enough(gap, limit.value, built.design.units):
        return
    is_over = gap < 0
    yield Finding(
        severity="stop" if is_over else "warn",
        title="Washers overlap" if is_over else "Washers too close",
        what="the nuts, washers or flanges of {subjects} "
        + ("overlap by {by}" if is_over else "are {measured} apart, less than {limit}"),
        subjects=Subject.parts(*names),
        edits=cure(built, names, keeps(built, "seat")),
        remedy="Choose smaller washers, or move both apart",
        measured=mm(gap),
        limit=limit.quantity if is_over else limit,
        marks=(_mark(first), _mark(second)),
    )


def _mark(part: Placement) -> Mark:
    reach = max((each.reach_mm + math.dist(each.middle, (part.u_mm, part.v_mm)) for each in stack(part)), default=3.0)
    return Mark.at(part, min(reach, 9.0))
