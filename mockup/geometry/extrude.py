"""Outlines drawn out into solids, with a broken top edge where asked for."""

from __future__ import annotations

import math

import numpy as np

from mockup.geometry.planar import FINE_CHORD_MM, Contour, contour, inset, outline_problem, steps_for
from mockup.model.mesh import Floats, Mesh, joined
from mockup.model.shape import Extruded


def extruded_problem(solid: Extruded) -> str | None:
    """Return what makes an extruded solid impossible, one plain sentence without full stop, or None."""
    problem = outline_problem(solid.outline)
    if problem is not None:
        return problem
    height = solid.top_mm - solid.bottom_mm
    if not height > 0 or not math.isfinite(height):
        return f"the top must lie above the bottom, found {solid.top_mm:g} and {solid.bottom_mm:g} mm"
    if not 0 <= solid.bevel_mm < height:
        return f"a bevel must lie between 0 and the height of {height:g} mm, found {solid.bevel_mm:g} mm"
    try:
        inset(solid.outline, solid.bevel_mm)
    except ValueError:
        return f"a bevel of {solid.bevel_mm:g} mm leaves nothing of the top"
    return None


def extruded(solid: Extruded, chord_mm: float = FINE_CHORD_MM) -> Mesh:
    """Return a closed mesh of an extruded solid; flat caps, true normals round about.

    Raises `ValueError` where the solid is impossible.
    """
    problem = extruded_problem(solid)
    if problem is not None:
        raise ValueError(problem)
    steps = steps_for(solid.outline, chord_mm)
    low = contour(solid.outline, steps=steps)
    high = contour(inset(solid.outline, solid.bevel_mm), steps=steps)
    shoulder = solid.top_mm - solid.bevel_mm
    pieces = [
        cap(low.points, solid.bottom_mm, is_top=False),
        band(low, solid.bottom_mm, low, shoulder),
        cap(high.points, solid.top_mm, is_top=True),
    ]
    if solid.bevel_mm > 0:
        pieces.append(band(low, shoulder, high, solid.top_mm, lean_deg=45.0))
    angle = -math.radians(solid.rotation_deg)
    pose = np.eye(4)
    pose[:2, :2] = [[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]]
    pose[:2, 3] = solid.at
    return joined(pieces).moved(pose)


def band(low: Contour, low_mm: float, high: Contour, high_mm: float, lean_deg: float = 0.0) -> Mesh:
    """Return the wall between two matching contours; its normals lean up by `lean_deg`."""
    count = len(low.points)
    following = np.roll(np.arange(count), -1)
    corners = [
        _raised(low.points, low_mm),
        _raised(low.points[following], low_mm),
        _raised(high.points[following], high_mm),
        _raised(high.points, high_mm),
    ]
    cos, sin = math.cos(math.radians(lean_deg)), math.sin(math.radians(lean_deg))
    flat = [low.starts, low.ends, high.ends, high.starts]
    normals = [np.concatenate([cos * each, np.full((count, 1), sin)], axis=1) for each in flat]
    index = np.arange(4 * count).reshape(4, count)
    faces = np.concatenate([index[[0, 1, 2]].T, index[[0, 2, 3]].T])
    return _without_slivers(
        Mesh(vertices=np.concatenate(corners), normals=np.concatenate(normals), faces=faces.astype(np.int64))
    )


def cap(points: Floats, at_mm: float, *, is_top: bool) -> Mesh:
    """Return a convex polygon (n, 2) as a flat cap at height `at_mm` that looks up or down."""
    count = len(points)
    vertices = _raised(np.concatenate([points, points.mean(axis=0, keepdims=True)]), at_mm)
    index = np.arange(count)
    faces = np.stack([np.full(count, count), index, np.roll(index, -1)], axis=1)
    normals = np.tile([0.0, 0.0, 1.0 if is_top else -1.0], (count + 1, 1))
    return _without_slivers(Mesh(vertices=vertices, normals=normals, faces=faces if is_top else faces[:, ::-1]))


def _raised(points: Floats, at_mm: float) -> Floats:
    return np.concatenate([points, np.full((len(points), 1), at_mm)], axis=1)


def _without_slivers(mesh: Mesh) -> Mesh:
    """Leave out triangles two of whose corners are the same point (an inset that ends in a sharp corner)."""
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    keep = (a != b).any(axis=1) & (b != c).any(axis=1) & (c != a).any(axis=1)
    return Mesh(vertices=mesh.vertices, normals=mesh.normals, faces=mesh.faces[keep], uv=mesh.uv)
