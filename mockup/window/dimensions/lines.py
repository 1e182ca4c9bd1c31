"""Lines over the picture and on drawings: cut into dashes, cased in black, with end ticks."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence

from imgui_bundle import imgui

Point = tuple[float, float]
DASHED = (5.0, 4.0)
CHAIN = (14.0, 4.0, 3.0, 4.0)
"""Lengths of dash and gap in turn, units: by eye."""


def dashes(points: Sequence[Point], pattern: Sequence[float], *, is_closed: bool = False) -> list[tuple[Point, ...]]:
    """Return the pieces of a line that a pattern of dash and gap leaves, each with the corners inside it."""
    corners = [*points, points[0]] if is_closed and points else list(points)
    lengths = itertools.cycle(pattern)
    left, is_drawn = next(lengths), True
    pieces: list[tuple[Point, ...]] = []
    piece: list[Point] = corners[:1]
    for start, end in itertools.pairwise(corners):
        length, done = math.dist(start, end), 0.0
        while length - done > left:
            done += left
            share = done / length
            cut = (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
            if is_drawn:
                pieces.append((*piece, cut))
            piece, is_drawn, left = [cut], not is_drawn, next(lengths)
        left -= length - done
        piece.append(end)
    if is_drawn and len(piece) > 1:
        pieces.append(tuple(piece))
    return pieces


def draw(
    canvas: imgui.ImDrawList,
    pieces: Iterable[Sequence[Point]],
    colour: int,
    thick: float,
    *,
    casing: int | None = None,
    case: float = 1.0,
) -> None:
    """Draw lines; with a casing, first all of it and then all lines, so that crossings stay clean."""
    lines = [[(float(x), float(y)) for x, y in piece] for piece in pieces]
    passes = ((casing, thick + 2 * case), (colour, thick)) if casing is not None else ((colour, thick),)
    for code, width in passes:
        for line in lines:
            canvas.add_polyline([*line], code, width, 0)


def ticks(start: Point, end: Point, length: float) -> list[tuple[Point, Point]]:
    """Return the ticks across both ends of a dimension line."""
    span = math.dist(start, end)
    if span < 1e-6:
        return []
    nx, ny = -(end[1] - start[1]) / span * length / 2, (end[0] - start[0]) / span * length / 2
    return [((x - nx, y - ny), (x + nx, y + ny)) for x, y in (start, end)]
