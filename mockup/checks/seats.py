"""Nuts, washers, bezels and flanges that overhang an edge or meet a neighbour's."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import combinations

from mockup.checks.panel.built import Built
from mockup.checks.panel.face_room import CLOSE_MM, margins
from mockup.checks.panel.moves import remedy
from mockup.checks.panel.plan import least_between, room_in_flat, room_on_box, room_to_rim, seat, stack
from mockup.checks.report.words import SHAPES, is_enough, length, listed
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark
from mockup.model.limits import Limits

READS = ("enclosure", "parts", "units")


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield what does not sit flat, and what two parts claim at once."""
    parts = [part for part in built.design.parts if part.kind.mount == "panel"]
    for part in parts:
        yield from _overhang(built, limits, part)
    for first, second in combinations(parts, 2):
        if first.face == second.face:
            yield from _meeting(built, limits, first, second)


def _overhang(built: Built, limits: Limits, part: Placement) -> Iterator[Finding]:
    box, face, limit, units = built.design.enclosure, built.faces[part.face], limits["seat_edge_mm"], built.design.units
    figures = seat(part)
    rooms = [(min(room_in_flat(box, face, each), room_to_rim(face, each)), each) for each in figures]
    room = min((room for room, _ in rooms), default=math.inf)
    if is_enough(room, limit.value, units):
        return
    beyond = -min(room_on_box(box, face, each) for each in figures)
    if beyond > 0:
        what = f"The washer or flange of {part.name} hangs over the edge of the {face.name} face by " + length(
            beyond, units
        )
    elif room < 0:
        what = f"The washer or flange of {part.name} rests on the rounding of an edge or corner by " + (
            f"{length(-room, units)}, so that it cannot lie flat"
        )
    else:
        what = f"The washer or flange of {part.name} leaves {length(room, units)} of flat to the rounding"
    yield Finding(
        check="seats",
        severity="stop" if beyond > 0 else "warn",
        subjects=(part.name,),
        what=what,
        remedy=remedy(built, limits, (part.name,), partial(_is_clear, built, limits, ("seat edge",)))
        or "Choose a part with a smaller washer, or a larger box",
        source=SHAPES if room < 0 else limit.source,
        measured=room,
        limit=limit.value,
        unit="mm",
        marks=(_mark(part),),
    )


def _meeting(built: Built, limits: Limits, first: Placement, second: Placement) -> Iterator[Finding]:
    limit, units, names = limits["seat_gap_mm"], built.design.units, (first.name, second.name)
    gap = least_between(stack(first), stack(second))
    if is_enough(gap, limit.value, units):
        return
    is_over = gap < 0
    yield Finding(
        check="seats",
        severity="stop" if is_over else "warn",
        subjects=names,
        what=f"The nuts, washers or flanges of {listed(names)} "
        + (
            f"overlap by {length(-gap, units)}"
            if is_over
            else f"are {length(gap, units)} apart, less than {length(limit.value, units)}"
        ),
        remedy=remedy(built, limits, names, partial(_is_clear, built, limits, ("seat",)))
        or "Choose smaller washers, or move both apart",
        source=SHAPES if is_over else limit.source,
        measured=gap,
        limit=limit.value,
        unit="mm",
        marks=(_mark(first), _mark(second)),
    )


def _is_clear(
    built: Built, limits: Limits, kinds: tuple[str, ...], moved: Placement, others: tuple[Placement, ...]
) -> bool:
    return all(room >= -CLOSE_MM for (kind, _), room in margins(built, limits, moved, others).items() if kind in kinds)


def _mark(part: Placement) -> Mark:
    reach = max((each.reach_mm + math.dist(each.middle, (part.u_mm, part.v_mm)) for each in stack(part)), default=3.0)
    return Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=min(reach, 9.0))
