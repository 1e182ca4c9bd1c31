"""Flat outlines: exact measures, and polygons that keep the true normals of round parts.

Polygon corners lie on the true curve, so a polygon never leaves its outline; the sagitta between
two corners is at most the chord error.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mockup.model.mesh import Floats
from mockup.model.shape import Outline, Point

CHORD_MM = 0.02  # default chord error, a third of a pixel at 16 px/mm: common practice, no source
FINE_CHORD_MM = 0.005  # hardware, seen close up: 100 steps round a 20 mm knob: common practice, no source
LEAST_STEPS = 24  # steps of a full circle, however small: common practice, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class Contour:
    """A closed polygon, counter-clockwise, with the outline's own normals.

    `points` (n, 2) millimetres; edge i runs from point i to point i + 1 (the last one closes the
    ring); `starts` and `ends` (n, 2) are the outline's unit normals at the two ends of each edge,
    so that a corner is smooth where `ends[i - 1]` equals `starts[i]` and crisp elsewhere.
    """

    points: Floats
    starts: Floats
    ends: Floats


def outline_problem(outline: Outline) -> str | None:
    """Return what makes an outline impossible, one plain sentence without full stop, or None."""
    kind, width, height, corner = outline.kind, outline.width_mm, outline.height_mm, outline.corner_mm
    if not all(math.isfinite(value) for value in (width, height, corner)):
        return f"a {kind} needs finite sizes"
    if width <= 0:
        return f"a {kind} needs a size above 0 mm, found {width:g} mm"
    if kind in ("rectangle", "slot", "d") and height <= 0:
        return f"a {kind} needs a height above 0 mm, found {height:g} mm"
    if kind == "rectangle" and not 0 <= corner <= min(width, height) / 2:
        return f"a corner radius must lie between 0 and half the shorter side, found {corner:g} mm"
    if kind == "slot" and height > width:
        return f"a slot is at least as long as it is wide, found {width:g} by {height:g} mm"
    if kind == "d" and height >= width:
        return f"the height over the flat of a D must be less than its diameter, found {height:g} of {width:g} mm"
    return None


def axes(rotation_deg: float) -> Floats:
    """Return right and down of what is turned clockwise on a face, as rows (2, 2) in face (u, v)."""
    turn = math.radians(rotation_deg)
    return np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])


def box_on_face(size: tuple[float, float], at: Point, rotation_deg: float = 0.0) -> Floats:
    """Return the corners (4, 2) of a box on a face, in face (u, v), its middle `at`; u to v is counter-clockwise."""
    return np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]]) * size @ axes(rotation_deg) + at


def off_middle(at: Point, middle: Point, rotation_deg: float) -> Point:
    """Return how far right and down of the middle of what is turned on a face a place (u, v) lies, as it lies."""
    right, down = (axes(rotation_deg) @ np.subtract(at, middle)).tolist()
    return right, down


def on_face(points: ArrayLike, at: Point, rotation_deg: float) -> Floats:
    """Return points (..., 2) of a part frame, x right and y up, in face (u, v): its origin `at`, turned clockwise."""
    return np.asarray(points) * (1.0, -1.0) @ axes(rotation_deg) + at


def arc_steps(radius_mm: float, angle_rad: float, chord_mm: float = CHORD_MM) -> int:
    """Return into how many equal steps an arc must be cut to keep the chord error; at least 1."""
    if chord_mm <= 0:
        raise ValueError(f"the chord error must be above 0 mm, found {chord_mm:g}")
    least = LEAST_STEPS * abs(angle_rad) / (2 * math.pi)
    if radius_mm > chord_mm:
        least = max(least, abs(angle_rad) / (2 * math.acos(1 - chord_mm / radius_mm)))
    return max(1, math.ceil(least - 1e-9))


def steps_for(outline: Outline, chord_mm: float = CHORD_MM) -> int:
    """Return the steps of each arc of an outline; 0 where it has none. A circle gets a multiple of 4."""
    radius, angle = _arc(outline)
    if radius == 0:
        return 0
    steps = arc_steps(radius, angle, chord_mm)
    return 4 * math.ceil(steps / 4) if outline.kind == "circle" else steps


def contour(outline: Outline, chord_mm: float = CHORD_MM, *, steps: int | None = None) -> Contour:
    """Return an outline as a contour about its own centre.

    `steps` sets the number of steps per arc instead of `chord_mm`; two outlines of one kind with
    equal steps have matching points. Raises `ValueError` where the outline is impossible.
    """
    problem = outline_problem(outline)
    if problem is not None:
        raise ValueError(problem)
    count = steps_for(outline, chord_mm) if steps is None else steps
    if outline.kind == "circle":
        ring = directions(0.0, 2 * math.pi, count)[:-1]
        return Contour(points=ring * outline.width_mm / 2, starts=ring, ends=np.roll(ring, -1, axis=0))
    points: list[Floats] = []
    normals: list[Floats] = []
    is_first: list[bool] = []
    for centre, radius, start, end in _arcs(outline):
        around = directions(start, end, count) if count else directions((start + end) / 2, 0.0, 0)
        points.append(np.asarray(centre) + radius * around)
        normals.append(around)
        is_first.extend([True] + [False] * (len(around) - 1))
    return _linked(np.concatenate(points), np.concatenate(normals), np.array(is_first), keep_all=steps is not None)


def polygon(outline: Outline, chord_mm: float = CHORD_MM) -> Floats:
    """Return an outline as an (n, 2) counter-clockwise polygon about its own centre, millimetres."""
    return contour(outline, chord_mm).points


def inset(outline: Outline, by_mm: float) -> Outline:
    """Return the outline of the same kind whose sides lie `by_mm` further in.

    Raises `ValueError` where nothing is left.
    """
    sizes = {"width_mm": outline.width_mm - 2 * by_mm}
    if outline.kind in ("rectangle", "slot", "d"):
        sizes["height_mm"] = outline.height_mm - 2 * by_mm
    if outline.kind == "rectangle":
        sizes["corner_mm"] = max(0.0, outline.corner_mm - by_mm)
    if min(sizes["width_mm"], sizes.get("height_mm", 1.0)) <= 0:
        raise ValueError(f"nothing is left of a {outline.kind} inset by {by_mm:g} mm")
    return Outline(kind=outline.kind, **sizes)


def area(outline: Outline) -> float:
    """Return the exact area inside an outline, square millimetres."""
    width, height, radius = outline.width_mm, outline.height_mm, outline.width_mm / 2
    if outline.kind == "circle":
        return math.pi * radius**2
    if outline.kind == "hexagon":
        return math.sqrt(3) / 2 * width**2
    if outline.kind == "rectangle":
        return width * height - (4 - math.pi) * outline.corner_mm**2
    if outline.kind == "slot":
        return (width - height) * height + math.pi * height**2 / 4
    flat = height - radius
    return math.pi * radius**2 - (radius**2 * math.acos(flat / radius) - flat * math.sqrt(radius**2 - flat**2))


def bounds(outline: Outline) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of an outline about its own centre, y up, millimetres."""
    half = outline.width_mm / 2
    if outline.kind == "circle":
        return -half, -half, half, half
    if outline.kind == "hexagon":
        corner = outline.width_mm / math.sqrt(3)
        return -half, -corner, half, corner
    if outline.kind == "d":
        flat = outline.height_mm - half
        side = half if flat >= 0 else math.sqrt(half**2 - flat**2)
        return -side, -half, side, flat
    return -half, -outline.height_mm / 2, half, outline.height_mm / 2


def reach(outline: Outline) -> float:
    """Return the distance from an outline's centre to its farthest point, millimetres."""
    half = outline.width_mm / 2
    if outline.kind == "hexagon":
        return outline.width_mm / math.sqrt(3)
    if outline.kind == "rectangle":
        radius = outline.corner_mm
        return math.hypot(half - radius, outline.height_mm / 2 - radius) + radius
    return half


def distance_inside_rounded_rectangle(points: Floats, width_mm: float, height_mm: float, corner_mm: float) -> Floats:
    """Return how far (..., 2) points lie inside a rounded rectangle about the origin.

    Exact distance to the nearest edge in millimetres, shape (...); negative outside.
    """
    beyond = np.abs(np.asarray(points, dtype=np.float64)) - (width_mm / 2 - corner_mm, height_mm / 2 - corner_mm)
    outside = np.linalg.norm(np.maximum(beyond, 0.0), axis=-1)
    return np.asarray(corner_mm - outside - np.minimum(beyond.max(axis=-1), 0.0))


def directions(start_rad: float, end_rad: float, steps: int) -> Floats:
    """Return (steps + 1, 2) unit vectors in equal steps; multiples of 90 degrees are exact."""
    angles = np.linspace(start_rad, end_rad, steps + 1) if steps else np.array([start_rad])
    vectors = np.stack([np.cos(angles), np.sin(angles)], axis=-1)
    vectors[np.abs(vectors) < 1e-15] = 0.0
    return vectors


def _arc(outline: Outline) -> tuple[float, float]:
    if outline.kind == "hexagon":
        return 0.0, 0.0
    if outline.kind == "rectangle":
        return outline.corner_mm, math.pi / 2
    if outline.kind == "slot":
        return outline.height_mm / 2, math.pi
    if outline.kind == "d":
        radius = outline.width_mm / 2
        return radius, math.pi + 2 * math.asin((outline.height_mm - radius) / radius)
    return outline.width_mm / 2, 2 * math.pi


def _arcs(outline: Outline) -> list[tuple[tuple[float, float], float, float, float]]:
    """Return (centre, radius, start, end) of each arc, counter-clockwise; straight lines link them."""
    quarter = math.pi / 2
    if outline.kind == "hexagon":
        corner = outline.width_mm / math.sqrt(3)
        third = math.pi / 3
        return [((0.0, 0.0), corner, (q + 0.5) * third, (q + 0.5) * third) for q in range(6)]
    if outline.kind == "rectangle":
        radius = outline.corner_mm
        a, b = outline.width_mm / 2 - radius, outline.height_mm / 2 - radius
        centres = ((a, b), (-a, b), (-a, -b), (a, -b))
        return [(centre, radius, q * quarter, (q + 1) * quarter) for q, centre in enumerate(centres)]
    if outline.kind == "slot":
        radius = outline.height_mm / 2
        a = outline.width_mm / 2 - radius
        return [((a, 0.0), radius, -quarter, quarter), ((-a, 0.0), radius, quarter, 3 * quarter)]
    radius, angle = _arc(outline)
    lean = (angle - math.pi) / 2
    return [((0.0, 0.0), radius, math.pi - lean, 2 * math.pi + lean)]


def _linked(points: Floats, normals: Floats, is_arc_start: NDArray[np.bool_], *, keep_all: bool) -> Contour:
    """Close arcs with straight lines; a line's normal is its own.

    A line of no length (a slot as long as wide) is dropped, unless `keep_all` asks for matching points.
    """
    along = np.roll(points, -1, axis=0) - points
    lengths = np.linalg.norm(along, axis=1)
    is_line = np.roll(is_arc_start, -1)
    has_length = lengths > 1e-12
    across = np.stack([along[:, 1], -along[:, 0]], axis=1) / np.where(has_length, lengths, 1.0)[:, None]
    is_own = (is_line & has_length)[:, None]
    starts = np.where(is_own, across, normals)
    ends = np.where(is_own, across, np.roll(normals, -1, axis=0))
    keep = np.full(len(points), True) if keep_all else ~is_line | has_length
    return Contour(points=points[keep], starts=starts[keep], ends=ends[keep])
