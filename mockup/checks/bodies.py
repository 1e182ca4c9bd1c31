"""Bodies inside the box that meet each other, a wall, a screw post or the lid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from itertools import combinations

from mockup.checks.panel.built import Built, are_near, bounds
from mockup.checks.panel.moves import remedy
from mockup.checks.report.words import SHAPES, at_least, is_enough, length, listed
from mockup.geometry.solids import Solid, gap, overlap_volume
from mockup.model.design import Placement
from mockup.model.enclosure import FaceName
from mockup.model.finding import Finding, Limit, Mark
from mockup.model.limits import Limits

READS = ("enclosure", "parts", "units")
TOUCH_MM3 = 0.01  # shared volume below this is rounding
LID = "the lid"


@dataclass(frozen=True, kw_only=True)
class Meeting:
    """How two bodies stand to each other: the volume they share, or else the gap and the limit it breaks.

    `is_wire` says that the gap is that of a terminal, which needs room for its wire.
    """

    shared_mm3: float
    gap_mm: float
    limit: Limit
    is_wire: bool = False


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield every pair inside the box that overlaps or comes too close, exact solids, not boxes."""
    parts = [part for part in built.design.parts if part.name in built.bodies]
    boxes = bounds(built.bodies)
    reach = max(limits["body_gap_mm"].value, limits["wiring_mm"].value)
    for first, second in combinations(parts, 2):
        if are_near(boxes[first.name], boxes[second.name], reach):
            met = meeting(built, limits, first, built.bodies[first.name], second, built.bodies[second.name])
            if met is not None:
                yield _finding(built, limits, (first, second), listed((first.name, second.name)), met)
    for part in parts:
        for name, wall in built.walls_but(own_panel(part)).items():
            if are_near(boxes[part.name], wall.bounds(), reach):
                met = meeting(built, limits, part, built.bodies[part.name], None, wall)
                if met is not None:
                    yield _finding(built, limits, (part,), name, met)


def own_panel(part: Placement) -> FaceName | None:
    """Return the panel that a part hangs from and so touches; None for what lies inside."""
    return part.face if part.kind.mount == "panel" else None


def meeting(
    built: Built, limits: Limits, first: Placement, body: Solid, second: Placement | None, other: Solid
) -> Meeting | None:
    """Return how two bodies break a limit, or None where they keep clear; overlap first, then the gap."""
    least, wire = limits["body_gap_mm"], limits["wiring_mm"]
    shared = overlap_volume(body, other)
    if shared > TOUCH_MM3:
        return Meeting(shared_mm3=shared, gap_mm=0.0, limit=least)
    apart = gap(body, other, max(least.value, wire.value))
    units = built.design.units
    if not is_enough(apart, least.value, units):
        return Meeting(shared_mm3=0.0, gap_mm=apart, limit=least)
    if apart >= wire.value:
        return None
    ends = [built.terminals(first), None if second is None else built.terminals(second)]
    wires = [gap(end, rest, wire.value) for end, rest in zip(ends, (other, body), strict=True) if end is not None]
    if not is_enough(min(wires, default=wire.value), wire.value, units):
        return Meeting(shared_mm3=0.0, gap_mm=min(wires), limit=wire, is_wire=True)
    return None


def _finding(built: Built, limits: Limits, parts: tuple[Placement, ...], where: str, met: Meeting) -> Finding:
    units, names = built.design.units, tuple(part.name for part in parts)
    is_hit = met.shared_mm3 > 0
    both = where if len(parts) == 2 else f"{names[0]} and {where}"
    if is_hit:
        what = f"{both} are in one place inside the box: they share {_volume(met.shared_mm3)}"
    elif met.is_wire:
        what = f"A terminal leaves {length(met.gap_mm, units)} for its wire and solder between {both}, less than "
        what += length(met.limit.value, units)
    elif met.gap_mm < 0.01:
        what = f"{both} touch inside the box; {length(met.limit.value, units)} should be left"
    else:
        what = f"{both} are {length(met.gap_mm, units)} apart inside the box, less than "
        what += length(met.limit.value, units)
    return Finding(
        check="bodies",
        severity="stop" if is_hit else "warn",
        subjects=names,
        what=what,
        remedy=remedy(built, limits, names, partial(_is_free, built, limits), turns=True)
        or _fallback(built, limits, parts, where),
        source=SHAPES if is_hit else met.limit.source,
        measured=met.shared_mm3 if is_hit else met.gap_mm,
        limit=0.0 if is_hit else met.limit.value,
        unit="mm³" if is_hit else "mm",
        marks=tuple(_mark(built, part) for part in parts),
    )


def _fallback(built: Built, limits: Limits, parts: tuple[Placement, ...], where: str) -> str:
    """Return what to do where no move of one part helps: against the lid, how much higher the box has to be."""
    if where == LID and own_panel(parts[0]) == "top":
        low, _ = built.bodies[parts[0].name].bounds()
        more = built.design.enclosure.lid_mm + limits["body_gap_mm"].value - float(low[2])
        return f"Choose a part that is {at_least(more, built.design.units)} less deep, or a box that much higher"
    return "Choose a smaller part or a larger box, or move several parts"


def _is_free(built: Built, limits: Limits, moved: Placement, others: tuple[Placement, ...]) -> bool:
    """True where a moved part breaks no limit inside the box against anything."""
    body, terminals = built.body(moved), built.terminals(moved)
    walls = ((None, wall) for wall in built.walls_but(own_panel(moved)).values())
    beside = ((other, built.bodies[other.name]) for other in others if other.name in built.bodies)
    return all(_is_clear(built, limits, body, terminals, other, solid) for other, solid in (*walls, *beside))


def _is_clear(
    built: Built, limits: Limits, body: Solid, terminals: Solid | None, other: Placement | None, solid: Solid
) -> bool:
    least, wire = limits["body_gap_mm"].value, limits["wiring_mm"].value
    apart = _gap(body, solid, max(least, wire))
    if apart < least:
        return False
    if apart >= wire:
        return True
    theirs = None if other is None else built.terminals(other)
    return (terminals is None or _gap(terminals, solid, wire) >= wire) and (
        theirs is None or _gap(theirs, body, wire) >= wire
    )


def _gap(first: Solid, second: Solid, limit_mm: float) -> float:
    return gap(first, second, limit_mm) if are_near(first.bounds(), second.bounds(), limit_mm) else limit_mm


def _volume(mm3: float) -> str:
    return f"{mm3:.0f} mm³" if mm3 >= 10 else f"{mm3:.2g} mm³"


def _mark(built: Built, part: Placement) -> Mark:
    """Return a mark on the face that the part hangs from, over the middle of its body."""
    face = built.faces[part.face]
    low, high = built.bodies[part.name].bounds()
    u, v, _ = face.from_world((low + high) / 2)
    return Mark(face=part.face, u_mm=float(u), v_mm=float(v), radius_mm=5.0)
