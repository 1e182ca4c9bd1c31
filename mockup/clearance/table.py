"""Every rule of room that a set of parts breaks, and by how much: the one measure that checks and the arranger read."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from mockup.clearance import closest, rules
from mockup.clearance.directions import Directions, ways_of
from mockup.clearance.figures import least_between
from mockup.clearance.placed import Group, placed
from mockup.clearance.rules import WIRES, Encounter, Flats, Inside, Solids, Within
from mockup.memo import memoize
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure
from mockup.model.finding import Limit
from mockup.model.mesh import Floats, Ints
from mockup.model.units import Unit, is_enough

TOUCH_MM = 0.01  # less overlap than this is rounding
SURE_MM = 1.0  # deeper along every direction there is no gap to look for: many times what the directions may miss


@dataclass(frozen=True, kw_only=True)
class Margin:
    """A rule that is broken: `room_mm` is left between `parts`, or one part and `other`, less than `limit`.

    Room below 0 is how far they overlap: the least shift that parts the two pieces that are deepest in each other.
    Of two parts, where it matters, the first is the one whose knob or plug it is. With `is_near` the rule is kept, but
    not by as much as its wider limit, which is then `limit`.
    """

    rule: str
    parts: tuple[str, ...]
    other: str = ""
    room_mm: float
    limit: Limit
    is_near: bool = False

    @property
    def key(self) -> tuple[str, tuple[str, ...], str]:
        """What tells one margin from another, whatever the room."""
        is_mutual = self.rule not in rules.DIRECTED or self.other == rules.PLUG
        return self.rule, tuple(sorted(self.parts)) if is_mutual else self.parts, self.other

    @property
    def spare_mm(self) -> float:
        """The room beyond the limit; negative."""
        return self.room_mm - self.limit.value

    @property
    def is_overlap(self) -> bool:
        """Whether both claim the same place, by more than they touch."""
        return self.room_mm < -TOUCH_MM

    @property
    def is_touch(self) -> bool:
        """Whether nothing is left between them."""
        return self.room_mm < TOUCH_MM

    def is_told(self, units: Unit) -> bool:
        """Return whether the limit is missed by more than the layout's unit shows."""
        return not is_enough(self.room_mm, self.limit.value, units)


def broken(box: Enclosure, parts: Iterable[Placement], own: Mapping[str, float]) -> tuple[Margin, ...]:
    """Return every rule that parts break, with the box and with each other; `own` are the layout's own limits."""
    return tuple(each for each in _all(box, parts, own) if not each.is_near)


def near(box: Enclosure, parts: Iterable[Placement], own: Mapping[str, float]) -> tuple[Margin, ...]:
    """Return every rule that parts keep, but not by as much as its wider limit."""
    return tuple(each for each in _all(box, parts, own) if each.is_near)


def _all(box: Enclosure, parts: Iterable[Placement], own: Mapping[str, float]) -> Iterator[Margin]:
    given = tuple(parts)
    for part in given:
        yield from _alone(box, part, own)
    for first, second in combinations(given, 2):
        yield from between_parts(box, first, second, own)


def broken_by(
    box: Enclosure, part: Placement, others: Iterable[Placement], own: Mapping[str, float]
) -> Iterator[Margin]:
    """Yield every rule that one part breaks, with the box and with others, as it is found."""
    yield from (each for each in _alone(box, part, own) if not each.is_near)
    for other in others:
        yield from (each for each in between_parts(box, part, other, own) if not each.is_near)


@memoize
def _alone(box: Enclosure, part: Placement, own: Mapping[str, float]) -> tuple[Margin, ...]:
    here = placed(box, part, own)
    return tuple(each for meets in rules.alone(here) for each in _margins(meets, ways_of(box)))


@memoize
def between_parts(box: Enclosure, first: Placement, second: Placement, own: Mapping[str, float]) -> tuple[Margin, ...]:
    """Return every rule between two parts that is broken, or kept by little."""
    one, other = placed(box, first, own), placed(box, second, own)
    return tuple(each for meets in rules.between(one, other) for each in _margins(meets, ways_of(box)))


def _margins(meets: Encounter, directions: Directions) -> Iterator[Margin]:
    parts = tuple(each.part.name for each in meets.owners)
    for rule, other, room, limit in rooms(meets, directions):
        if room < limit.value:
            yield Margin(rule=rule, parts=parts, other=other, room_mm=room, limit=limit)
        elif room < math.inf and (wider := rules.wider(meets, limit)) is not None and room < wider.value:
            yield Margin(rule=rule, parts=parts, other=other, room_mm=room, limit=wider, is_near=True)


def rooms(meets: Encounter, directions: Directions) -> Iterator[tuple[str, str, float, Limit]]:
    """Yield (rule, other, room, limit) of an encounter; infinite room between pieces that surely keep the limit."""
    match meets:
        case Flats():
            yield meets.rule, meets.other, least_between(meets.first, meets.second), meets.limit
        case Within():
            room = min((meets.region.room(each) for each in meets.figures), default=math.inf)
            yield meets.rule, meets.other, room, meets.limit
        case Solids():
            close = near_pieces(meets.first, meets.second, directions, meets.told_mm)
            found = tuple(_tightest(meets, close, directions))
            yield from _by_limit(meets, [room for room, _ in found], [is_wire for _, is_wire in found], meets.other)
        case Inside():
            yield from _to_metal(meets)


def _tightest(meets: Solids, close: Iterable[Near], directions: Directions) -> Iterator[tuple[float, bool]]:
    """Yield the room of those pairs that may be the tightest, of all or of wires, and whether it is a wire's.

    A pair whose directions show as much room as one that was measured has at least that much in truth.
    """
    best = {True: math.inf, False: math.inf}
    for each in sorted(close, key=lambda pair: float(pair.rooms.max())):
        is_wire, least = _is_wire(meets, each), float(each.rooms.max())
        if least < min(best.values()) or (is_wire and least < best[True]):
            room = _exact(meets.first, meets.second, each, directions)
            best[is_wire] = min(best[is_wire], room)
            yield room, is_wire


def _to_metal(meets: Inside) -> Iterator[tuple[str, str, float, Limit]]:
    left = metal_rooms(meets)
    is_wire = meets.group.shape.pieces.are_terminals.astype(bool)
    for name in dict.fromkeys(meets.metal.names):
        own = [index for index, each in enumerate(meets.metal.names) if each == name]
        least = left[:, own].min(axis=1)
        yield from _by_limit(meets, least.tolist(), is_wire.tolist(), name)


def _by_limit(
    meets: Solids | Inside, gaps: list[float], is_wire: list[bool], other: str
) -> Iterator[tuple[str, str, float, Limit]]:
    yield meets.rule, other, min(gaps, default=math.inf), meets.limit
    if meets.wire is not None:
        wires = (room for room, each in zip(gaps, is_wire, strict=True) if each)
        yield WIRES, other, min(wires, default=math.inf), meets.wire


def metal_rooms(meets: Inside) -> Floats:
    """Return the room (pieces, pieces of metal) between a group and what stands in the way inside a box."""
    metal = meets.metal
    left = metal.bounds - metal.ways @ meets.group.at - meets.reach
    found: Floats = np.maximum.reduceat(left, metal.starts, axis=1)
    return found


@dataclass(frozen=True, kw_only=True, eq=False)
class Near:
    """Two pieces that are, or seem, closer than a limit: their numbers, and their room (d,) along each direction."""

    first: int
    second: int
    rooms: Floats


def near_pieces(first: Group, second: Group, directions: Directions, within_mm: float) -> list[Near]:
    """Return the pairs of pieces of two groups that no direction shows to be farther apart than `within_mm`."""
    shift = directions.ways @ (second.at - first.at)
    one, other = first.shape, second.shape
    if (shift - one.hull - other.hull[directions.opposite]).max() >= within_mm:
        return []
    back = other.reach[:, directions.opposite]
    few = directions.coarse
    least = (shift[few] - one.reach[:, None, few] - back[None, :, few]).max(axis=-1)
    found = []
    for index, there in np.argwhere(least < within_mm).tolist():
        rooms = shift - one.reach[index] - back[there]
        if rooms.max() < within_mm:
            found.append(Near(first=index, second=there, rooms=rooms))
    return found


def group_room(first: Group, second: Group, directions: Directions, within_mm: float) -> float:
    """Return the exact room between two groups of pieces, at most `within_mm`; negative by how deep they overlap."""
    close = near_pieces(first, second, directions, within_mm)
    return min((_exact(first, second, each, directions) for each in close), default=within_mm)


def _exact(first: Group, second: Group, pair: Near, directions: Directions) -> float:
    """Return the room of two near pieces: the exact gap, or how deep they overlap."""
    best = int(np.argmax(pair.rooms))
    if pair.rooms[best] < -SURE_MM:
        return float(pair.rooms[best])
    room, _ = closest.gap(first.piece(pair.first), second.piece(pair.second), directions.ways[best])
    return max(room, float(pair.rooms[best]))


def _is_wire(meets: Solids, pair: Near) -> bool:
    ends: tuple[Ints, Ints] = (meets.first.shape.pieces.are_terminals, meets.second.shape.pieces.are_terminals)
    return bool(ends[0][pair.first] or ends[1][pair.second])
