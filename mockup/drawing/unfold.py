"""The box laid out flat: every face turned into the plane of the top, with room for the bends.

Plane coordinates are those of a page: x right, y down, millimetres, from the top-left corner of the
top face's sharp outline.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from mockup.geometry.planar import on_face
from mockup.model.enclosure import Enclosure, Face, FaceName
from mockup.model.shape import Outline, Point
from mockup.model.sheet import Path

_QUARTERS: Mapping[int, tuple[int, int]] = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}  # (cos, sin)


@dataclass(frozen=True, kw_only=True)
class Panel:
    """One face in the plane: turned clockwise by `turn_deg`, its (u, v) = (0, 0) at (`x_mm`, `y_mm`)."""

    face: Face
    x_mm: float = 0.0
    y_mm: float = 0.0
    turn_deg: int = 0

    def at(self, u_mm: float, v_mm: float) -> Point:
        """Return where a point of the face lies in the plane."""
        x, y = self.direction(u_mm, v_mm)
        return self.x_mm + x, self.y_mm + y

    def direction(self, u_mm: float, v_mm: float) -> Point:
        """Return a direction on the face as one in the plane."""
        cos, sin = _QUARTERS[self.turn_deg]
        return cos * u_mm - sin * v_mm, sin * u_mm + cos * v_mm

    def corners(self, from_mm: float = 0.0) -> tuple[Point, Point, Point, Point]:
        """Return the face's sharp outline, clockwise from its top left; `from_mm` leaves out what lies above."""
        face, low = self.face, self.face.height_mm
        return (
            self.at(face.left_edge(from_mm), from_mm),
            self.at(face.right_edge(from_mm), from_mm),
            self.at(face.right_edge(low), low),
            self.at(face.left_edge(low), low),
        )


def bend_mm(box: Enclosure) -> float:
    """Return the length of the rounded top edge from flat to flat: what paper needs to go round it."""
    return box.edge_mm * math.radians(90.0 - box.draft_deg)


def wrap_mm(box: Enclosure) -> float:
    """Return by how much paper round the rounded edge is shorter than the two faces up to the sharp edge."""
    return 2 * box.flat_inset_mm - bend_mm(box)


def unfolded(box: Enclosure, faces: Mapping[FaceName, Face], names: Sequence[FaceName]) -> dict[FaceName, Panel]:
    """Return the named faces laid out round the top, drawn in by the wrap allowance.

    A sheet cut out of this and bent over the rounded edges puts every hole of a side in its place.
    """
    top, wrap = faces["top"], wrap_mm(box)
    places: dict[FaceName, tuple[float, float, int]] = {
        "top": (0.0, 0.0, 0),
        "near": (0.0, top.height_mm - wrap, 0),
        "far": (top.width_mm, wrap, 180),
        "left": (wrap, 0.0, 90),
        "right": (top.width_mm - wrap, top.height_mm, 270),
        "lid": (  # as it swings out from the right side
            top.width_mm - wrap + faces["right"].height_mm,
            (top.height_mm - faces["lid"].height_mm) / 2,
            0,
        ),
    }
    return {
        name: Panel(face=faces[name], x_mm=x, y_mm=y, turn_deg=turn)
        for name, (x, y, turn) in places.items()
        if name in names
    }


def placed(outline: Outline, at: Point, turn_deg: float) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """Return the points and bulges (see `Path`) of a hole's outline, turned clockwise about its centre.

    Raises `ValueError` for a circle, which is drawn as one.
    """
    corners, bulges = zip(*_around(outline), strict=True)
    return tuple(turned(each, at, turn_deg) for each in corners), bulges


def turned(point: Point, at: Point, turn_deg: float) -> Point:
    """Return a point of a hole's own frame (y up) in the plane, the hole turned clockwise about its centre `at`."""
    x, y = on_face(point, at, turn_deg).tolist()
    return x, y


def closed_path(points: Sequence[Point], line_mm: float, dash_mm: tuple[float, float] | None = None) -> Path:
    """Return a closed black line through points."""
    return Path(points=tuple(points), stroke=(0.0, 0.0, 0.0), line_mm=line_mm, dash_mm=dash_mm)


def _around(outline: Outline) -> Iterator[tuple[Point, float]]:
    """Yield (corner, bulge of the line that leaves it), clockwise as seen, y up."""
    half, tall = outline.width_mm / 2, outline.height_mm / 2
    if outline.kind == "hexagon":
        for sixth in range(6):
            angle = math.radians(90.0 - 60.0 * sixth)
            yield (half / math.cos(math.pi / 6) * math.cos(angle), half / math.cos(math.pi / 6) * math.sin(angle)), 0.0
    elif outline.kind == "slot":
        reach = half - tall
        yield from (((-reach, tall), 0.0), ((reach, tall), 1.0), ((reach, -tall), 0.0), ((-reach, -tall), 1.0))
    elif outline.kind == "rectangle":
        r = outline.corner_mm
        if r == 0:
            yield from (((-half, tall), 0.0), ((half, tall), 0.0), ((half, -tall), 0.0), ((-half, -tall), 0.0))
            return
        bend = math.tan(math.pi / 8)
        for x, y, along in (
            (half, tall, (1, 0)),
            (half, -tall, (0, -1)),
            (-half, -tall, (-1, 0)),
            (-half, tall, (0, 1)),
        ):
            before = (x - r * along[0], y - r * along[1])
            yield before, bend
            yield (x + r * along[1], y - r * along[0]), 0.0
    elif outline.kind == "d":
        flat = outline.height_mm - half  # of the flat above the centre
        reach = math.sqrt(max(0.0, half * half - flat * flat))
        angle = 2 * math.pi - 2 * math.acos(max(-1.0, min(1.0, flat / half)))
        yield from (((-reach, flat), 0.0), ((reach, flat), math.tan(angle / 4)))
    else:
        raise ValueError("a circle is drawn as one")
