"""Where a part may stand, told for many places of one face at once: the same rules and limits, all places in one go.

A part that only moves along its face changes every direction's room by a straight line, so that thousands of places
are judged in a fraction of a second. Gaps along given directions are never optimistic; they miss at most a few
hundredths of a millimetre.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mockup.clearance import rules
from mockup.clearance.directions import ways_of
from mockup.clearance.figures import Figure
from mockup.clearance.placed import PlacedPart, placed
from mockup.clearance.rules import Encounter, Flats, Inside, Solids, Within
from mockup.geometry.planar import directions, distance_inside_rounded_rectangle
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure
from mockup.model.mesh import Floats

Truths = NDArray[np.bool_]
KEPT_MM = 0.0049  # a rule that lacks less is kept: rounding
CLAIM_RULES = rules.CLAIMS | {rules.HOLE_EDGE, rules.HOLE_RIM}
"""The rules by which two things claim one place, or a hole is not whole."""
SURE_MM = 0.05  # what is ruled out by boxes alone overlaps by more than rounding
RING = directions(0.0, 2 * np.pi, 360)[:-1]  # a whole degree misses a gap by a few hundred-thousandths of it
BLOCK = 256  # places looked at in one go where every direction counts: our choice, some 10 MB


@dataclass(frozen=True, kw_only=True, eq=False)
class FreePlaces:
    """Of places (n, 2) which are free (n,): `kept` where every limit is kept, `clear` where nothing overlaps.

    `spare_mm` is the room beyond the limits where it is clear, minus infinity elsewhere.
    """

    spare_mm: Floats
    clear: Truths

    @property
    def kept(self) -> Truths:
        """Where every limit is kept, but for rounding."""
        found: Truths = self.spare_mm >= -KEPT_MM
        return found


def free_places(
    box: Enclosure,
    part: Placement,
    others: Iterable[Placement],
    own: Mapping[str, float],
    places: Floats,
    *,
    with_box: bool = True,
    is_stopped: Callable[[], bool] = lambda: False,
) -> FreePlaces:
    """Return which places (n, 2) on a part's own face, at its turn and depth, leave it the room that it needs.

    `others` stand where they are; without `with_box` they alone count. A search that is stopped finds nothing free.
    """
    here = placed(box, replace(part, u_mm=0.0, v_mm=0.0), own)
    spares, clear = np.full(len(places), np.inf), np.ones(len(places), bool)
    if with_box:
        clear &= _in_hollow(here, places)
    rest = [placed(box, each, own) for each in others if each.name != part.name]
    alone = rules.alone(here) if with_box else ()
    encounters = [*alone, *(meets for each in rest for meets in rules.between(here, each))]
    for meets in sorted(encounters, key=lambda each: _COSTS[type(each)]):
        if is_stopped():
            clear[:] = False
        alive = np.flatnonzero(clear)
        if not len(alive):
            break
        spare, room = _spares(here, meets, places[alive])
        spares[alive] = np.minimum(spares[alive], spare)
        if meets.rule in CLAIM_RULES:
            clear[alive] &= room > -KEPT_MM
    return FreePlaces(spare_mm=np.where(clear, spares, -np.inf), clear=clear)


def _in_hollow(here: PlacedPart, moves: Floats) -> Truths:
    """Return where the box round a body lies within the box round the hollow: quick, and sure where it says no."""
    box, body = here.box, here.body
    if not body.is_there:
        return np.ones(len(moves), bool)
    low, high = (end + body.at for end in body.shape.pieces.bounds)
    shift = moves[:, :1] * here.face.right + moves[:, 1:] * here.face.down
    half = np.array([box.width_mm / 2 - box.wall_mm, box.length_mm / 2 - box.wall_mm]) + SURE_MM
    sides = (low[:2] + shift[:, :2] >= -half) & (high[:2] + shift[:, :2] <= half)
    floor, ceiling = box.lid_mm - SURE_MM, box.height_mm - box.top_mm + SURE_MM
    levels = low[2] + shift[:, 2] >= floor
    if here.panel in ("left", "right", "near", "far"):  # it hangs from this panel, and may touch it
        sides[:, 0 if here.panel in ("left", "right") else 1] = True
    if here.panel != "top":
        levels &= high[2] + shift[:, 2] <= ceiling
    found: Truths = sides.all(axis=1) & levels
    return found


_COSTS: dict[type[Encounter], int] = {Within: 0, Flats: 1, Solids: 2, Inside: 3}


def _spares(here: PlacedPart, meets: Encounter, moves: Floats) -> tuple[Floats, Floats]:
    """Return the least room beyond the limits, and the least room, of an encounter for each move (n, 2)."""
    match meets:
        case Within():
            room = _in_region(meets, moves)
        case Flats():
            room = _between_figures(here, meets, moves)
        case Solids():
            return _between_pieces(here, meets, moves)
        case Inside():
            return _to_metal(here, meets, moves)
        case _:
            room = np.full(len(moves), np.inf)
    return room - meets.limit.value, room


def _in_region(meets: Within, moves: Floats) -> Floats:
    least: Floats = np.full(len(moves), np.inf)
    region = meets.region
    for each in meets.figures:
        if region.corner_mm > 0:
            middle = np.array([(region.left + region.right) / 2, (region.top + region.bottom) / 2])
            points = (moves[:, None] + each.core - middle).reshape(-1, 2)
            size = region.right - region.left, region.bottom - region.top
            room = distance_inside_rounded_rectangle(points, *size, region.corner_mm)
            rooms = room.reshape(len(moves), -1) - each.radius_mm
        else:
            here, ways = region.planes(each)
            rooms = here + moves @ ways.T
        least = np.minimum(least, rooms.min(axis=1, initial=np.inf))
    return least


def _between_figures(here: PlacedPart, meets: Flats, moves: Floats) -> Floats:
    is_first = meets.owners[0] is here
    moved, fixed = (meets.first, meets.second) if is_first else (meets.second, meets.first)
    least: Floats = np.full(len(moves), np.inf)
    for one in moved:
        for other in fixed:
            far = np.linalg.norm(moves + one.middle - other.middle, axis=1) - one.reach_mm - other.reach_mm
            near = far < least
            if near.any():
                least[near] = np.minimum(least[near], _apart(one, other, moves[near]))
    return least


def _apart(one: Figure, other: Figure, moves: Floats) -> Floats:
    """Return the room between two figures, the first moved."""
    radii = one.radius_mm + other.radius_mm
    if len(one.core) == len(other.core) == 1:
        gap: Floats = np.linalg.norm(moves + one.core - other.core, axis=1)
    else:
        reach = (one.core @ RING.T).max(axis=0) + (-other.core @ RING.T).max(axis=0)
        gap = np.concatenate([(-(part @ RING.T) - reach).max(axis=1) for part in _blocks(moves)])
    return gap - radii


def _between_pieces(here: PlacedPart, meets: Solids, moves: Floats) -> tuple[Floats, Floats]:
    box_ways = ways_of(here.box)
    ways, opposite, few = box_ways.ways, box_ways.opposite, box_ways.coarse
    sign = -1.0 if meets.owners[0] is here else 1.0
    along = sign * np.stack([here.face.right, here.face.down], axis=1)
    start = meets.second.at - meets.first.at
    one, other = meets.first.shape, meets.second.shape
    back = other.reach[:, opposite]
    spare = np.full(len(moves), np.inf)
    room = np.full(len(moves), np.inf)
    coarse = (start + moves @ along.T) @ ways[few].T - one.hull[few] - other.hull[opposite][few]
    near = np.flatnonzero(coarse.max(axis=1) < meets.most_mm)
    whole = ways @ start - one.hull - other.hull[opposite]
    slopes = (ways @ along).T
    size = one.reach.sum(axis=1)[:, None] + back.sum(axis=1)[None, :]
    pairs = np.stack(np.unravel_index(np.argsort(-size, axis=None, kind="stable"), size.shape), axis=1).tolist()
    for block in _blocks(near):
        left = block[(whole + moves[block] @ slopes).max(axis=1) < meets.most_mm]
        shift = ways @ start + moves[left] @ slopes
        for first, second in pairs:  # the largest first: what they overlap is out at once
            reach = one.reach[first] + back[second]
            is_near = (shift[:, few] - reach[few]).max(axis=1) < meets.most_mm
            if not is_near.any():
                continue
            gap = (shift[is_near] - reach).max(axis=1)
            is_wire = meets.first.shape.pieces.are_terminals[first] or other.pieces.are_terminals[second]
            need = meets.wire.value if meets.wire is not None and is_wire else meets.limit.value
            there = left[is_near]
            spare[there] = np.minimum(spare[there], gap - need)
            room[there] = np.minimum(room[there], gap)
            is_alive = room[left] >= -SURE_MM
            if not is_alive.all():
                left, shift = left[is_alive], shift[is_alive]
            if not len(left):
                break
    return spare, room


def _to_metal(here: PlacedPart, meets: Inside, moves: Floats) -> tuple[Floats, Floats]:
    metal, pieces = meets.metal, meets.group.shape.pieces
    slopes = (metal.ways @ np.stack([here.face.right, here.face.down], axis=1)).T
    start = metal.bounds - metal.ways @ meets.group.at
    hull = meets.reach.max(axis=0)
    ends = np.append(metal.starts[1:], len(hull))
    spare = np.full(len(moves), np.inf)
    room = np.full(len(moves), np.inf)
    wire = meets.limit.value if meets.wire is None else meets.wire.value
    needs = np.where(pieces.are_terminals.astype(bool), wire, meets.limit.value)
    for block in _blocks(np.arange(len(moves))):
        left = start - moves[block] @ slopes
        near = np.maximum.reduceat(left - hull, metal.starts, axis=1) < meets.most_mm
        for index in np.flatnonzero(near.any(axis=0)).tolist():
            own = slice(int(metal.starts[index]), int(ends[index]))
            at = near[:, index]
            gap = (left[at, None, own] - meets.reach[:, own]).max(axis=2)
            there = block[at]
            spare[there] = np.minimum(spare[there], (gap - needs).min(axis=1))
            room[there] = np.minimum(room[there], gap.min(axis=1))
    return spare, room


def _blocks(rows: NDArray[Any]) -> list[NDArray[Any]]:
    return [rows[start : start + BLOCK] for start in range(0, max(len(rows), 1), BLOCK)]
