"""Bodies inside the box that meet each other, a wall, a screw post or the lid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from itertools import combinations

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.checks.panel.contact import Contact, are_near, contact, room
from mockup.checks.panel.moves import cure
from mockup.geometry.solids import Solid, gap
from mockup.model.design import Placement
from mockup.model.enclosure import FaceName
from mockup.model.finding import Finding, Limit, Mark, Subject, mm
from mockup.model.units import is_enough, round_up

LIMITS = """
[body_gap_mm]
value = 1.0
unit = "mm"
about = "room between two bodies inside, or a body and a wall, screw post or the lid"
source = "common practice, no source"

[wiring_mm]
value = 2.0
unit = "mm"
about = "room that a terminal needs round it for wire and solder"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
_TWO = """
[[part]]
name = "A"
kind = "pot-16"
left = 20
top = 30
[[part]]
name = "B"
kind = "pot-16"
top = 30
"""
PLANTED = Case(_TWO + "left = 32\n")  # cans 16 mm wide, 12 mm apart
SOUND = Case(_TWO + "left = 40\n")
LID = "the lid"


@dataclass(frozen=True, kw_only=True)
class Meeting:
    """How two bodies stand to each other and the limit it breaks; `is_wire`: a terminal lacks room for its wire."""

    contact: Contact
    limit: Limit
    is_wire: bool = False


def check(built: Built) -> Iterator[Finding]:
    """Yield every pair inside the box that overlaps or comes too close, exact solids, not boxes."""
    parts = [part for part in built.design.parts if part.name in built.bodies]
    for first, second in combinations(parts, 2):
        met = meeting(built, first, built.bodies[first.name], second, built.bodies[second.name])
        if met is not None:
            yield _finding(built, (first, second), second.name, met)
    for part in parts:
        for name, wall in built.walls_but(own_panel(part)).items():
            met = meeting(built, part, built.bodies[part.name], None, wall)
            if met is not None:
                yield _finding(built, (part,), name, met)


def own_panel(part: Placement) -> FaceName | None:
    """Return the panel that a part hangs from and so touches; None for what lies inside."""
    return part.face if part.kind.mount == "panel" else None


def meeting(built: Built, first: Placement, body: Solid, second: Placement | None, other: Solid) -> Meeting | None:
    """Return how two bodies break a limit, or None where they keep clear; overlap first, then the gap."""
    least, wire, units = built.limits["body_gap_mm"], built.limits["wiring_mm"], built.design.units
    reach = max(least.value, wire.value)
    if not are_near(body, other, reach):
        return None
    found = contact(body, other, reach)
    if found.is_overlap or not is_enough(found.gap_mm, least.value, units):
        return Meeting(contact=found, limit=least)
    if found.gap_mm >= wire.value:
        return None
    ends = [built.terminals(first), None if second is None else built.terminals(second)]
    wires = [gap(end, rest, wire.value) for end, rest in zip(ends, (other, body), strict=True) if end is not None]
    if not is_enough(min(wires, default=wire.value), wire.value, units):
        return Meeting(contact=Contact(gap_mm=min(wires)), limit=wire, is_wire=True)
    return None


def _finding(built: Built, parts: tuple[Placement, ...], other: str, met: Meeting) -> Finding:
    found, names = met.contact, tuple(part.name for part in parts)
    if found.is_overlap:
        title = "Two things in one place"
        what = "{first} and {other} run into each other inside the box, by as much as a cube of {cube} ({measured})"
    elif met.is_wire:
        title = "No room for a wire"
        what = "a terminal between {first} and {other} has {measured} for its wire and solder, less than {limit}"
    elif found.gap_mm < 0.01:
        title, what = "Bodies touch", "{first} and {other} touch inside the box; leave {limit} between them"
    else:
        title, what = "Bodies too close", "{first} and {other} are {measured} apart inside the box, less than {limit}"
    return Finding(
        severity="stop" if found.is_overlap else "warn",
        title=title,
        what=what,
        subjects=Subject.parts(*names),
        edits=cure(built, names, partial(_is_free, built), turns=True),
        remedy="Choose a part that is {lower} less deep, or a box that much higher"
        if other == LID and own_panel(parts[0]) == "top"
        else "Choose a smaller part or a larger box, or move several parts",
        measured=found.measured,
        limit=found.limit(met.limit),
        facts={"other": other, "cube": found.cube, "lower": mm(_lower_mm(built, parts[0]))},
        marks=tuple(_mark(built, part) for part in parts),
    )


def _lower_mm(built: Built, part: Placement) -> float:
    """Return how much higher the box has to be for a part to clear the lid."""
    low, _ = built.bodies[part.name].bounds()
    more = built.design.enclosure.lid_mm + built.limits["body_gap_mm"].value - float(low[2])
    return round_up(more, built.design.units)


def _is_free(built: Built, moved: Placement, others: tuple[Placement, ...]) -> bool:
    """True where a moved part breaks no limit inside the box against anything."""
    body, terminals = built.body(moved), built.terminals(moved)
    walls = ((None, wall) for wall in built.walls_but(own_panel(moved)).values())
    beside = ((other, built.bodies[other.name]) for other in others if other.name in built.bodies)
    return all(_is_clear(built, body, terminals, other, solid) for other, solid in (*walls, *beside))


def _is_clear(built: Built, body: Solid, terminals: Solid | None, other: Placement | None, solid: Solid) -> bool:
    least, wire = built.limits["body_gap_mm"].value, built.limits["wiring_mm"].value
    apart = room(body, solid, max(least, wire))
    if apart < least:
        return False
    if apart >= wire:
        return True
    theirs = None if other is None else built.terminals(other)
    return (terminals is None or room(terminals, solid, wire) >= wire) and (
        theirs is None or room(theirs, body, wire) >= wire
    )


def _mark(built: Built, part: Placement) -> Mark:
    """Return a mark on the face that the part hangs from, over the middle of its body."""
    low, high = built.bodies[part.name].bounds()
    u, v, _ = built.faces[part.face].from_world((low + high) / 2)
    return Mark(face=part.face, u_mm=float(u), v_mm=float(v), radius_mm=5.0)
