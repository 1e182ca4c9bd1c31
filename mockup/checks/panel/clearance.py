"""The room round one part while it is carried: to whom, how much, and whether the checks would stop it.

The room and the limits are those of `mockup.clearance`, asked for one part alone; nothing is drilled for it, so a hole
that the cheap test of `mockup.enclosure.cutters` does not pass counts as one that cannot be drilled.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

import numpy as np

from mockup.checks.panel.built import Built
from mockup.clearance import regions, rules, table
from mockup.clearance.directions import ways_of
from mockup.clearance.figures import Figure, between, closest_points
from mockup.clearance.placed import PlacedPart, placed
from mockup.clearance.rules import Encounter, Flats, Inside, Solids, Within
from mockup.enclosure.bores import bores_of
from mockup.enclosure.cutters import is_clear
from mockup.model.design import Placement
from mockup.model.finding import Limit, Severity
from mockup.model.shape import Point
from mockup.model.units import is_enough

Thing = Literal["knob", "lever", "hole", "nut", "washer", "body", "wire", "clip", "plug", "middle"]
"""What of a part is meant; the middle is its axis."""
_THINGS: dict[str, tuple[Thing, Thing]] = {
    rules.BODIES: ("body", "body"),
    rules.WIRES: ("wire", "body"),
    rules.TIPS: ("plug", "body"),
    rules.PLUGS: ("plug", "nut"),
    rules.GROUND: ("plug", "plug"),
    rules.KNOBS: ("knob", "knob"),
    rules.KNOB_EDGE: ("knob", "knob"),
    rules.KNOB_ROOM: ("knob", "nut"),
    rules.LENS: ("knob", "nut"),
    rules.NUT: ("knob", "nut"),
    rules.SEATS: ("nut", "nut"),
    rules.SEAT_EDGE: ("washer", "washer"),
    rules.WEBS: ("hole", "hole"),
    rules.HOLE_EDGE: ("hole", "hole"),
    rules.HOLE_RIM: ("hole", "hole"),
    rules.HOLE_BEHIND: ("hole", "hole"),
    rules.SHOE: ("middle", "middle"),
    rules.SHOES: ("middle", "middle"),
    rules.SPANNER: ("nut", "nut"),
    rules.LEVER: ("lever", "nut"),
    rules.CLIP: ("clip", "body"),
}
EDGE = "the edge"
MOST_ENDS = 6  # things that are told where they are nearest: more is never drawn


@dataclass(frozen=True, kw_only=True)
class Clearance:
    """The room between something of a carried part and something else.

    `other` is a part's name, or in words what of the box it is, with `thing` None. `limit_mm` is what the checks ask
    for, `severity` what they would say, None where all is clear. `ends` (u, v) are where the room is measured on the
    face, None where it lies inside the box or is not among the first to each thing.
    """

    own: Thing
    other: str
    room_mm: float
    limit_mm: float
    thing: Thing | None = None
    severity: Severity | None = None
    ends: tuple[Point, Point] | None = None


def clearances(built: Built, part: Placement) -> tuple[Clearance, ...]:
    """Return the room round a part, wherever it is placed, the worst first; `built` may hold it elsewhere.

    What is beyond reach is left out.
    """
    here = placed(built.design.enclosure, part, built.design.limits)
    measured: set[str] = set()
    found = []
    for each, meets in sorted(_every(built, part), key=lambda pair: _urgency(pair[0])):
        ends = _ends(here, meets) if each.other not in measured and len(measured) < MOST_ENDS else None
        if ends is not None:
            measured.add(each.other)
        found.append(replace(each, ends=ends))
    return tuple(found)


def is_within(built: Built, part: Placement, severity: Severity) -> bool:
    """True where nothing round a part is as bad as that; the quick measures are looked at first."""
    bad = ("stop",) if severity == "stop" else ("stop", "warn")
    return not any(each.severity in bad for each, _ in _every(built, part))


def worst(found: Iterable[Clearance]) -> Severity | None:
    """Return the worst that is said of a part's room."""
    severities = {each.severity for each in found}
    return next((each for each in ("stop", "warn", "note") if each in severities), None)


def _every(built: Built, part: Placement) -> Iterator[tuple[Clearance, Encounter]]:
    box, own = built.design.enclosure, built.design.limits
    here = placed(box, part, own)
    for meets in rules.alone(here):
        yield from ((each, meets) for each in _told(built, here, meets))
    for other in built.design.parts:
        if other.name != part.name:
            for meets in rules.between(here, placed(box, other, own)):
                yield from ((each, meets) for each in _told(built, here, meets))


def _urgency(each: Clearance) -> tuple[int, float]:
    rank = {"stop": 0, "warn": 1, "note": 2, None: 3}[each.severity]
    return rank, each.room_mm - each.limit_mm


def _told(built: Built, here: PlacedPart, meets: Encounter) -> Iterator[Clearance]:
    for rule, other, room, limit in table.rooms(meets, ways_of(here.box)):
        if not math.isfinite(room):
            continue
        own, thing = _THINGS[rule]
        thing = "plug" if other == rules.PLUG else "knob" if other == rules.KNOB else thing
        second = next((each for each in meets.owners if each is not here), None)
        if meets.owners[0] is not here:
            own, thing = thing, own
        yield Clearance(
            own=own,
            thing=None if second is None else thing,
            other=_box_words(here, meets, other) if second is None else second.part.name,
            room_mm=room,
            limit_mm=limit.value,
            severity=_severity(built, here, meets, rule, room, limit),
        )


def _severity(
    built: Built, here: PlacedPart, meets: Encounter, rule: str, room: float, limit: Limit
) -> Severity | None:
    """Return what the checks would say of so much room."""
    units = built.design.units
    if rule in (rules.HOLE_EDGE, rules.HOLE_RIM, rules.HOLE_BEHIND):
        bore = next(each for each in bores_of(here.part) if each.name == meets.other)
        if not is_clear(here.box, built.faces, bore) and room <= _least_room(here, meets):
            return "stop"
    elif rule == rules.SEAT_EDGE:
        outline = regions.outline(here.box, here.face)
        if any(outline.room(each) < 0 for each in here.seat):
            return "stop"
    elif rule in rules.CLAIMS:
        is_solid = isinstance(meets, Solids | Inside) and rule != rules.GROUND
        if room < table.TOUCH_MM if is_solid else room < 0 or (room == 0 and rule != rules.SEATS):
            return "stop"
    if not is_enough(room, limit.value, units):
        return "warn"
    wider = rules.wider(meets, limit)
    return None if wider is None or is_enough(room, wider.value, units) else "note"


def _least_room(here: PlacedPart, meets: Encounter) -> float:
    """Return the least room that a hole has to anything of the box."""
    same = [each for each in rules.alone(here) if each.other == meets.other]
    return min(room for each in same for _, _, room, _ in table.rooms(each, ways_of(here.box)))


def _box_words(here: PlacedPart, meets: Encounter, other: str) -> str:
    """Return in words what of the box it is."""
    if meets.rule == rules.HOLE_RIM:
        return "the rim"
    if meets.rule != rules.HOLE_BEHIND:
        return other if isinstance(meets, Inside) else EDGE
    is_post = isinstance(meets, Flats) or (isinstance(meets, Within) and _is_post(here, meets))
    return "a screw post" if is_post else "a wall inside"


def _is_post(here: PlacedPart, meets: Within) -> bool:
    return meets.region == regions.between_posts(here.box, here.face)


def _ends(here: PlacedPart, meets: Encounter) -> tuple[Point, Point] | None:
    """Return where the room is measured on the face: between two figures, or from one to the nearest edge."""
    if isinstance(meets, Within) and meets.rule in (rules.SEAT_EDGE, rules.KNOB_EDGE):
        return _to_edge(here, meets.figures[0]) if meets.figures else None
    if not isinstance(meets, Flats) or not meets.first or not meets.second or meets.is_fixed:
        return None
    one, other = _closest_pair(meets.first, meets.second)
    ends = closest_points(one, other)
    is_first = meets.owners[0] is here
    return ends if ends is None or is_first else (ends[1], ends[0])


def _closest_pair(first: Sequence[Figure], second: Sequence[Figure]) -> tuple[Figure, Figure]:
    return min(product(first, second), key=lambda pair: between(*pair))


def _to_edge(here: PlacedPart, figure: Figure) -> tuple[Point, Point]:
    """Return where a figure comes closest to an edge of its face, straight across or down."""
    face = here.face
    low, high = figure.core.min(axis=0) - figure.radius_mm, figure.core.max(axis=0) + figure.radius_mm
    u, v = figure.middle
    ways: list[tuple[Point, Point]] = [
        ((float(low[0]), v), (face.left_edge(v), v)),
        ((float(high[0]), v), (face.right_edge(v), v)),
        ((u, float(low[1])), (u, 0.0)),
        ((u, float(high[1])), (u, face.height_mm)),
    ]
    rooms = (low[0] - face.left_edge(v), face.right_edge(v) - high[0], low[1], face.height_mm - high[1])
    return ways[int(np.argmin(rooms))]
