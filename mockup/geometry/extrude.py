"""Outlines drawn out into solids, with a broken top edge where asked for."""

from __future__ import annotations

import math

import numpy as np

from mockup.geometry.planar import FINE_CHORD_MM, Contour, contour, inset, outline_problem, steps_for
from mockup.geometry.poses import turn
from mockup.model.mesh import Floats, Mesh, joined
from mockup.model.shape import Extruded, Outline


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
        top = inset(solid.outline, solid.bevel_mm)
    except ValueError:
        return f"a bevel of {solid.bevel_mm:g} mm leaves nothing of the top"
    if solid.bore_mm != 0 and not 0 < solid.bore_mm < 2 * _room(top):
        return (
            f"a bore must be less than the {2 * _room(top):g} mm that the top has room for, found {solid.bore_mm:g} mm"
        )
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
    pieces = [band(low, solid.bottom_mm, low, shoulder)]
    if solid.bore_mm > 0:
        bore = contour(Outline(kind="circle", width_mm=solid.bore_mm), chord_mm)
        pieces.append(_turned_in(band(bore, solid.bottom_mm, bore, solid.top_mm)))
        pieces.append(_ring(low.points, bore.points, solid.bottom_mm, is_top=False))
        pieces.append(_ring(high.points, bore.points, solid.top_mm, is_top=True))
    else:
        pieces.append(cap(low.points, solid.bottom_mm, is_top=False))
        pieces.append(cap(high.points, solid.top_mm, is_top=True))
    if solid.bevel_mm > 0:
        pieces.append(band(low, shoulder, high, solid.top_mm, lean_deg=45.0))
    return joined(pieces).moved(turn(-solid.rotation_deg, solid.at))


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


def _ring(outer: Floats, inner: Floats, at_mm: float, *, is_top: bool) -> Mesh:
    """Return the flat face between a convex polygon (n, 2) and one (m, 2) inside it, both about the origin."""
    n, m = len(outer), len(inner)
    angles = [np.unwrap(np.arctan2(each[:, 1], each[:, 0])) for each in (outer, inner)]
    first = int(np.argmin(np.abs(np.exp(1j * angles[1]) - np.exp(1j * angles[0][0]))))
    inner_angles = np.unwrap(np.arctan2(*np.roll(inner, -first, axis=0).T[::-1]))
    inner_angles += 2 * math.pi * round((angles[0][0] - inner_angles[0]) / (2 * math.pi))
    half_outer = (angles[0] + np.append(angles[0][1:], angles[0][0] + 2 * math.pi)) / 2
    half_inner = (inner_angles + np.append(inner_angles[1:], inner_angles[0] + 2 * math.pi)) / 2
    faces, i, j = [], 0, 0
    while i < n or j < m:  # go round; a side is taken at the angle of its middle, where the bore comes nearest to it
        here, there = i % n, n + (first + j) % m
        if j == m or (i < n and half_outer[i] <= half_inner[j]):
            faces.append((here, (i + 1) % n, there))
            i += 1
        else:
            faces.append((here, n + (first + j + 1) % m, there))
            j += 1
    index = np.array(faces, dtype=np.int64)
    normals = np.tile([0.0, 0.0, 1.0 if is_top else -1.0], (n + m, 1))
    vertices = _raised(np.concatenate([outer, inner]), at_mm)
    return _without_slivers(Mesh(vertices=vertices, normals=normals, faces=index if is_top else index[:, ::-1]))


def _turned_in(mesh: Mesh) -> Mesh:
    return Mesh(vertices=mesh.vertices, normals=-mesh.normals, faces=mesh.faces[:, ::-1])


def _room(outline: Outline) -> float:
    """Return the radius of the widest circle about an outline's centre that stays inside it; 0 for none."""
    half = outline.width_mm / 2
    if outline.kind in ("circle", "hexagon"):
        return half
    if outline.kind == "d":
        return max(0.0, outline.height_mm - half)
    return min(half, outline.height_mm / 2)


def _raised(points: Floats, at_mm: float) -> Floats:
    return np.concatenate([points, np.full((len(points), 1), at_mm)], axis=1)


def _without_slivers(mesh: Mesh) -> Mesh:
    """Leave out triangles two of whose corners are the same point (an inset that ends in a sharp corner)."""
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    keep = (a != b).any(axis=1) & (b != c).any(axis=1) & (c != a).any(axis=1)
    return Mesh(vertices=mesh.vertices, normals=mesh.normals, faces=mesh.faces[keep], uv=mesh.uv)
