"""Triangles: the only shape that crosses module borders."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, kw_only=True, eq=False)
class Mesh:
    """A triangle mesh in millimetres; counter-clockwise triangles face outward.

    `vertices` (n, 3); `normals` (n, 3) of unit length, one per vertex (a vertex on a crisp edge
    is there once per side); `faces` (m, 3) vertex indices; `uv` (n, 2) face coordinates in
    millimetres (u right, v down; see DEVELOPERS.md), or None where nothing is mapped.
    """

    vertices: Floats
    normals: Floats
    faces: Ints
    uv: Floats | None = None

    def moved(self, pose: Floats) -> Mesh:
        """Return the mesh under a rigid (4, 4) pose; rotations only, no scaling or mirroring."""
        turn, shift = pose[:3, :3], pose[:3, 3]
        return replace(self, vertices=self.vertices @ turn.T + shift, normals=self.normals @ turn.T)

    def part(self, faces: Ints) -> Mesh:
        """Return a mesh of triangles (m, 3) between its vertices, with those vertices alone."""
        used, index = np.unique(faces, return_inverse=True)
        uv = self.uv[used] if self.uv is not None else None
        return Mesh(vertices=self.vertices[used], normals=self.normals[used], faces=index.reshape(-1, 3), uv=uv)

    def bounds(self) -> tuple[Floats, Floats]:
        """Return the lowest and highest corner, two arrays of shape (3,)."""
        return self.vertices.min(axis=0), self.vertices.max(axis=0)

    def volume(self) -> float:
        """Return the signed volume in cubic millimetres (meaningful for closed meshes)."""
        a, b, c = (self.vertices[self.faces[:, i]] for i in range(3))
        return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)

    def area(self) -> float:
        """Return the surface area in square millimetres."""
        a, b, c = (self.vertices[self.faces[:, i]] for i in range(3))
        return float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2.0)


def joined(meshes: Iterable[Mesh]) -> Mesh:
    """Return several meshes as one, without welding; uv is kept only if all of them have it."""
    parts = [mesh for mesh in meshes if len(mesh.faces)]
    if not parts:
        none = np.zeros((0, 3))
        return Mesh(vertices=none, normals=none, faces=np.zeros((0, 3), np.int64))
    starts = np.cumsum([0] + [len(mesh.vertices) for mesh in parts[:-1]])
    uvs = [mesh.uv for mesh in parts if mesh.uv is not None]
    return Mesh(
        vertices=np.concatenate([mesh.vertices for mesh in parts]),
        normals=np.concatenate([mesh.normals for mesh in parts]),
        faces=np.concatenate([mesh.faces + start for mesh, start in zip(parts, starts, strict=True)]),
        uv=np.concatenate(uvs) if len(uvs) == len(parts) else None,
    )
