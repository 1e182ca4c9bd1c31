"""Grain of a finish face by face: pictures of dents and flakes for an engine without shaders of its own.

The same functions of the position on the body as the raster engine's `grain.glsl`, so that both
engines show the same dents, and on the same grid the same flakes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mockup.memo import memoize
from mockup.model.material import DENT_MM, FLAKE_MM
from mockup.model.mesh import Mesh

DENT_DEPTH: Final = 0.10  # change of the normal per dent's slope: by eye
BRIM: Final = 12.0  # how sharply one dent goes over into the next: by eye
_DENT_PX: Final = 12  # pixels from dent to dent
_MOST_PX: Final = 2048  # of one picture, each way; coarser beyond

Floats = NDArray[np.float64]
Pixels = NDArray[np.float32]


@dataclass(frozen=True, kw_only=True, eq=False)
class Side:
    """The part of a mesh that faces one of six ways, and the grid that its grain is drawn on.

    `way` is 0 to 5, two to an axis, the second of them up it; `along` are the two world axes of the grid; `low` (2,)
    its corner and `size` (2,) its reach in mm; `depth_mm` is the mean position on the third axis.
    """

    mesh: Mesh
    way: int
    along: tuple[int, int]
    low: Floats
    size: Floats
    depth_mm: float

    def at(self) -> Floats:
        """Return (n, 2) grid coordinates of the vertices, 0 to 1."""
        return np.asarray((self.mesh.vertices[:, self.along] - self.low) / self.size)

    def on_face(self) -> Floats:
        """Return (2, 3), the way from the mesh's face coordinates and 1 to the grid's in mm: a picture's grain runs as
        the picture does, over a rounded edge too."""
        uv = self.mesh.uv if self.mesh.uv is not None else self.mesh.vertices[:, self.along]
        source = np.column_stack([uv, np.ones(len(uv))])
        return np.asarray(np.linalg.lstsq(source, self.mesh.vertices[:, self.along], rcond=None)[0].T)

    def cells(self, step_mm: float) -> NDArray[np.int64]:
        """Return how many pixels of about a width the grid has along each of its axes, (2,)."""
        return np.clip(np.ceil(self.size / step_mm).astype(np.int64), 1, _MOST_PX)

    def points(self, step_mm: float) -> Floats:
        """Return the grid's pixel centres in world millimetres, (rows, columns, 3)."""
        columns, rows = self.cells(step_mm)
        out = np.empty((rows, columns, 3))
        out[..., self.along[0]] = (self.low[0] + (np.arange(columns) + 0.5) / columns * self.size[0])[None]
        out[..., self.along[1]] = (self.low[1] + (np.arange(rows) + 0.5) / rows * self.size[1])[:, None]
        out[..., 3 - sum(self.along)] = self.depth_mm
        return out


def flake_grid(sides: Sequence[Side], flake_mm: float = FLAKE_MM) -> tuple[Floats, Floats]:
    """Return where flakes lie on a surface that faces each of six ways, as `flakes` draws them.

    First (6, 4), of each way the two coordinates of the grid's corner and of a cell's size in mm; ways as in `sides`,
    unused ones start at 0, and one piece alone stands for all. Then (6, 1), which layer of cells it is along the third
    axis.
    """
    corner, layer = np.tile((0.0, 0.0, flake_mm, flake_mm), (6, 1)), np.zeros((6, 1))
    for side in sides:
        ways = slice(None) if len(sides) == 1 else side.way
        corner[ways] = *side.low, *(side.size / side.cells(flake_mm))
        layer[ways] = np.floor(side.depth_mm / flake_mm)
    return corner, layer


def sides(mesh: Mesh, *, is_one: bool = False) -> list[Side]:
    """Return a mesh cut up by which of six ways its triangles face most; `is_one` keeps it whole, as it faces on the
    whole: a picture on it has coordinates that run with no other grid."""
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    facing = np.cross(b - a, c - a)
    if is_one:
        facing = np.broadcast_to(facing.sum(axis=0), facing.shape)
    axis = np.argmax(np.abs(facing), axis=1)
    way = 2 * axis + (np.take_along_axis(facing, axis[:, None], axis=1)[:, 0] > 0.0)
    found = []
    for each in np.unique(way):
        piece = mesh.part(mesh.faces[way == each])
        third = int(each) // 2
        along = tuple(k for k in range(3) if k != third)
        flat = piece.vertices[:, along]
        low = flat.min(axis=0)
        size = np.maximum(flat.max(axis=0) - low, 0.01)
        depth = float(piece.vertices[:, third].mean())
        found.append(Side(mesh=piece, way=int(each), along=along, low=low, size=size, depth_mm=depth))  # type: ignore[arg-type]
    return found


@memoize
def dents(side: Side, dent_mm: float = DENT_MM) -> Pixels:
    """Return hammered paint's height in millimetres, (rows, columns, 1)."""
    q = (side.points(dent_mm / _DENT_PX) / dent_mm).astype(np.float32)
    cell = np.floor(q).astype(int)
    low = cell.min(axis=(0, 1)) - 1
    many = cell.max(axis=(0, 1)) + 2 - low
    lattice = (np.moveaxis(np.indices(many), 0, -1) + low).astype(np.float32)
    place = np.stack([_hash(lattice + np.float32(shift)) for shift in (0.0, 17.3, 41.7)], axis=-1)
    place = lattice + np.float32(0.8) * place
    total = np.full(q.shape[:2], np.exp(-BRIM), np.float32)
    for offset in np.ndindex(3, 3, 3):
        at = cell - low + offset - 1
        gap = place[at[..., 0], at[..., 1], at[..., 2]] - q
        total += np.exp(np.float32(-BRIM) * np.einsum("...i,...i->...", gap, gap))
    return (np.log(total) * np.float32(-DENT_DEPTH * dent_mm / BRIM))[..., None]


def flakes(side: Side, spread: float, flake_mm: float = FLAKE_MM) -> Pixels:
    """Return every flake's normal as a picture (rows, columns, 3), 0 to 1 for -1 to 1, z out of the paint."""
    c = np.floor(side.points(flake_mm) / flake_mm).astype(np.float32)
    tilt = [2.0 * _hash(c + np.float32(shift)) - 1.0 for shift in (7.7, 31.1)]
    normal = np.stack([spread * tilt[0], spread * tilt[1], np.ones_like(tilt[0])], axis=-1)
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True)
    return np.asarray(0.5 + 0.5 * normal, np.float32)


def dent_normals(side: Side, dent_mm: float = DENT_MM) -> Pixels:
    """Return dented paint's normals as `flakes` does."""
    height = dents(side, dent_mm)[..., 0]
    step = side.size[::-1] / height.shape
    slope = [np.gradient(height, step[k], axis=k) if height.shape[k] > 1 else np.zeros_like(height) for k in (1, 0)]
    normal = np.stack([-slope[0], -slope[1], np.ones_like(height)], axis=-1)
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True)
    return np.asarray(0.5 + 0.5 * normal, np.float32)


def _hash(p: Pixels) -> Pixels:
    p = (p * np.array((0.1031, 0.1030, 0.0973), np.float32)) % np.float32(1.0)
    p = p + (p * (p[..., (1, 2, 0)] + np.float32(33.33))).sum(axis=-1, keepdims=True)
    return np.asarray(((p[..., 0] + p[..., 1]) * p[..., 2]) % np.float32(1.0), np.float32)
