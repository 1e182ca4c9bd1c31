"""Knobs that meet each other or other hardware, cover a lamp, or stick out over the edge."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import permutations

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.checks.panel.contact import are_near, contact, room
from mockup.checks.panel.face_room import knob_figure
from mockup.checks.panel.moves import cure, keeps
from mockup.checks.panel.plan import Figure, disc, least_between, room_on_box, stack
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.shape import Turned
from mockup.model.units import is_enough

LIMITS = """
[knob_clear_mm]
value = 0.8
unit = "mm"
about = "room between a knob and anything of another part above the panel"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
_KNOB = """
[[part]]
name = "A"
kind = "pot-16"
top = 30
knob = { style = "barrel", diameter = 18 }
[[part]]
name = "EYE"
kind = "lamp-5"
"""
PLANTED = Case(_KNOB + "top = 40\n")  # the lamp 10 mm from the axis of a knob of 18
SOUND = Case(_KNOB + "top = 70\n")


def check(built: Built) -> Iterator[Finding]:
    """Yield what a knob, turned through its whole travel, is in the way of. Two knobs: see `knob-gaps`."""
    for part in built.design.parts:
        knob = knob_figure(built, part)
        if knob is not None:
            yield from _over_the_edge(built, part, knob)
    for part, other in permutations(built.design.parts, 2):
        if part.name not in built.knobs or other.name not in built.hardware:
            continue
        near = are_near(built.knobs[part.name], built.hardware[other.name], built.limits["knob_clear_mm"].value)
        if near or _is_over(built, part, other):
            yield from _in_the_way(built, part, other)


def _over_the_edge(built: Built, part: Placement, knob: Figure) -> Iterator[Finding]:
    limit, face = built.limits["knob_edge_mm"], built.faces[part.face]
    room = room_on_box(built.design.enclosure, face, knob)
    if is_enough(room, limit.value, built.design.units):
        return
    yield Finding(
        severity="warn",
        title="Knob over the edge" if room < 0 else "Knob near the edge",
        what="the knob of {first} sticks out {by} over the edge of the {face} face"
        if room < 0
        else "the knob of {first} leaves {measured} to the edge of the {face} face",
        subjects=Subject.parts(part.name),
        edits=cure(built, (part.name,), keeps(built, "knob edge")),
        remedy="Choose a knob of {size} or less",
        measured=mm(room),
        limit=limit,
        facts={"face": face.name, "size": mm(2 * (knob.radius_mm + room - limit.value))},
        marks=(Mark.at(part, knob.radius_mm),),
    )


def _in_the_way(built: Built, part: Placement, other: Placement) -> Iterator[Finding]:
    """Yield the worst of: both in one place, a lamp covered, a nut covered, too little room."""
    limit, flat = built.limits["knob_clear_mm"], knob_figure(built, part)
    found = contact(built.knobs[part.name], built.hardware[other.name], limit.value)
    is_beside = other.face == part.face and flat is not None
    covered = -least_between((flat,), _lenses(other)) if is_beside and flat is not None else -math.inf
    hidden = -least_between((flat,), stack(other)) if is_beside and flat is not None else -math.inf
    if found.is_overlap:
        title = "Knob cannot turn"
        what = "the knob of {first} runs into {second}, by as much as a cube of {cube} ({measured})"
        measured, least = found.measured, found.limit(limit)
    elif covered > 0:
        measured, least = mm(-covered), mm(0.0)
        title, what = "Knob covers a lamp", "the knob of {first} covers the lens of {second} by {by}, seen from above"
    elif hidden > 0:
        measured, least = mm(-hidden), mm(0.0)
        title = "Nut out of reach"
        what = "the knob of {first} covers the nut, washer or screws of {second} by {by}, so no tool reaches them"
    elif is_enough(found.gap_mm, limit.value, built.design.units):
        return
    else:
        title = "Knob nearly rubs"
        what = "the knob of {first} passes {second} with {measured} to spare, less than {limit}"
        measured, least = found.measured, limit
    names = (part.name, other.name)
    yield Finding(
        severity="stop" if found.is_overlap else "warn",
        title=title,
        what=what,
        subjects=Subject.parts(*names),
        edits=cure(built, names, partial(_is_free, built, names)),
        remedy="Choose a smaller knob for {first}",
        measured=measured,
        limit=least,
        facts={"cube": found.cube},
        marks=(Mark.at(part, flat.radius_mm if flat else 8.0), Mark.at(other, 6.0)),
    )


def _is_over(built: Built, part: Placement, other: Placement) -> bool:
    """True where a knob covers anything that lies low on the same face, seen from above."""
    flat = knob_figure(built, part)
    return flat is not None and other.face == part.face and least_between((flat,), (*stack(other), *_lenses(other))) < 0


def _is_free(built: Built, names: tuple[str, str], moved: Placement, others: tuple[Placement, ...]) -> bool:
    """True where, with one of the two moved, the knob of the first is clear of the second and covers nothing of it."""
    part, other = (
        moved if moved.name == name else next(each for each in others if each.name == name) for name in names
    )
    least = built.limits["knob_clear_mm"].value
    return not _is_over(built, part, other) and room(built.knob_at(part), built.hardware_at(other), least) >= least


def _lenses(part: Placement) -> tuple[Figure, ...]:
    """Return the lenses of a lamp as circles on its face."""
    found = []
    for index in part.kind.lens:
        solid = part.kind.above[index]
        reach = max(r for r, _ in solid.profile) if isinstance(solid, Turned) else solid.outline.width_mm / 2
        found.append(disc(part.u_mm + solid.at[0], part.v_mm - solid.at[1], reach))
    return tuple(found)
