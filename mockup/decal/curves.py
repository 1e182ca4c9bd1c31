"""Closed outlines as curves: moved, measured exactly, written as SVG."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mockup.geometry.planar import axes
from mockup.model.mesh import Floats

Box = tuple[float, float, float, float]
"""Left, top, right, bottom in millimetres."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Curves:
    """Closed contours of cubic Beziers: `points` (n, 4, 2) in millimetres, x right and y down.

    `starts` lists the first curve of every contour; each curve begins where the one before ends.
    """

    points: Floats
    starts: tuple[int, ...]

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to draw."""
        return len(self.points) == 0


def placed(curves: Curves, u_mm: float, v_mm: float, rotation_deg: float = 0.0) -> Curves:
    """Return curves turned clockwise about their origin, which is then moved to (u, v)."""
    return Curves(points=curves.points @ axes(rotation_deg) + (u_mm, v_mm), starts=curves.starts)


def bounds(curves: Curves) -> Box:
    """Return the exact box round curves that are not empty: ends, and where a coordinate stands still."""
    start, one, two, end = np.moveaxis(curves.points, 1, 0)
    a, b, c = end - start + 3.0 * (one - two), 2.0 * (start - 2.0 * one + two), one - start
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        root = np.sqrt(np.maximum(b * b - 4.0 * a * c, 0.0))
        far = -0.5 * (b + np.where(b < 0.0, -root, root))  # the stable pair of solutions: nothing cancels
        times = np.stack([far / a, c / far])
    times = np.where((times > 0.0) & (times < 1.0), times, 0.0)  # also where there is no solution
    back = 1.0 - times
    inner = start * back**3 + 3.0 * one * back**2 * times + 3.0 * two * back * times**2 + end * times**3
    reached = np.concatenate([start, end, *inner])
    (left, top), (right, bottom) = reached.min(axis=0).tolist(), reached.max(axis=0).tolist()
    return left, top, right, bottom


def polygons(curves: Curves, steps: int = 8) -> tuple[Floats, ...]:
    """Return every contour as a polygon (n, 2), each curve as so many chords."""
    times = (np.arange(steps) / steps)[None, :, None]
    back = 1.0 - times
    start, one, two, end = (curves.points[:, i, None, :] for i in range(4))
    points = start * back**3 + 3.0 * one * back**2 * times + 3.0 * two * back * times**2 + end * times**3
    ends = (*curves.starts, len(curves.points))[1:]
    return tuple(points[a:b].reshape(-1, 2) for a, b in zip(curves.starts, ends, strict=True))


def path(curves: Curves) -> str:
    """Return SVG path data, in millimetres to five decimals."""
    ends = (*curves.starts, len(curves.points))[1:]
    contours = []
    for first, last in zip(curves.starts, ends, strict=True):
        pieces = curves.points[first:last]
        steps = "".join(f"C{_pair(one)} {_pair(two)} {_pair(end)}" for _, one, two, end in pieces.tolist())
        contours.append(f"M{_pair(pieces[0, 0].tolist())}{steps}Z")
    return "".join(contours)


def _pair(point: list[float]) -> str:
    return f"{point[0]:.5f} {point[1]:.5f}"
