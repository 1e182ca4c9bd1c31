"""A row of the top with its places: evenly spaced about the middle, pinned controls where they are pinned."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from mockup.arrange.layouts.rows import Names

LEAST_SHARE, MOST_SHARE = 0.55, 1.8  # of its usual spacing to which pinned controls may bring a row: our choice
SAME_MM = 0.3  # a pinned control so close to a slot of its row stands in it
EDGE_MM = 7.0  # from the side of the face to the middle of an outer control, at least


@dataclass(frozen=True, kw_only=True)
class Row:
    """A row of names on the top: its height, the distance of neighbours, how far right of the middle it stands."""

    names: Names
    v_mm: float
    apart_mm: float
    shift_mm: float = 0.0

    @property
    def is_aside(self) -> bool:
        """Whether it does not stand about the middle."""
        return abs(self.shift_mm) > SAME_MM

    def off_mm(self, index: int) -> float:
        """Return how far right of the middle of the face one of its controls stands."""
        return self.shift_mm + (index - (len(self.names) - 1) / 2) * self.apart_mm


def pinned_row(row: Row, pins: Mapping[str, tuple[float, float]], half_mm: float) -> Row:
    """Return a row lined up with those of its controls that are pinned; as it is without any.

    `pins` says how far right of the middle and how far down each stands, `half_mm` is half the width of the face.
    Mirrored about the middle where that can be, else evenly spaced on from a pinned control.
    """
    held = {name: pins[name] for name in row.names if name in pins}
    if not held:
        return row
    v_mm = next(iter(held.values()))[1]
    tries = [*_mirrored(row, held), *_on_from(row, held)]
    fitting = [
        each for each in tries if max(abs(each.off_mm(0)), abs(each.off_mm(-1 % len(each.names)))) <= half_mm - EDGE_MM
    ]
    best = min(fitting, key=lambda each: (abs(each.shift_mm) > 0, _strain(each, row)), default=row)
    return Row(names=best.names, v_mm=v_mm, apart_mm=best.apart_mm, shift_mm=best.shift_mm)


def _mirrored(row: Row, held: Mapping[str, tuple[float, float]]) -> list[Row]:
    """Return the ways in which a row is mirrored about the middle and holds its pinned controls."""
    count = len(row.names)
    spacings = [row.apart_mm]
    for off, _ in held.values():
        steps = [index - (count - 1) / 2 for index in range(count)]
        spacings += [off / step for step in steps if step and off / step > 0]
    return [
        placed
        for apart in spacings
        if LEAST_SHARE * row.apart_mm <= apart <= MOST_SHARE * row.apart_mm
        and (placed := _with(row, held, apart, 0.0)) is not None
    ]


def _on_from(row: Row, held: Mapping[str, tuple[float, float]]) -> list[Row]:
    """Return the ways in which a row goes on from one pinned control, at the usual spacing."""
    count = len(row.names)
    found = []
    for off, _ in held.values():
        for index in range(count):
            placed = _with(row, held, row.apart_mm, off - (index - (count - 1) / 2) * row.apart_mm)
            found += [placed] if placed is not None else []
    return found


def _with(row: Row, held: Mapping[str, tuple[float, float]], apart_mm: float, shift_mm: float) -> Row | None:
    """Return a row so spaced, its pinned controls in the slots where they stand; None where one stands in none."""
    bare = Row(names=row.names, v_mm=row.v_mm, apart_mm=apart_mm, shift_mm=shift_mm)
    slots: dict[int, str] = {}
    for name, (off, _) in held.items():
        index = next((at for at in range(len(row.names)) if abs(bare.off_mm(at) - off) <= SAME_MM), None)
        if index is None or index in slots:
            return None
        slots[index] = name
    free = iter(name for name in row.names if name not in held)
    names = tuple(slots.get(index) or next(free) for index in range(len(row.names)))
    return Row(names=names, v_mm=row.v_mm, apart_mm=apart_mm, shift_mm=shift_mm)


def _strain(row: Row, usual: Row) -> float:
    return abs(row.apart_mm - usual.apart_mm) + abs(row.shift_mm)
