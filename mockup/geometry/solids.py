"""Exact cuts between closed solids that remember which surface every triangle came from.

Called directly on manifold3d, the engine under trimesh's booleans: through trimesh, regions and
normals are lost and coordinates pass through 32-bit floats. Its objects stay inside `Solid`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import manifold3d
import numpy as np

from mockup.model.mesh import Floats, Ints, Mesh

_NORMAL, _UV, _COLUMNS = slice(3, 6), slice(6, 8), 8  # one vertex: position, normal, face coordinates


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed solid made of named regions; opaque, immutable, millimetres.

    Make one with `solid`, `cut`, `united` or `common`; regions keep their names, normals and face
    coordinates through all of them.
    """

    _engine: manifold3d.Manifold
    _names: Mapping[int, str]
    _mapped: frozenset[str]

    @property
    def is_empty(self) -> bool:
        """True where nothing is left."""
        return bool(self._engine.is_empty())

    @property
    def nbytes(self) -> int:
        """About how much memory it takes: its vertices' rows and its triangles, half-edges and all."""
        return int(8 * _COLUMNS * self._engine.num_prop_vert() + 100 * self._engine.num_tri())

    @property
    def volume(self) -> float:
        """Volume in cubic millimetres."""
        return float(self._engine.volume())

    @property
    def area(self) -> float:
        """Area of the whole surface in square millimetres."""
        return float(self._engine.surface_area())

    @property
    def genus(self) -> int:
        """Number of handles: holes that go right through, for a solid in one piece."""
        return int(self._engine.genus())

    @property
    def pieces(self) -> int:
        """Number of pieces that do not touch."""
        return len(self._engine.decompose())

    def moved(self, pose: Floats) -> Solid:
        """Return the solid in another place, by a rigid pose (4, 4).

        Its regions' normals are not turned along: for measuring, where making it anew would take ten times as long.
        """
        return Solid(self._engine.transform(pose[:3]), self._names, self._mapped)

    def bounds(self) -> tuple[Floats, Floats]:
        """Return the lowest and highest corner, two arrays of shape (3,)."""
        box = np.array(self._engine.bounding_box(), dtype=np.float64)
        return box[:3], box[3:]

    def regions(self) -> dict[str, Mesh]:
        """Return the surface by region name; a region of which nothing is left does not appear.

        Normals point out of the solid and have unit length; `uv` is there where the region was
        given with it.
        """
        whole, owner, names = self._read()
        result: dict[str, Mesh] = {}
        for number, name in enumerate(names):
            faces = whole.faces[owner == number]
            if len(faces):
                part = whole.part(faces)
                result[name] = part if name in self._mapped else replace(part, uv=None)
        return result

    def welded(self) -> Mesh:
        """Return the surface as one mesh in which neighbours share vertices: for measuring, not for shading.

        Welded by the engine's own merge list; welding by distance breaks thin places.
        """
        whole, _, _ = self._read()
        return replace(whole.part(self._merged(len(whole.vertices))[whole.faces]), uv=None)

    def neighbours(self) -> dict[str, frozenset[str]]:
        """Return for each region the other regions it shares an edge with."""
        whole, owner, names = self._read()
        faces = self._merged(len(whole.vertices))[whole.faces]
        edges = np.sort(faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
        owners = np.repeat(owner, 3)
        order = np.lexsort((edges[:, 1], edges[:, 0]))
        edges, owners = edges[order], owners[order]
        is_same = (edges[1:] == edges[:-1]).all(axis=1)
        pairs = np.unique(np.sort(np.stack([owners[:-1], owners[1:]], axis=1)[is_same], axis=1), axis=0)
        touching: dict[str, set[str]] = {names[each]: set() for each in np.unique(owner)}
        for first, second in pairs[pairs[:, 0] != pairs[:, 1]]:
            touching[names[first]].add(names[second])
            touching[names[second]].add(names[first])
        return {name: frozenset(others) for name, others in touching.items()}

    def _read(self) -> tuple[Mesh, Ints, list[str]]:
        """Return the whole surface, the region of each triangle, and the regions' names."""
        mesh = self._mesh()
        index = np.asarray(mesh.run_index, dtype=np.int64)
        names = list(dict.fromkeys(self._names.values()))
        number = {each: names.index(name) for each, name in self._names.items()}
        runs = np.array([number[int(each)] for each in mesh.run_original_id], dtype=np.int64)
        triangles = np.asarray(mesh.tri_verts).astype(np.int64).reshape(-1, 3)
        rows = np.asarray(mesh.vert_properties, dtype=np.float64)
        lengths = np.linalg.norm(rows[:, _NORMAL], axis=1, keepdims=True)
        normals = rows[:, _NORMAL] / np.where(lengths > 0, lengths, 1.0)
        whole = Mesh(vertices=rows[:, :3], normals=normals, faces=triangles, uv=rows[:, _UV])
        return whole, np.repeat(runs, np.diff(index) // 3), names

    def _mesh(self) -> manifold3d.Mesh64:
        # with the index of the normals given, the engine turns them over on the walls of a cut
        return self._engine.to_mesh64(0)

    def _merged(self, count: int) -> Ints:
        mesh = self._mesh()
        target = np.arange(count)
        target[np.asarray(mesh.merge_from_vert, dtype=np.int64)] = np.asarray(mesh.merge_to_vert, dtype=np.int64)
        return target


def solid(regions: Mapping[str, Mesh]) -> Solid:
    """Return the solid that named meshes enclose together.

    Meshes meet at vertices of exactly equal position; triangles face outward. Raises `ValueError`
    where they do not close.
    """
    parts = {name: mesh for name, mesh in regions.items() if len(mesh.faces)}
    if not parts:
        return Solid(manifold3d.Manifold(), {}, frozenset())
    rows: list[Floats] = []
    triangles: list[Ints] = []
    runs, start = [0], 0
    for mesh in parts.values():
        uv = np.zeros((len(mesh.vertices), 2)) if mesh.uv is None else mesh.uv
        rows.append(np.concatenate([mesh.vertices, mesh.normals, uv], axis=1))
        triangles.append(mesh.faces + start)
        start += len(mesh.vertices)
        runs.append(runs[-1] + 3 * len(mesh.faces))
    vertices = np.ascontiguousarray(np.concatenate(rows), dtype=np.float64)
    _, first, inverse = np.unique(vertices[:, :3] + 0.0, axis=0, return_index=True, return_inverse=True)
    target = first[inverse.reshape(-1)]
    is_double = target != np.arange(start)
    first_id = manifold3d.Manifold.reserve_ids(len(parts))
    ids = np.arange(first_id, first_id + len(parts))
    engine = manifold3d.Manifold(
        manifold3d.Mesh64(
            vert_properties=vertices,
            tri_verts=np.ascontiguousarray(np.concatenate(triangles), dtype=np.uint64),
            merge_from_vert=np.flatnonzero(is_double).astype(np.uint64),
            merge_to_vert=target[is_double].astype(np.uint64),
            run_index=np.array(runs, dtype=np.uint64),
            run_original_id=ids.astype(np.uint32),
        )
    )
    if engine.status() != manifold3d.Error.NoError:
        raise ValueError(f"the surfaces {', '.join(parts)} do not close ({engine.status().name})")
    mapped = frozenset(name for name, mesh in parts.items() if mesh.uv is not None)
    return Solid(engine, {int(each): name for each, name in zip(ids, parts, strict=True)}, mapped)


def prism(name: str, contours: Sequence[Floats], low_mm: float, high_mm: float) -> Solid:
    """Return what closed contours enclose between two heights, as one region.

    Each is (n, 2), millimetres; one that winds the other way (clockwise) is a hole.
    """
    section = manifold3d.CrossSection([np.ascontiguousarray(each) for each in contours], manifold3d.FillRule.NonZero)
    engine = manifold3d.Manifold.extrude(section, high_mm - low_mm).calculate_normals(0, 40.0)  # sharp corners, degrees
    engine = engine.translate((0.0, 0.0, low_mm)).as_original()
    return Solid(engine, {engine.original_id(): name}, frozenset())


def hull(name: str, points: Floats) -> Solid:
    """Return the convex hull of (n, 3) points, millimetres, as one region."""
    engine = manifold3d.Manifold.hull_points(np.ascontiguousarray(points)).calculate_normals(0, 40.0).as_original()
    return Solid(engine, {engine.original_id(): name}, frozenset())


def cut(body: Solid, cutters: Sequence[Solid]) -> Solid:
    """Return what is left of `body` when all `cutters` are taken away, in one operation."""
    return _combined([body, *cutters], manifold3d.OpType.Subtract)


def united(solids: Sequence[Solid]) -> Solid:
    """Return the union of solids."""
    return _combined(solids, manifold3d.OpType.Add)


def common(first: Solid, second: Solid) -> Solid:
    """Return what two solids share."""
    return _combined([first, second], manifold3d.OpType.Intersect)


def _combined(solids: Sequence[Solid], operation: manifold3d.OpType) -> Solid:
    names: dict[int, str] = {}
    mapped: frozenset[str] = frozenset()
    for each in solids:
        names.update(each._names)
        mapped |= each._mapped
    engine = manifold3d.Manifold.batch_boolean([each._engine for each in solids], operation)
    return Solid(engine, names, mapped)
