"""Marks in the picture's margin: each on the height of its ring, apart from each other, no two leaders crossing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]
_MOST_SWAPS = 400


@dataclass(frozen=True, kw_only=True)
class MarginMark:
    """A mark in the margin: which ring it belongs to, and where its middle is."""

    ring: int
    at: Point


def margin_marks(
    rings: Sequence[Point], area: tuple[float, float, float, float], body: tuple[float, float], apart: float
) -> tuple[MarginMark, ...]:
    """Return a mark for each ring, in order of rings.

    `area` is the picture (left, top, right, low) that marks may stand in, `body` the left and right edge of the pedal
    in it. Marks of a side stand `apart` from each other, as near to the height of their rings as that allows.
    """
    middle = (body[0] + body[1]) / 2
    columns = _columns(area, body, apart)
    sides: tuple[list[int], list[int]] = ([], [])
    for ring, (x, _) in enumerate(rings):
        sides[x >= middle].append(ring)
    room = max(int((area[3] - area[1] - apart) // apart) + 1, 1)
    _shared(sides, room)
    found: dict[int, Point] = {}
    for side, x in zip(sides, columns, strict=True):
        side.sort(key=lambda ring: rings[ring][1])
        heights = _spread([rings[ring][1] for ring in side], area[1] + apart / 2, area[3] - apart / 2, apart)
        for ring, y in _uncrossed(side, heights, x, rings):
            found[ring] = (x, y)
    return tuple(MarginMark(ring=ring, at=found[ring]) for ring in range(len(rings)))


def _columns(area: tuple[float, float, float, float], body: tuple[float, float], apart: float) -> Point:
    """Return where the marks of the left and of the right side stand: half-way between pedal and edge, if there is
    room."""
    left = max((area[0] + body[0]) / 2, area[0] + apart / 2)
    right = min((area[2] + body[1]) / 2, area[2] - apart / 2)
    return left, right


def _shared(sides: tuple[list[int], list[int]], room: int) -> None:
    """Move marks to the other side where one is too full."""
    for full, other in (sides, sides[::-1]):
        while len(full) > room and len(other) < room:
            other.append(full.pop())


def _spread(heights: Sequence[float], low: float, high: float, apart: float) -> list[float]:
    """Return sorted heights pushed `apart`, between `low` and `high` where all have room there."""
    if not heights:
        return []
    step = min(apart, (high - low) / max(len(heights) - 1, 1))
    placed: list[float] = []
    for wanted in heights:
        placed.append(max(wanted, placed[-1] + step) if placed else max(wanted, low))
    over = placed[-1] - high
    if over > 0:
        placed[-1] -= over
        for index in range(len(placed) - 2, -1, -1):
            placed[index] = min(placed[index], placed[index + 1] - step)
    return placed


def _uncrossed(
    side: Sequence[int], heights: Sequence[float], x: float, rings: Sequence[Point]
) -> list[tuple[int, float]]:
    """Return rings with their heights, changed over until no two leaders cross; each change makes them shorter."""
    order = list(side)
    for _ in range(_MOST_SWAPS):
        pairs = [(i, j) for i in range(len(order)) for j in range(i + 1, len(order))]
        crossing = next(
            (
                (i, j)
                for i, j in pairs
                if is_crossing(rings[order[i]], (x, heights[i]), rings[order[j]], (x, heights[j]))
            ),
            None,
        )
        if crossing is None:
            break
        i, j = crossing
        order[i], order[j] = order[j], order[i]
    return list(zip(order, heights, strict=True))


def is_crossing(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Return whether the line from `a` to `b` crosses the one from `c` to `d`; touching ends do not count."""

    def turn(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0
