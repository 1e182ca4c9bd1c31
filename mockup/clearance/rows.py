"""How the room that every rule leaves changes with the places of the parts: straight lines that are never optimistic.

A row says: as long as ``spare + slopes . (move of each part)`` is 0 or more, the rule is kept between these pieces,
whatever the moves. That is so because one direction that parts two convex pieces is enough. For pieces that break
their rule, the direction is the one along which the parts have the least way to go.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from mockup.clearance import closest
from mockup.clearance.directions import Directions
from mockup.clearance.figures import apart
from mockup.clearance.rules import Encounter, Flats, Inside, Solids, Within
from mockup.memo import memoize
from mockup.model.enclosure import Face
from mockup.model.mesh import Floats, Ints

CLEAR_MM = 1.5  # groups with so much more room than they need are looked at as one: our choice
TIGHT_MM = 0.12  # a gap so near to its limit is measured exactly, not along given directions alone
SLUGGISH = 0.2  # a direction along which a part can move less than this share of its way parts nothing: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Rows:
    """Rows of one encounter: `spares` (r,) millimetres, and `slopes` (r, 3) for each owner.

    A slope is the room gained for a millimetre to the right, down, and deeper into the box.
    """

    spares: Floats
    slopes: tuple[Floats, ...]


def rows(meets: Encounter, directions: Directions, are_free: tuple[bool, ...], within_mm: float) -> Rows | None:
    """Return the rows of an encounter that moves of `within_mm` may come up against; None where there are none.

    `are_free` says which of its owners may move.
    """
    match meets:
        case Flats():
            found = list(_of_figures(meets, within_mm))
        case Within():
            found = list(_of_region(meets, within_mm))
        case Solids():
            found = list(_of_pieces(meets, directions, are_free, within_mm))
        case Inside():
            found = list(_of_metal(meets, are_free, within_mm))
        case _:
            found = []
    if not found:
        return None
    return Rows(
        spares=np.array([spare for spare, _ in found]),
        slopes=tuple(np.array(each) for each in zip(*(slopes for _, slopes in found), strict=True)),
    )


Row = tuple[float, tuple[Floats, ...]]


def _of_figures(meets: Flats, within_mm: float) -> Iterator[Row]:
    for one in meets.first:
        for other in meets.second:
            room, way = apart(one, other)
            if room - meets.limit.value < within_mm:
                slope = np.array([*way, 0.0])
                yield room - meets.limit.value, (-slope,) if meets.is_fixed else (-slope, slope)


def _of_region(meets: Within, within_mm: float) -> Iterator[Row]:
    for each in meets.figures:
        rooms, ways = meets.region.planes(each)
        for room, way in zip(rooms.tolist(), ways, strict=True):
            if room - meets.limit.value < within_mm:
                yield room - meets.limit.value, (np.array([*way, 0.0]),)


def _of_pieces(meets: Solids, directions: Directions, are_free: tuple[bool, ...], within_mm: float) -> Iterator[Row]:
    one, other = meets.first.shape, meets.second.shape
    ways, opposite = directions.ways, directions.opposite
    shift = ways @ (meets.second.at - meets.first.at)
    most = meets.most_mm
    whole = shift - one.hull - other.hull[opposite]
    best = int(np.argmax(whole))
    if whole[best] - most >= within_mm:
        return
    if whole[best] - most >= CLEAR_MM:
        yield whole[best] - most, _slopes(meets, ways[best])
        return
    limits = _limits(meets)
    back, few = other.reach[:, opposite], directions.coarse
    coarse = shift[few] - one.reach[:, None, few] - back[None, :, few] - limits[..., None]
    is_near = coarse.max(axis=-1) < CLEAR_MM
    spares: dict[int, float] = {}
    _keep_least(spares, few[coarse.argmax(axis=-1)[~is_near]], coarse.max(axis=-1)[~is_near])
    first, second = np.nonzero(is_near)
    if len(first):
        fine = shift - one.reach[first] - back[second] - limits[first, second][:, None]
        chosen = _chosen(fine, _mobility(meets, ways, are_free))
        is_tight = np.abs(fine.max(axis=1)) < TIGHT_MM
        for index in np.flatnonzero(is_tight).tolist():
            pair = int(first[index]), int(second[index])
            pieces = meets.first.piece(pair[0]), meets.second.piece(pair[1])
            room, way = closest.gap(*pieces, ways[int(np.argmax(fine[index]))])
            yield room - limits[pair], _slopes(meets, way)
        _keep_least(spares, chosen[~is_tight], fine[np.arange(len(fine)), chosen][~is_tight])
    for number, spare in spares.items():
        if spare < within_mm:
            yield spare, _slopes(meets, ways[number])


def _of_metal(meets: Inside, are_free: tuple[bool, ...], within_mm: float) -> Iterator[Row]:
    metal, (owner,) = meets.metal, meets.owners
    most = meets.most_mm
    left = metal.bounds - metal.ways @ meets.group.at
    whole = left - meets.reach.max(axis=0) - most
    ends = np.append(metal.starts[1:], len(whole))
    mobility = np.linalg.norm(metal.ways @ _frame(owner.face)[:, :2], axis=1) * are_free[0]
    needs = np.full(len(meets.reach), meets.limit.value)
    if meets.wire is not None:
        needs[meets.group.shape.pieces.are_terminals.astype(bool)] = meets.wire.value
    for start, end in zip(metal.starts.tolist(), ends.tolist(), strict=True):
        best = start + int(np.argmax(whole[start:end]))
        if whole[best] >= within_mm:
            continue
        spares: dict[int, float] = {}
        if whole[best] >= CLEAR_MM:
            spares[best] = float(whole[best])
        else:
            fine = left[start:end] - meets.reach[:, start:end] - needs[:, None]
            chosen = _chosen(fine, mobility[start:end])
            _keep_least(spares, start + chosen, fine[np.arange(len(fine)), chosen])
        for number, spare in spares.items():
            if spare < within_mm:
                yield spare, (-metal.ways[number] @ _frame(owner.face),)


def _chosen(spares: Floats, mobility: Floats) -> Ints:
    """Return for each pair of pieces (k, d) the direction that its row goes by.

    Pieces that keep their rule go by the one of most room. All that break it go by one and the same: that along which
    the parts have the least way to go.
    """
    best: Ints = spares.argmax(axis=1)
    is_broken = spares.max(axis=1) < 0
    can = mobility > SLUGGISH
    if is_broken.any() and can.any():
        way = np.where(can, (-spares[is_broken]).max(axis=0) / np.maximum(mobility, SLUGGISH), np.inf)
        best[is_broken] = int(np.argmin(way))
    return best


def _keep_least(spares: dict[int, float], numbers: Ints, values: Floats) -> None:
    """Keep the least spare for each direction: rows along one direction are parallel."""
    for number, value in zip(numbers.tolist(), values.tolist(), strict=True):
        spares[number] = min(value, spares.get(number, np.inf))


def _limits(meets: Solids) -> Floats:
    """Return the room (m, n) that each two pieces need."""
    ends = meets.first.shape.pieces.are_terminals, meets.second.shape.pieces.are_terminals
    is_wire = (ends[0][:, None] | ends[1][None, :]) > 0
    wire = meets.limit if meets.wire is None else meets.wire
    return np.where(is_wire, wire.value, meets.limit.value)


def _mobility(meets: Encounter, ways: Floats, are_free: tuple[bool, ...]) -> Floats:
    """Return how much room (d,) a millimetre's move of the better placed owner gains along each direction."""
    found: Floats = np.zeros(len(ways))
    for owner, is_free in zip(meets.owners, are_free, strict=True):
        if is_free:
            found = np.maximum(found, np.linalg.norm(ways @ _frame(owner.face)[:, :2], axis=1))
    return found


def _slopes(meets: Encounter, way: Floats) -> tuple[Floats, ...]:
    first, second = meets.owners
    return -way @ _frame(first.face), way @ _frame(second.face)


@memoize
def _frame(face: Face) -> Floats:
    """Return (3, 3): where a part goes in the world for a millimetre to the right, down, and deeper."""
    return np.stack([face.right, face.down, -face.out], axis=1)
