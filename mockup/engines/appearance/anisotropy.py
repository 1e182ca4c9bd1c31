"""Marks of turning for an engine whose reflections follow a mesh's picture coordinates.

The raster engine's `anisotropy.glsl` reads the axis itself.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mockup.model.mesh import Mesh
from mockup.model.scene import Point3

STEP_DEG: Final = 1.5  # of the way round in one triangle: its marks are straight, and no bend is seen: by eye
_ROUNDS: Final = 8  # halvings at most: 360 degrees come down to 1.4

Floats = NDArray[np.float64]


def round_axis(mesh: Mesh, spindle: tuple[Point3, Point3]) -> tuple[Mesh, Floats]:
    """Return a mesh cut up finely round an axis, no vertex shared, and its (n, 2) coordinates in mm.

    On each triangle u runs the way round the axis at its middle and v across that: a surface's marks run along u.
    """
    corners, normals = mesh.vertices[mesh.faces], mesh.normals[mesh.faces]
    flat = np.linalg.norm(_facing(corners), axis=1) < 1e-9  # a line has no way round
    corners, normals = corners[~flat], normals[~flat]
    point, way = np.array(spindle[0]), np.array(spindle[1])
    for _ in range(_ROUNDS):
        gap = _gaps(corners - point, way)
        wide = gap.max(axis=1) > np.radians(STEP_DEG)
        if not wide.any():
            break
        first = np.argmax(gap[wide], axis=1)
        halves = [_halved(each[wide], first) for each in (corners, normals)]
        corners, normals = (
            np.concatenate([each[~wide], *pair]) for each, pair in zip((corners, normals), halves, strict=True)
        )
    middle = corners.mean(axis=1)
    across = _unit(np.cross(_facing(corners), np.cross(way, middle - point)))
    along = _unit(np.cross(across, _facing(corners)))
    at = np.stack([np.einsum("mci,mi->mc", corners - middle[:, None], each) for each in (along, across)], axis=2)
    faces = np.arange(3 * len(corners)).reshape(-1, 3)
    fine = replace(mesh, vertices=corners.reshape(-1, 3), normals=_unit(normals).reshape(-1, 3), faces=faces, uv=None)
    return fine, at.reshape(-1, 2)


def _gaps(from_axis: Floats, way: Floats) -> Floats:
    """Return the angles (m, 3) that edges span round the axis, from each corner to the next; 0 to a corner on it."""
    flat = from_axis - (from_axis @ way)[..., None] * way
    after = np.roll(flat, -1, axis=1)
    sine, cosine = np.cross(flat, after) @ way, np.einsum("mci,mci->mc", flat, after)
    off = np.minimum(np.linalg.norm(flat, axis=2), np.linalg.norm(after, axis=2))
    return np.asarray(np.where(off > 1e-6, np.abs(np.arctan2(sine, cosine)), 0.0))


def _facing(corners: Floats) -> Floats:
    return np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])


def _unit(vectors: Floats) -> Floats:
    return np.asarray(vectors / np.maximum(np.linalg.norm(vectors, axis=-1, keepdims=True), 1e-12))


def _halved(values: Floats, first: NDArray[np.intp]) -> tuple[Floats, Floats]:
    """Return both halves of triangles whose edge from corner `first` to the next is cut in the middle."""
    rows = np.arange(len(values))
    a, b, c = (values[rows, (first + k) % 3] for k in range(3))
    middle = 0.5 * (a + b)
    return np.stack([a, middle, c], axis=1), np.stack([middle, b, c], axis=1)
