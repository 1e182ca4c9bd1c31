"""Slight wear of a painted box: small places along its rounded edges where the bare casting shows.

They are a skin of their own, a hair above the paint, so that every engine shows the same ones. How far wear goes is by
eye; it is irregular by noise in the box's own millimetres, from one seed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final

import numpy as np
from scipy import ndimage

from mockup.enclosure.skin import Skin, outer_skin
from mockup.geometry.level_lines import part_above
from mockup.geometry.planar import axes, directions, reach
from mockup.memo import memoize
from mockup.model.bore import Bore
from mockup.model.enclosure import Enclosure, Face, faces
from mockup.model.finish import Decal
from mockup.model.mesh import Floats, Mesh, joined
from mockup.model.shape import Point

_LIFT_MM: Final = 0.02  # above the paint: more than a facet of it is flat, less than shows: our choice
_STEP_MM: Final = 0.12  # from point to point: less than the finest noise: our choice
_GAP_MM: Final = 0.3  # bare patches keep off film and holes: our choice
_SEED: Final = 21  # any would do
_ASKEW: Final = np.array(((2, -1, 2), (2, 2, -1), (-1, 2, 2))) / 3.0  # a turn, so that no lattice runs along an edge
_CELLS: Final = 64  # of the noise, each way, after which it repeats
_NOISE: Final = ((14.0, 0.8), (2.2, 0.7), (0.7, 0.5))  # size in mm of what wears alike, and its weight: by eye
_HALF_MM: Final = 0.6  # from the middle of a rounding to where hardly anything rubs: by eye
_RARE: Final = 1.75  # by how much a place must be rubbed to show metal, for wear of 1: by eye
_MORE: Final = 0.4  # and how much less where wear is twice that: by eye
_BEND: Final = 0.5  # how much more the corners of the top are rubbed than its sides, at most: by eye
_NEVER: Final = -100.0  # less rubbed than anything
_FACING: Final = 0.05  # cosine of the angle to a face's normal from which a place belongs to it
_SIGNS: Final = np.array(((1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)))  # of the corners, counter-clockwise


def worn(box: Enclosure, amount: float, decals: Iterable[Decal], bores: Iterable[Bore]) -> Mesh:
    """Return the bare places of a box, without face coordinates; empty where nothing is worn.

    `amount` is above 0, 1 for a hint, 3 for a box of many years. Nothing is worn under film or where a hole is.
    """
    mesh, rubbed = _rubbed(box)
    known = faces(box)
    free = np.ones(len(rubbed), bool)
    for decal in decals:
        beyond = _GAP_MM + (decal.cut.allowance_mm if decal.cut is not None else 0.0)
        half = np.array((decal.width_mm, decal.height_mm)) / 2 + beyond
        at = _on(known[decal.face], mesh, (decal.u_mm, decal.v_mm), decal.rotation_deg)
        free &= ~(np.abs(at) < half).all(axis=1)
    for bore in bores:
        at = _on(known[bore.face], mesh, (bore.u_mm, bore.v_mm), 0.0)
        free &= np.hypot(*at.T) > reach(bore.outline) + _GAP_MM
    return part_above(mesh, np.where(free, rubbed, _NEVER), _RARE - _MORE * math.log2(amount))


@memoize
def _rubbed(box: Enclosure) -> tuple[Mesh, Floats]:
    """Return the rounded edges of a box as a fine mesh, and how much each of its points is rubbed."""
    skin = outer_skin(box)
    pieces = [*_corners(skin), *_edge(skin)]
    mesh = joined(piece for piece, _ in pieces)
    exposed = np.concatenate([each.ravel() for _, each in pieces])
    return mesh, exposed + _noise(mesh.vertices)


def _corners(skin: Skin) -> Iterator[tuple[Mesh, Floats]]:
    """Yield the four upright corners, each with how exposed its points are."""
    high = skin.wall_top_mm
    z = np.linspace(skin.low_mm, high, max(2, math.ceil((high - skin.low_mm) / _STEP_MM)))[:, None]
    reach_rad = min(2.0 * _HALF_MM / skin.corner_mm, math.pi / 4)
    turn = np.linspace(-reach_rad, reach_rad, max(3, math.ceil(2 * reach_rad * skin.corner_mm / _STEP_MM)))[None]
    radius = skin.corner_mm - (z - skin.low_mm) * math.tan(skin.draft)
    for quarter in range(4):
        angle = math.pi / 2 * quarter + math.pi / 4 + turn
        x, y = _SIGNS[quarter] * np.array(skin.core)
        lean = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
        normals = np.concatenate(
            [math.cos(skin.draft) * lean, np.full((1, turn.size, 1), math.sin(skin.draft))], axis=-1
        )
        points = np.stack(
            [x + radius * lean[..., 0], y + radius * lean[..., 1], np.broadcast_to(z, (z.size, turn.size))], axis=-1
        )
        yield _sheet(points, np.broadcast_to(normals, points.shape)), -((radius * turn / _HALF_MM) ** 2)


def _edge(skin: Skin) -> Iterator[tuple[Mesh, Floats]]:
    """Yield the rounded edge of the top with how exposed its points are; nothing where it is sharp."""
    if skin.edge_mm <= 4.0 * _LIFT_MM:
        return
    # it ends where its lifted skin would stand over the top
    rise = np.linspace(
        skin.draft, math.asin(1.0 - 2.0 * _LIFT_MM / skin.edge_mm), 2 + math.ceil(1.6 * skin.edge_mm / _STEP_MM)
    )
    middle = (skin.draft + math.pi / 2) / 2
    centre, outward, bend = _round(skin)
    out = (skin.corner_mm - skin.top_inset_mm + skin.edge_mm * np.cos(rise))[:, None, None]
    up = np.sin(rise)[:, None, None]
    level = centre + out * outward
    shape = (*level.shape[:2], 1)
    points = np.concatenate([level, np.broadcast_to(skin.high_mm - skin.edge_mm * (1.0 - up), shape)], axis=-1)
    normals = np.concatenate([np.cos(rise)[:, None, None] * outward, np.broadcast_to(up, shape)], axis=-1)
    yield _sheet(points, normals), bend - ((skin.edge_mm * (rise - middle) / _HALF_MM) ** 2)[:, None]


def _round(skin: Skin) -> tuple[Floats, Floats, Floats]:
    """Return columns all round a skin: centres and outward ways (n, 2), and how much more a corner is exposed (n,)."""
    centres, outward, bend = [], [], []
    sides = np.array(skin.core)
    count = max(3, math.ceil(skin.corner_mm * math.pi / 2 / _STEP_MM))
    for quarter in range(4):
        here, following = (_SIGNS[(quarter + k) % 4] * sides for k in (0, 1))
        turn = directions(math.pi / 2 * quarter, math.pi / 2 * (quarter + 1), count)
        steps = max(1, math.ceil(float(np.hypot(*(following - here))) / _STEP_MM))
        along = here + np.arange(1, steps)[:, None] / steps * (following - here)
        centres += [np.tile(here, (len(turn), 1)), along]
        outward += [turn, np.tile(turn[-1], (len(along), 1))]
        bend += [_BEND * np.sin(np.linspace(0.0, math.pi, len(turn))) ** 2, np.zeros(len(along))]
    whole = [np.concatenate(each) for each in (centres, outward, bend)]
    return tuple(np.concatenate([each, each[:1]]) for each in whole)  # type: ignore[return-value]


def _sheet(points: Floats, normals: Floats) -> Mesh:
    """Return a grid of points (rows upwards, columns counter-clockwise from above, 3), lifted, as a mesh."""
    index = np.arange(points.shape[0] * points.shape[1]).reshape(points.shape[:2])
    a, b, c, d = (each.ravel() for each in (index[:-1, :-1], index[:-1, 1:], index[1:, 1:], index[1:, :-1]))
    return Mesh(
        vertices=(points + _LIFT_MM * normals).reshape(-1, 3),
        normals=normals.reshape(-1, 3),
        faces=np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)]),
    )


def _noise(points: Floats) -> Floats:
    """Return noise at points (n, 3) in mm: of mean 0, several sizes added up by their weights."""
    lattice = np.random.default_rng(_SEED).standard_normal((_CELLS,) * 3)
    total = np.zeros(len(points))
    for index, (size, weight) in enumerate(_NOISE):
        at = (points @ _ASKEW / size + 17.0 * index).T
        total += weight * ndimage.map_coordinates(lattice, at, mode="grid-wrap")
    return total


def _on(face: Face, mesh: Mesh, at: Point, rotation_deg: float) -> Floats:
    """Return where points lie on a face from a place on it, (n, 2) right and down as turned; far off where they face
    another way."""
    off = (face.from_world(mesh.vertices)[:, :2] - at) @ axes(rotation_deg).T
    return np.where((mesh.normals @ face.out > _FACING)[:, None], off, math.inf)
