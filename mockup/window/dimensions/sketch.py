"""What a measured drawing shows, as data: lines and holes in millimetres, and the dimensions that can be typed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
"""x to the right and y down, millimetres of the thing that is drawn."""

Style = Literal["outline", "thin", "picked", "dashed", "chain"]
Side = Literal["left", "right", "top", "bottom"]
Quantity = Literal["length", "angle", "number"]
_ROUND = 8  # corners of a rounded corner: by eye


@dataclass(frozen=True, kw_only=True)
class Stroke:
    """A line of the drawing through `points`; `style` says how it is drawn."""

    points: tuple[Point, ...]
    style: Style = "outline"
    is_closed: bool = False


@dataclass(frozen=True, kw_only=True)
class Hole:
    """A round hole; the picked one is filled."""

    at: Point
    radius_mm: float
    is_picked: bool = False


@dataclass(frozen=True, kw_only=True)
class Dimension:
    """A number that can be typed, and where it is measured on the drawing.

    `name` is what the field is called. The measured line runs from `start` to `end`; the field stands at `side` of
    the drawing. A line that runs towards its field is drawn where it is; one that runs past it, such as a height with
    its field on the left, is drawn beside the drawing. Without `start` and `end` the field stands at its side under
    `caption` alone. `value` is in millimetres or degrees; None reads "several". A kept number stands in the layout,
    one that follows is worked out from others. `least` and `most` bound what may be typed.
    """

    name: str
    side: Side
    value: float | None
    start: Point | None = None
    end: Point | None = None
    is_kept: bool = True
    quantity: Quantity = "length"
    caption: str = ""
    tip: str = ""
    least: float | None = None
    most: float | None = None

    @property
    def is_upright(self) -> bool:
        """True where the measured line runs up and down rather than across."""
        if self.start is None or self.end is None:
            return False
        return abs(self.end[1] - self.start[1]) > abs(self.end[0] - self.start[0])

    @property
    def is_beside(self) -> bool:
        """True where the measured line is drawn beside the drawing, because it runs past its field."""
        if self.start is None:
            return False
        return self.is_upright == (self.side in ("left", "right"))


@dataclass(frozen=True, kw_only=True)
class Sketch:
    """A drawing: its lines, its holes and its dimensions in the order of Tab."""

    strokes: tuple[Stroke, ...] = ()
    holes: tuple[Hole, ...] = ()
    dimensions: tuple[Dimension, ...] = ()

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """The drawing's own left, top, right and bottom; millimetres."""
        points = [point for stroke in self.strokes for point in stroke.points]
        for hole in self.holes:
            (x, y), r = hole.at, hole.radius_mm
            points += [(x - r, y - r), (x + r, y + r)]
        for each in self.dimensions:
            points += [end for end in (each.start, each.end) if end is not None]
        if not points:
            return 0.0, 0.0, 1.0, 1.0
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)


def rectangle(left: float, top: float, right: float, bottom: float, style: Style = "outline") -> Stroke:
    """Return a closed rectangle."""
    return Stroke(points=((left, top), (right, top), (right, bottom), (left, bottom)), style=style, is_closed=True)


def rounded(
    left: float, top: float, right: float, bottom: float, radius: float, style: Style = "outline"
) -> Stroke:  # fmt: skip
    """Return a closed rectangle with round corners."""
    low, high, first, last = bottom - radius, top + radius, left + radius, right - radius
    points = []
    for x, y, start in ((last, low, 0.0), (first, low, 90.0), (first, high, 180.0), (last, high, 270.0)):
        for step in range(_ROUND + 1):
            angle = math.radians(start + 90.0 * step / _ROUND)
            points.append((x + radius * math.cos(angle), y + radius * math.sin(angle)))
    return Stroke(points=tuple(points), style=style, is_closed=True)


def line(start: Point, end: Point, style: Style = "outline") -> Stroke:
    """Return a straight line."""
    return Stroke(points=(start, end), style=style)
