"""Flat areas that cover one another: hulls, unions, and how much of one lies under others.

Areas are lists of closed polygons (n, 2) in millimetres, counter-clockwise outside and clockwise for
holes, in any frame.
"""

from __future__ import annotations

from collections.abc import Sequence

import manifold3d
import numpy as np

from mockup.model.mesh import Floats

Area = Sequence[Floats]


def hull(points: Floats) -> Floats:
    """Return the convex hull (m, 2), counter-clockwise, of points (n, 2); empty where they span no area."""
    found = manifold3d.CrossSection.hull_points(np.ascontiguousarray(points, np.float64)).to_polygons()
    return np.asarray(found[0], np.float64) if found else np.empty((0, 2))


def union(polygons: Area) -> tuple[Floats, ...]:
    """Return the area that polygons cover together; each of them counter-clockwise, or clockwise as a hole."""
    return tuple(np.asarray(polygon, np.float64) for polygon in _section(polygons).to_polygons())


def area(polygons: Area) -> float:
    """Return the size of an area in square millimetres."""
    return float(_section(polygons).area())


def shared_area(first: Area, second: Area) -> float:
    """Return the size of what two areas have in common, in square millimetres."""
    return float((_section(first) ^ _section(second)).area())


def _section(polygons: Area) -> manifold3d.CrossSection:
    kept = [np.ascontiguousarray(polygon, np.float64) for polygon in polygons if len(polygon) >= 3]
    return manifold3d.CrossSection(kept, manifold3d.FillRule.Positive)
