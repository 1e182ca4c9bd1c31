"""What differs in the parts of two pedals: come, gone, moved, turned, of another kind, with another knob or lamp."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import numpy as np

from mockup.comparison.differences.change import Change, Inner
from mockup.comparison.differences.shift import Shifts
from mockup.comparison.differences.words import is_length, length, linear_hex, turned, way
from mockup.geometry.planar import on_face
from mockup.model import shape
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FACE_WORDS
from mockup.model.finding import Mark
from mockup.model.part import TRAVEL_DEG, Knob, Lamp
from mockup.model.shape import Extruded, Solid, Turned
from mockup.model.units import Unit

_SAME_PLACE_MM = 0.05  # a part that stands there under another name is the same one: our choice


def part_changes(first: Design, other: Design, shifts: Shifts, units: Unit) -> Iterator[Change]:
    """Yield what differs in parts, matched by name; one that only has another name in its place is renamed."""
    old = {part.name: part for part in first.parts}
    new = {part.name: part for part in other.parts}
    gone = [part for name, part in old.items() if name not in new]
    come = [part for name, part in new.items() if name not in old]
    for part in list(gone):
        twin = next((each for each in come if _is_twin(part, each)), None)
        if twin is not None:
            what = f"{part.name} is called {twin.name}"
            yield Change(topic="part", how="changed", subject=twin.name, what=what, before=part.name, after=twin.name)
            gone.remove(part)
            come.remove(twin)
            yield from _part(part, twin, shifts, units)
    for part in come:
        rest = f"({part.kind.name}) added on the {FACE_WORDS[part.face]}"
        yield Change.of("part", "added", part.name, rest, after=part.kind.name, **_now(part))
    for part in gone:
        rest = f"({part.kind.name}) left off the {FACE_WORDS[part.face]}"
        yield Change.of("part", "removed", part.name, rest, before=part.kind.name, **_before(part))
    for name, part in old.items():
        if name in new:
            yield from _part(part, new[name], shifts, units)


def place(part: Placement) -> Mark | None:
    """Return a circle round all that shows of a part; None for what sits inside the box."""
    if part.kind.mount == "inside":
        return None
    reach = max((_reach(solid) for solid in part.kind.above), default=6.0)
    if part.knob is not None and part.kind.shaft is not None:
        reach = max(reach, part.knob.diameter_mm / 2)
    return Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=reach)


def inner(part: Placement) -> Inner | None:
    """Return where a part's body lies inside the box; None for what has none."""
    if not part.kind.below:
        return None
    found = np.array([_extent(solid) for solid in part.kind.below])
    (left, low), (right, high) = found[:, :2].min(axis=0).tolist(), found[:, 2:].max(axis=0).tolist()
    box = ((left, high), (right, high), (right, low), (left, low))
    corners = tuple((u, v) for u, v in on_face(box, (0.0, 0.0), part.rotation_deg).tolist())
    far = part.depth_mm + part.kind.depth_mm
    return Inner(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, corners=corners, near_mm=part.depth_mm, far_mm=far)


def _now(part: Placement) -> dict[str, Any]:
    """Return the places of a part as it is, as fields of a change."""
    return {"new": place(part), "new_inner": inner(part)}


def _before(part: Placement) -> dict[str, Any]:
    """Return the places of a part as it was, as fields of a change."""
    return {"old": place(part), "old_inner": inner(part)}


def _extent(solid: Solid) -> tuple[float, float, float, float]:
    """Return how far a solid reaches in the part's frame: left, low, right, high."""
    x, y = solid.at
    if isinstance(solid, Turned):
        radius = solid.radius_mm
        lean = math.sin(math.radians(solid.tilt_deg)) * max(abs(z - solid.pivot_z_mm) for _, z in solid.profile)
        return x - radius, y - radius - lean, x + radius, y + radius + lean
    wide, tall = shape.turned(*_sides(solid), solid.rotation_deg)
    return x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2


def _sides(solid: Extruded) -> tuple[float, float]:
    outline = solid.outline
    return outline.width_mm, outline.height_mm if outline.kind in ("rectangle", "slot") else outline.width_mm


def _reach(solid: Solid) -> float:
    if isinstance(solid, Turned):
        radius = solid.radius_mm
    else:
        is_long = solid.outline.kind in ("rectangle", "slot")
        radius = math.hypot(*_sides(solid)) / 2 if is_long else solid.outline.width_mm / 2
    return math.hypot(*solid.at) + radius


def _is_twin(one: Placement, other: Placement) -> bool:
    apart = math.hypot(one.u_mm - other.u_mm, one.v_mm - other.v_mm)
    return one.face == other.face and one.kind.name == other.kind.name and apart <= _SAME_PLACE_MM


def _part(old: Placement, new: Placement, shifts: Shifts, units: Unit) -> Iterator[Change]:
    name = new.name
    if old.kind.name != new.kind.name:
        kinds = old.kind.name, new.kind.name
        rest = f"{kinds[0]} becomes {kinds[1]}"
        yield Change.of("part", "changed", name, rest, before=kinds[0], after=kinds[1], **_now(new))
    yield from _moved(old, new, shifts, units)
    turn = turned(old.rotation_deg, new.rotation_deg)
    if turn:
        angles = f"{old.rotation_deg % 360:g}°", f"{new.rotation_deg % 360:g}°"
        yield Change.of("part", "turned", name, f"turned {turn}", before=angles[0], after=angles[1], **_now(new))
    if new.kind.shaft is not None or old.kind.shaft is not None:
        yield from _knob(old.knob, new, units)
    yield from _lamp(old.lamp, new)


def _moved(old: Placement, new: Placement, shifts: Shifts, units: Unit) -> Iterator[Change]:
    name = new.name
    if old.face != new.face:
        faces = FACE_WORDS[old.face], FACE_WORDS[new.face]
        rest, places = f"moved from the {faces[0]} to the {faces[1]}", _before(old) | _now(new)
        yield Change.of("part", "moved", name, rest, before=faces[0], after=faces[1], **places)
        return
    right, down = shifts.of(new.face, (old.u_mm, old.v_mm), (new.u_mm, new.v_mm))
    said = way(right, down, new.face, units)
    if said:
        distance = math.hypot(right, down)
        mark, body = (shifts.old_mark(*each) for each in ((place(old), place(new)), (inner(old), inner(new))))
        is_slanting = is_length(right, units) and is_length(down, units)
        yield Change.of(
            "part",
            "moved",
            name,
            f"moved {said}" + (f" ({length(distance, units)} in all)" if is_slanting else ""),
            right_mm=right,
            down_mm=down,
            distance_mm=distance,
            old=mark,
            old_inner=body,
            **_now(new),
        )
    deeper = new.depth_mm - old.depth_mm
    if is_length(deeper, units):
        rest = f"{length(abs(deeper), units)} {'further from' if deeper > 0 else 'nearer to'} its panel"
        depths = length(old.depth_mm, units), length(new.depth_mm, units)
        yield Change.of("part", "moved", name, rest, before=depths[0], after=depths[1], new_inner=inner(new))


def _knob(old: Knob | None, part: Placement, units: Unit) -> Iterator[Change]:
    new, name, spot = part.knob, part.name, place(part)
    if old is None or new is None:
        if old is not new:
            rest = "without a knob" if new is None else f"with a {new.style} knob"
            yield Change.of("knob", "removed" if new is None else "added", name, rest, new=spot)
        return
    pairs = (
        ("", old.style, new.style),
        ("diameter", length(old.diameter_mm, units), length(new.diameter_mm, units)),
        ("height", length(old.height_mm, units), length(new.height_mm, units)),
        ("colour", linear_hex(old.colour), linear_hex(new.colour)),
        ("pointer line", linear_hex(old.pointer_colour), linear_hex(new.pointer_colour)),
    )
    differing = [pair for pair in pairs if pair[1] != pair[2]]
    if differing:
        said = ", ".join(f"{word} {before} becomes {after}".strip() for word, before, after in differing)
        before, after = (", ".join(f"{pair[0]} {pair[side]}".strip() for pair in differing) for side in (1, 2))
        yield Change.of("knob", "changed", name, f"knob: {said}", before=before, after=after, new=spot)
    travel = part.kind.shaft.travel_deg if part.kind.shaft is not None else TRAVEL_DEG
    turn = (new.pointer - old.pointer) * travel
    if abs(turn) >= 0.5:
        rest = f"pointer {abs(turn):.0f}° {'clockwise' if turn > 0 else 'anticlockwise'}"
        before, after = f"{100 * old.pointer:.0f} %", f"{100 * new.pointer:.0f} %"
        yield Change.of("knob", "turned", name, rest, before=before, after=after, new=spot)


def _lamp(old: Lamp | None, part: Placement) -> Iterator[Change]:
    new, name, spot = part.lamp, part.name, place(part)
    if old is None or new is None:
        return
    states = [("lit" if lamp.is_lit else "dark") for lamp in (old, new)]
    for before, after in ((linear_hex(old.colour), linear_hex(new.colour)), states):
        if before != after:
            rest = f"lamp {before} becomes {after}"
            yield Change.of("lamp", "changed", name, rest, before=before, after=after, new=spot)
