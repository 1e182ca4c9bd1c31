"""Where two figures on a face come closest to each other."""

from __future__ import annotations

import numpy as np

from mockup.checks.panel.plan import Figure
from mockup.model.mesh import Floats

Point = tuple[float, float]


def nearest(first: Figure, second: Figure) -> tuple[Point, Point] | None:
    """Return the points (u, v) of two figures that lie closest to each other; None where their cores overlap."""
    one, two = _core_points(first.core, second.core)
    far = float(np.linalg.norm(two - one))
    if far < 1e-9:
        return None
    way = (two - one) / far
    a, b = one + way * first.radius_mm, two - way * second.radius_mm
    return (float(a[0]), float(a[1])), (float(b[0]), float(b[1]))


def _core_points(first: Floats, second: Floats) -> tuple[Floats, Floats]:
    """Return the closest points of two convex polygons that do not overlap."""
    one, two, there = _to_ring(first, second)
    four, three, back = _to_ring(second, first)
    return (one, two) if there <= back else (three, four)


def _to_ring(points: Floats, ring: Floats) -> tuple[Floats, Floats, float]:
    """Return the point of some that is closest to a polygon's edges, the point of the edge, and how far they are."""
    start, along = ring, np.roll(ring, -1, axis=0) - ring
    squared = (along**2).sum(axis=1)
    share = np.einsum("pek,ek->pe", points[:, None] - start, along) / np.where(squared > 0, squared, 1.0)
    foot = start + np.clip(share, 0.0, 1.0)[..., None] * along
    far = np.linalg.norm(points[:, None] - foot, axis=-1)
    point, edge = np.unravel_index(int(far.argmin()), far.shape)
    return points[point], foot[point, edge], float(far[point, edge])
