"""Where the tag of a picked part stands: beside it, on as little as can be of its neighbours and of the lettering."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

Box = tuple[float, float, float, float]
"""Left, top, right and low edge, pixels."""


def tag_place(
    part: Box, size: tuple[float, float], others: Iterable[Box], area: Box, gap: float
) -> tuple[float, float]:
    """Return the top left corner of a tag of a `size` beside a part.

    It stands over it where nothing is in the way, else at its right, its left or under it, whichever covers the least
    of `others`; what would reach out of the `area` that can be seen counts as covered.
    """
    there = tuple(others)

    def covered(at: tuple[float, float]) -> float:
        tag = (at[0], at[1], at[0] + size[0], at[1] + size[1])
        outside = size[0] * size[1] - _shared(tag, area)
        return round(outside + sum(_shared(tag, other) for other in there), 3)

    return min(_places(part, size, gap), key=covered)


def _places(part: Box, size: tuple[float, float], gap: float) -> Iterator[tuple[float, float]]:
    """Yield the places beside a part, the usual one first."""
    left, top, right, low = part
    x, y = (left + right - size[0]) / 2, (top + low - size[1]) / 2
    yield x, top - gap - size[1]
    yield right + gap, y
    yield left - gap - size[0], y
    yield x, low + gap


def _shared(one: Box, other: Box) -> float:
    wide = min(one[2], other[2]) - max(one[0], other[0])
    tall = min(one[3], other[3]) - max(one[1], other[1])
    return max(wide, 0.0) * max(tall, 0.0)
