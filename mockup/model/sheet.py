"""Pages: marks in millimetres, in no file format's terms.

A page is measured from its top-left corner: x to the right, y down. Colours are encoded sRGB. Marks
are drawn in order, later ones over earlier.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mockup.model.material import Colour
from mockup.model.shape import Point
from mockup.model.units import MM_PER_INCH

Paper = Literal["a4", "letter"]
Anchor = Literal["start", "middle", "end"]

PAPERS: Mapping[Paper, tuple[float, float]] = {  # width and height in mm
    "a4": (210.0, 297.0),  # ISO 216
    "letter": (8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH),  # ASME Y14.1, size A
}
HAIRLINE_MM = 0.25  # thinnest line that every printer draws whole: common practice, no source
INK: Colour = (0.0, 0.0, 0.0)


@dataclass(frozen=True, kw_only=True)
class Line:
    """A straight line from (`x1_mm`, `y1_mm`) to (`x2_mm`, `y2_mm`); `dash_mm` is (mark, gap), None for none."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float
    line_mm: float = HAIRLINE_MM
    colour: Colour = INK
    dash_mm: tuple[float, float] | None = None


@dataclass(frozen=True, kw_only=True)
class Rectangle:
    """An upright rectangle by its top-left corner; `fill` and `stroke` are colours or None for neither.

    Its stroke, `line_mm` wide, lies half inside and half outside.
    """

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    fill: Colour | None = None
    stroke: Colour | None = None
    line_mm: float = HAIRLINE_MM
    dash_mm: tuple[float, float] | None = None


@dataclass(frozen=True, kw_only=True)
class Circle:
    """A circle about (`x_mm`, `y_mm`), filled and stroked as a rectangle is."""

    x_mm: float
    y_mm: float
    radius_mm: float
    fill: Colour | None = None
    stroke: Colour | None = None
    line_mm: float = HAIRLINE_MM


@dataclass(frozen=True, kw_only=True)
class Path:
    """Straight lines and arcs through `points`, filled and stroked as a rectangle is.

    `bulges`, none or one per point, bend the line that leaves that point: the tangent of a quarter of
    the arc's angle, above 0 where it turns clockwise as seen on the page. 0 is straight, 1 half a circle.
    """

    points: tuple[Point, ...]
    bulges: tuple[float, ...] = ()
    is_closed: bool = True
    fill: Colour | None = None
    stroke: Colour | None = None
    line_mm: float = HAIRLINE_MM
    dash_mm: tuple[float, float] | None = None

    def steps(self) -> Iterator[tuple[Point, Point, float]]:
        """Yield (from, to, bulge) of every line and arc, the one that closes the path last."""
        bulges = self.bulges or (0.0,) * len(self.points)
        following = (*self.points[1:], self.points[0])
        steps = list(zip(self.points, following, bulges, strict=True))
        yield from steps if self.is_closed else steps[:-1]


@dataclass(frozen=True, kw_only=True)
class Text:
    """One line of text on the baseline that starts (or has its middle or end) at (`x_mm`, `y_mm`).

    `size_mm` is the size of the face, its em; capitals stand about 0.72 of it high.
    """

    x_mm: float
    y_mm: float
    text: str
    size_mm: float
    anchor: Anchor = "start"
    is_bold: bool = False
    colour: Colour = INK


@dataclass(frozen=True, kw_only=True, eq=False)
class Image:
    """A picture, `pixels` (h, w, 3) uint8 encoded sRGB, stretched over a rectangle.

    With a `separation` it is a colour of the press by that name: black is all of it, white none. What cannot hold one
    draws the picture as it is.
    """

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    pixels: NDArray[np.uint8]
    separation: str = ""


@dataclass(frozen=True, kw_only=True, eq=False)
class Clip:
    """A window, an upright rectangle by its top-left corner: of `marks` only what lies inside shows."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


Mark = Line | Rectangle | Circle | Path | Text | Image | Clip


@dataclass(frozen=True, kw_only=True, eq=False)
class Layer:
    """Marks that a cutter takes, or leaves, together: a name, a line about them, a colour to tell them by."""

    name: str
    colour: Literal["black", "red", "blue"]
    marks: tuple[Mark, ...]
    about: str = ""


@dataclass(frozen=True, kw_only=True, eq=False)
class Page:
    """One page, `width_mm` by `height_mm`, printed at true size. `title` names the document.

    `stretch` is by how much all of it is drawn longer, across and down, so that it comes out true on a
    printer that does not print true to size.
    """

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    title: str = ""
    stretch: tuple[float, float] = (1.0, 1.0)

    @property
    def paper_mm(self) -> tuple[float, float]:
        """Width and height of the sheet of paper."""
        return self.width_mm * self.stretch[0], self.height_mm * self.stretch[1]


def ways(paper_mm: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    """Return how pages of a paper may lie: upright paper either way, upright first; wider paper lies across."""
    width, height = paper_mm
    return ((width, height),) if width >= height else ((width, height), (height, width))


def moved(mark: Mark, x_mm: float, y_mm: float) -> Mark:
    """Return a mark shifted on its page."""
    if isinstance(mark, Line):
        return replace(
            mark, x1_mm=mark.x1_mm + x_mm, x2_mm=mark.x2_mm + x_mm, y1_mm=mark.y1_mm + y_mm, y2_mm=mark.y2_mm + y_mm
        )
    if isinstance(mark, Path):
        return replace(mark, points=tuple((x + x_mm, y + y_mm) for x, y in mark.points))
    if isinstance(mark, Clip):
        inner = tuple(moved(each, x_mm, y_mm) for each in mark.marks)
        return replace(mark, x_mm=mark.x_mm + x_mm, y_mm=mark.y_mm + y_mm, marks=inner)
    kept: Rectangle | Circle | Text | Image = mark
    return replace(kept, x_mm=kept.x_mm + x_mm, y_mm=kept.y_mm + y_mm)
