"""Knobs that meet each other or other hardware, cover a lamp, or stick out over the edge."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import permutations

from mockup.checks.panel.built import Built, are_near, bounds
from mockup.checks.panel.face_room import CLOSE_MM, knob_figure, margins
from mockup.checks.panel.moves import remedy
from mockup.checks.panel.plan import Figure, disc, least_between, room_on_box, stack
from mockup.checks.report.words import SHAPES, is_enough, length
from mockup.geometry.solids import gap, overlap_volume
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark
from mockup.model.limits import Limits
from mockup.model.shape import Turned

READS = ("enclosure", "parts", "units")
TOUCH_MM3 = 0.01  # shared volume below this is rounding


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield what a knob, turned through its whole travel, is in the way of. Two knobs: see `knob-gaps`."""
    for part in built.design.parts:
        knob = knob_figure(built, part)
        if knob is not None:
            yield from _over_the_edge(built, limits, part, knob)
    boxes = {**bounds(built.hardware), **{f"{name} knob": each.bounds() for name, each in built.knobs.items()}}
    for part, other in permutations(built.design.parts, 2):
        if part.name not in built.knobs or other.name not in built.hardware:
            continue
        is_near = are_near(boxes[f"{part.name} knob"], boxes[other.name], limits["knob_clear_mm"].value)
        if not is_near and not _is_over(built, part, other):
            continue
        yield from _in_the_way(built, limits, part, other)


def _over_the_edge(built: Built, limits: Limits, part: Placement, knob: Figure) -> Iterator[Finding]:
    limit, units, face = limits["knob_edge_mm"], built.design.units, built.faces[part.face]
    room = room_on_box(built.design.enclosure, face, knob)
    if is_enough(room, limit.value, units):
        return
    yield Finding(
        check="knob-overlaps",
        severity="warn",
        subjects=(part.name,),
        what=f"The knob of {part.name} sticks out over the edge of the {face.name} face by {length(-room, units)}"
        if room < 0
        else f"The knob of {part.name} leaves {length(room, units)} to the edge of the {face.name} face",
        remedy=remedy(built, limits, (part.name,), partial(_is_clear, built, limits, ("knob edge",)))
        or f"Choose a knob of {length(2 * (knob.radius_mm + room - limit.value), units)} or less",
        source=limit.source,
        measured=room,
        limit=limit.value,
        unit="mm",
        marks=(_mark(part, knob.radius_mm),),
    )


def _in_the_way(built: Built, limits: Limits, part: Placement, other: Placement) -> Iterator[Finding]:
    """Yield the worst of: both in one place, a lamp covered, a nut covered, too little room."""
    limit, units = limits["knob_clear_mm"], built.design.units
    knob, flat = built.knobs[part.name], knob_figure(built, part)
    shared = overlap_volume(knob, built.hardware[other.name])
    is_beside = other.face == part.face and flat is not None
    covered = -least_between((flat,), _lenses(other)) if is_beside and flat is not None else -math.inf
    hidden = -least_between((flat,), stack(other)) if is_beside and flat is not None else -math.inf
    what, measured, least, unit = "", 0.0, 0.0, "mm"
    if shared > TOUCH_MM3:
        what = f"The knob of {part.name} and {other.name} are in one place: they share {shared:.3g} mm³"
        measured, unit = shared, "mm³"
    elif covered > 0:
        what = f"The knob of {part.name} covers the lens of {other.name} by {length(covered, units)}, seen from above"
        measured = -covered
    elif hidden > 0:
        what = (
            f"The knob of {part.name} covers the nut, washer or screws of {other.name} by {length(hidden, units)}, "
            "so that no tool reaches them"
        )
        measured = -hidden
    else:
        measured, least = gap(knob, built.hardware[other.name], limit.value), limit.value
        if is_enough(measured, least, units):
            return
        what = f"The knob of {part.name} passes {other.name} with {length(measured, units)} to spare, less than " + (
            length(least, units)
        )
    names = (part.name, other.name)
    yield Finding(
        check="knob-overlaps",
        severity="stop" if unit == "mm³" else "warn",
        subjects=names,
        what=what,
        remedy=remedy(built, limits, names, partial(_is_free, built, limits, names))
        or f"Choose a smaller knob for {part.name}",
        source=limit.source if least else SHAPES,
        measured=measured,
        limit=least,
        unit=unit,
        marks=(_mark(part, flat.radius_mm if flat else 8.0), _mark(other, 6.0)),
    )


def _is_over(built: Built, part: Placement, other: Placement) -> bool:
    """True where a knob covers anything that lies low on the same face, seen from above."""
    flat = knob_figure(built, part)
    return flat is not None and other.face == part.face and least_between((flat,), (*stack(other), *_lenses(other))) < 0


def _is_free(
    built: Built, limits: Limits, names: tuple[str, str], moved: Placement, others: tuple[Placement, ...]
) -> bool:
    """True where, with one of the two moved, the knob of the first is clear of the second and covers nothing of it."""
    part, other = (
        moved if moved.name == name else next(each for each in others if each.name == name) for name in names
    )
    if _is_over(built, part, other):
        return False
    least = limits["knob_clear_mm"].value
    knob, rest = built.knob_at(part), built.hardware_at(other)
    return not are_near(knob.bounds(), rest.bounds(), least) or gap(knob, rest, least) >= least


def _is_clear(
    built: Built, limits: Limits, kinds: tuple[str, ...], moved: Placement, others: tuple[Placement, ...]
) -> bool:
    return all(room >= -CLOSE_MM for (kind, _), room in margins(built, limits, moved, others).items() if kind in kinds)


def _lenses(part: Placement) -> tuple[Figure, ...]:
    """Return the lenses of a lamp as circles on its face."""
    found = []
    for index in part.kind.lens:
        solid = part.kind.above[index]
        reach = max(r for r, _ in solid.profile) if isinstance(solid, Turned) else solid.outline.width_mm / 2
        found.append(disc(part.u_mm + solid.at[0], part.v_mm - solid.at[1], reach))
    return tuple(found)


def _mark(part: Placement, radius_mm: float) -> Mark:
    return Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=radius_mm)
