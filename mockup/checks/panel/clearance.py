"""The room round one part while it is carried: to whom, how much, and whether the checks would stop it.

The geometry and the limits are those of the checks, asked for one part alone; nothing is drilled for it, so a hole that
the cheap test of `mockup.enclosure.bores` does not pass counts as one that cannot be drilled.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from mockup.checks.panel.built import Built
from mockup.checks.panel.contact import are_near, contact
from mockup.checks.panel.face_room import apart, knob_figure, shoe_mm
from mockup.checks.panel.nearest import nearest
from mockup.checks.panel.plan import (
    Figure,
    between,
    of_bore,
    room_behind,
    room_in_flat,
    room_on_box,
    room_to_rim,
    seat,
    stack,
)
from mockup.checks.panel.plugs import FAMILIES, plug_in
from mockup.enclosure.bores import bores_of
from mockup.enclosure.cutters import is_clear
from mockup.geometry.solids import Solid
from mockup.model.bore import Bore
from mockup.model.design import Placement
from mockup.model.finding import Severity
from mockup.model.units import is_enough

Thing = Literal["knob", "hole", "nut", "washer", "body", "wire", "plug", "middle"]
"""What of a part is meant; the middle is its axis."""
Point = tuple[float, float]
SEEN_MM = 12.0  # what lies farther away inside the box is not measured: the search slows down steeply
EDGE = "the edge"


@dataclass(frozen=True, kw_only=True)
class Clearance:
    """The room between something of a carried part and something else.

    `other` is a part's name, or in words what of the box it is, with `thing` None. `limit_mm` is what the checks ask
    for, `severity` what they would say, None where all is clear. `ends` (u, v) are where the room is measured on the
    face, None where it lies inside the box.
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
    return tuple(sorted(_every(built, part), key=_urgency))


def is_within(built: Built, part: Placement, severity: Severity) -> bool:
    """True where nothing round a part is as bad as that; the quick measures are looked at first."""
    bad = ("stop",) if severity == "stop" else ("stop", "warn")
    return not any(each.severity in bad for each in _every(built, part))


def worst(found: Iterable[Clearance]) -> Severity | None:
    """Return the worst that is said of a part's room."""
    severities = {each.severity for each in found}
    return next((each for each in ("stop", "warn", "note") if each in severities), None)


def _every(built: Built, part: Placement) -> Iterator[Clearance]:
    others = tuple(each for each in built.design.parts if each.name != part.name)
    if part.kind.mount == "panel":
        yield from _alone(built, part)
        for other in others:
            if other.face == part.face and other.kind.mount == "panel":
                yield from _beside(built, part, other)
    yield from _inside(built, part, others)
    yield from _plugs(built, part, others)


def _urgency(each: Clearance) -> tuple[int, float]:
    rank = {"stop": 0, "warn": 1, "note": 2, None: 3}[each.severity]
    return rank, each.room_mm - each.limit_mm


def _alone(built: Built, part: Placement) -> Iterator[Clearance]:
    box, face = built.design.enclosure, built.faces[part.face]
    for bore in bores_of(part):
        yield from _drilled(built, bore)
    for each in seat(part):
        room = min(room_in_flat(box, face, each), room_to_rim(face, each))
        is_over = room_on_box(box, face, each) < 0
        yield _measured(
            built, "washer", EDGE, room, "seat_edge_mm", stops=is_over, ends=_to_edge(built, part, each)
        )  # fmt: skip
    knob = knob_figure(built, part)
    if knob is not None:
        room = room_on_box(box, face, knob)
        yield _measured(built, "knob", EDGE, room, "knob_edge_mm", stops=False, ends=_to_edge(built, part, knob))


def _drilled(built: Built, bore: Bore) -> Iterator[Clearance]:
    box, face, hole = built.design.enclosure, built.faces[bore.face], of_bore(bore)
    is_bad = not is_clear(box, built.faces, bore)
    behind, name = room_behind(box, face, hole, built.posts)
    rooms = [
        (EDGE, room_in_flat(box, face, hole), "hole_edge_mm"),
        ("the rim", room_to_rim(face, hole), "hole_rim_mm"),
        (name, behind, "hole_post_mm"),
    ]
    least = min(room for _, room, _ in rooms)
    for other, room, limit in rooms:
        if math.isfinite(room):
            yield _measured(built, "hole", other, room, limit, stops=is_bad and room == least)


def _beside(built: Built, part: Placement, other: Placement) -> Iterator[Clearance]:
    holes, theirs = [of_bore(bore) for bore in bores_of(part)], [of_bore(bore) for bore in bores_of(other)]
    low, rest = stack(part), stack(other)
    knob, knobs = knob_figure(built, part), knob_figure(built, other)
    for own, first, thing, second, limit in (
        ("hole", holes, "hole", theirs, "web_mm"),
        ("nut", low, "nut", rest, "seat_gap_mm"),
        ("knob", [knob], "knob", [knobs], "knob_gap_mm"),
    ):
        found = _nearest(first, second)
        if found is not None:
            room, ends = found
            is_stop = room < 0 if own == "nut" else room <= 0
            yield _measured(built, own, other.name, room, limit, thing=thing, stops=is_stop, ends=ends)  # type: ignore[arg-type]
    if knob is not None:
        yield from _knob_over(built, part, knob, other, is_own=True)
    if knobs is not None:
        yield from _knob_over(built, other, knobs, part, is_own=False)
    least = shoe_mm(built, part, other)
    if least is not None:
        room, ends = apart(part, other), (_middle(part), _middle(other))
        severity: Severity | None = None if is_enough(room, least, built.design.units) else "warn"
        yield Clearance(
            own="middle", thing="middle", other=other.name, room_mm=room, limit_mm=least, severity=severity, ends=ends
        )


def _knob_over(built: Built, turned: Placement, knob: Figure, under: Placement, *, is_own: bool) -> Iterator[Clearance]:
    """Yield the room between a knob, at any turn, and what another part has above the panel."""
    limit = built.limits["knob_clear_mm"]
    found = _nearest([knob], stack(under))
    if found is None:
        return
    room, ends = found
    severity: Severity | None = "warn" if room < 0 else None
    body, hardware = built.knob_at(turned), built.hardware_at(under)
    if are_near(body, hardware, limit.value):
        met = contact(body, hardware, limit.value)
        is_tight = not is_enough(met.gap_mm, limit.value, built.design.units)
        severity = "stop" if met.is_overlap else "warn" if is_tight else severity
    own, thing = ("knob", "nut") if is_own else ("nut", "knob")
    other = under.name if is_own else turned.name
    yield Clearance(
        own=own, thing=thing, other=other, room_mm=room, limit_mm=0.0, severity=severity, ends=ends  # type: ignore[arg-type]
    )  # fmt: skip


def _inside(built: Built, part: Placement, others: Iterable[Placement]) -> Iterator[Clearance]:
    """Yield the room between a part's body and the bodies and walls inside the box."""
    if not part.kind.below:
        return
    body, ends = built.body(part), built.terminals(part)
    for other in others:
        if other.kind.below:
            yield from _body(built, body, ends, built.body(other), built.terminals(other), other.name, "body")
    panel = part.face if part.kind.mount == "panel" else None
    for name, wall in built.walls_but(panel).items():
        yield from _body(built, body, ends, wall, None, name, None)


def _body(
    built: Built, body: Solid, ends: Solid | None, other: Solid, theirs: Solid | None, name: str, thing: Thing | None
) -> Iterator[Clearance]:
    least, wire = built.limits["body_gap_mm"], built.limits["wiring_mm"]
    if not are_near(body, other, wire.value):
        return
    found = contact(body, other, wire.value)
    if found.is_overlap:
        depth = -(found.shared_mm3 ** (1 / 3))
        yield Clearance(own="body", other=name, thing=thing, room_mm=depth, limit_mm=0.0, severity="stop")
        return
    yield _measured(built, "body", name, found.gap_mm, "body_gap_mm", thing=thing, stops=False)
    if found.gap_mm < least.value or found.gap_mm >= wire.value:
        return
    wires = [contact(end, rest, wire.value).gap_mm for end, rest in ((ends, other), (theirs, body)) if end is not None]
    if wires and not is_enough(min(wires), wire.value, built.design.units):
        yield _measured(built, "wire", name, min(wires), "wiring_mm", thing=thing, stops=False)


def _plugs(built: Built, part: Placement, others: Iterable[Placement]) -> Iterator[Clearance]:
    """Yield the room between plugs and what they meet, where a socket is carried or others stand round the part."""
    rest = tuple(others)
    sockets = [each for each in rest if each.kind.family in FAMILIES]
    if part.kind.family in FAMILIES:
        plug = plug_in(built, part)
        low = float(plug.body.bounds()[0][2])
        yield _measured(built, "plug", "the ground", low, "ground_gap_mm", stops=low < 0)
        for other in rest:
            yield from _met(built, "plug", plug.body, other, "nut", _above(built, other), "plug_gap_mm")
        for other in sockets:
            there = plug_in(built, other)
            yield from _met(built, "plug", plug.body, other, "plug", [there.body], "plug_gap_mm")
            if plug.tip is not None and there.tip is not None:
                yield from _met(built, "plug", plug.tip, other, "plug", [there.tip], "tip_gap_mm")
        if plug.tip is not None:
            for other in rest:
                bodies = [built.body(other)] if other.kind.below else []
                yield from _met(built, "plug", plug.tip, other, "body", bodies, "tip_gap_mm")
            for name, wall in built.walls_but(part.face).items():
                yield from _met(built, "plug", plug.tip, name, None, [wall], "tip_gap_mm")
    for other in sockets:
        there = plug_in(built, other)
        yield from _met(built, "nut", there.body, other, "plug", _above(built, part), "plug_gap_mm")
        if there.tip is not None and part.kind.below:
            yield from _met(built, "body", there.tip, other, "plug", [built.body(part)], "tip_gap_mm")


def _above(built: Built, part: Placement) -> list[Solid]:
    found = [built.hardware_at(part)] if part.kind.above else []
    return [*found, built.knob_at(part)] if part.knob is not None and part.kind.shaft is not None else found


def _met(
    built: Built, own: Thing, solid: Solid, other: Placement | str, thing: Thing | None, around: Iterable[Solid],
    limit: str,
) -> Iterator[Clearance]:  # fmt: skip
    name = other if isinstance(other, str) else other.name
    for each in around:
        if are_near(solid, each, built.limits[limit].value):
            found = contact(solid, each, built.limits[limit].value)
            room = -(found.shared_mm3 ** (1 / 3)) if found.is_overlap else found.gap_mm
            yield _measured(built, own, name, room, limit, thing=thing, stops=found.is_overlap)


def _measured(
    built: Built, own: Thing, other: str, room: float, limit: str, *, stops: bool, thing: Thing | None = None,
    ends: tuple[Point, Point] | None = None,
) -> Clearance:  # fmt: skip
    least = built.limits[limit].value
    severity: Severity | None = "stop" if stops else None if is_enough(room, least, built.design.units) else "warn"
    return Clearance(
        own=own, thing=thing, other=other, room_mm=float(room), limit_mm=least, severity=severity, ends=ends
    )


def _nearest(
    first: Iterable[Figure | None], second: Iterable[Figure | None]
) -> tuple[float, tuple[Point, Point] | None] | None:
    """Return the least room between two groups of figures and where it is; None where one is empty."""
    rest = [each for each in second if each is not None]
    pairs = [(between(one, other), one, other) for one in first if one is not None for other in rest]
    if not pairs:
        return None
    room, one, other = min(pairs, key=lambda pair: pair[0])
    return room, nearest(one, other)


def _to_edge(built: Built, part: Placement, figure: Figure) -> tuple[Point, Point]:
    """Return where a figure comes closest to an edge of its face, straight across or down."""
    face = built.faces[part.face]
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


def _middle(part: Placement) -> Point:
    return part.u_mm, part.v_mm
