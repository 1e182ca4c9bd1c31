"""From a pixel into the pedal: rays, where one meets a face, and which part it meets first."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.memo import memoize
from mockup.model.enclosure import DECAL_FACES, Face, FaceName
from mockup.model.mesh import Floats, Mesh
from mockup.model.scene import Body, Camera, Group
from mockup.window.pointer.orbit import Pixel

BRICK = 128  # triangles that share one bounding box: the fastest of 32 to 512 on 110,000 triangles
_AT_ONCE = 8  # bricks that are looked into together, nearest first: most never need looking at
_NONE: frozenset[Group] = frozenset()


@dataclass(frozen=True, kw_only=True, eq=False)
class Ray:
    """A half line from `origin` (3,) along the unit vector `way` (3,), millimetres."""

    origin: Floats
    way: Floats

    def at(self, distance_mm: float) -> Floats:
        """Return the point (3,) so far along."""
        point: Floats = self.origin + distance_mm * self.way
        return point

    def seen_from(self, pose: Floats) -> Ray:
        """Return the ray in a frame whose (4, 4) rigid pose is `pose`."""
        turn, shift = pose[:3, :3], pose[:3, 3]
        return Ray(origin=(self.origin - shift) @ turn, way=self.way @ turn)


@dataclass(frozen=True, kw_only=True, eq=False)
class Hit:
    """What a ray meets first: the body, the point (3,) on it and how far away that is.

    `face` names the face of the box or its lid where the panel itself was met, its decal included; `part` the part
    that the body belongs to, a hole's bare rim included.
    """

    body: Body
    point: Floats
    distance_mm: float

    @property
    def part(self) -> str | None:
        """Name of the part, if it is one's."""
        return self.body.part

    @property
    def face(self) -> FaceName | None:
        """The face of the box or its lid, where the panel was met."""
        return next((face for face in DECAL_FACES if face == self.body.name and self.body.part is None), None)


def ray(camera: Camera, at_px: Pixel, size_px: Pixel) -> Ray:
    """Return the ray through a pixel."""
    pose = camera.basis()
    right, up, back = pose[:3, 0], pose[:3, 1], pose[:3, 2]
    x, y = (at_px[0] - size_px[0] / 2) / size_px[1], (size_px[1] / 2 - at_px[1]) / size_px[1]
    eye = np.asarray(camera.eye, dtype=np.float64)
    if camera.ortho_mm is not None:
        return Ray(origin=eye + camera.ortho_mm * (x * right + y * up), way=-back)
    tall = 2.0 * math.tan(math.radians(camera.fov_deg) / 2)
    way = tall * (x * right + y * up) - back
    return Ray(origin=eye, way=way / np.linalg.norm(way))


def on_face(line: Ray, face: Face) -> tuple[float, float] | None:
    """Return (u, v) where a ray meets a face's plane; None where it runs along it or away from it."""
    slope = float(line.way @ face.out)
    if abs(slope) < 1e-6:
        return None
    distance = float((face.origin - line.origin) @ face.out) / slope
    if distance < 0:
        return None
    u, v, _ = face.from_world(line.at(distance))
    return float(u), float(v)


@dataclass(frozen=True, kw_only=True, eq=False)
class _Bricks:
    """A mesh's triangles (b, n, 3, 3) sorted into b bricks, with the corners `low` and `high` (b, 3) of each."""

    low: Floats
    high: Floats
    triangles: Floats


class Picker:
    """Everything that can be pointed at. Meshes that another one has seen cost next to nothing again."""

    def __init__(self, bodies: Iterable[Body]) -> None:
        self.bodies = tuple(body for body in bodies if len(body.mesh.faces))
        self._bricks = tuple(_bricks(body.mesh) for body in self.bodies)
        counts = [len(each.low) for each in self._bricks]
        self._owner = np.repeat(np.arange(len(counts)), counts)
        self._index = np.concatenate([np.zeros(0, np.int64), *(np.arange(count) for count in counts)])
        none = np.zeros((0, 3))
        self._low = np.concatenate([none, *(each.low for each in self._bricks)])
        self._high = np.concatenate([none, *(each.high for each in self._bricks)])

    def pick(self, line: Ray, hidden: frozenset[Group] = _NONE, without: Collection[str] = ()) -> Hit | None:
        """Return what a ray meets first, groups that are hidden and some parts left out, or None."""
        if not len(self._owner):
            return None
        with np.errstate(divide="ignore", invalid="ignore"):
            inverse = 1.0 / line.way
            a, b = (self._low - line.origin) * inverse, (self._high - line.origin) * inverse
        enter, leave = np.fmin(a, b).max(axis=1), np.fmax(a, b).min(axis=1)
        is_met = (enter <= leave) & (leave >= 0.0)
        if hidden or without:
            is_shown = np.array([body.group not in hidden and body.part not in without for body in self.bodies])
            is_met &= is_shown[self._owner]
        order = np.flatnonzero(is_met)
        order = order[np.argsort(enter[order], kind="stable")]
        best, owner = math.inf, -1
        for start in range(0, len(order), _AT_ONCE):
            some = order[start : start + _AT_ONCE]
            if enter[some[0]] > best:
                break
            found = [self._bricks[self._owner[each]].triangles[self._index[each]] for each in some]
            distance, which = _nearest(line, np.stack(found))
            if distance < best:
                best, owner = distance, int(self._owner[some[which]])
        if owner < 0:
            return None
        return Hit(body=self.bodies[owner], point=line.at(best), distance_mm=best)


def _nearest(line: Ray, triangles: Floats) -> tuple[float, int]:
    """Return the distance to the nearest of triangles (b, n, 3, 3) and its brick; infinity for none.

    Moeller and Trumbore, Fast minimum storage ray-triangle intersection, 1997; both sides count.
    """
    corner = triangles[:, :, 0]
    one, two = triangles[:, :, 1] - corner, triangles[:, :, 2] - corner
    p = np.cross(line.way, two)
    determinant = np.einsum("bni,bni->bn", one, p)
    with np.errstate(divide="ignore", invalid="ignore"):
        inverse = 1.0 / determinant
        s = line.origin - corner
        u = np.einsum("bni,bni->bn", s, p) * inverse
        q = np.cross(s, one)
        v = (q @ line.way) * inverse
        distance = np.einsum("bni,bni->bn", two, q) * inverse
        slack = 1e-9  # a ray through an edge that two triangles share meets one of them at least
        is_hit = (u >= -slack) & (v >= -slack) & (u + v <= 1.0 + slack) & (distance >= 0.0) & np.isfinite(distance)
    distance = np.where(is_hit, distance, math.inf)
    index = int(np.argmin(distance))
    return float(distance.flat[index]), index // distance.shape[1]


@memoize
def _bricks(mesh: Mesh) -> _Bricks:
    corners = mesh.vertices[mesh.faces]
    middles = corners.mean(axis=1)
    order = np.argsort(_along_curve(middles), kind="stable")
    count = -(-len(order) // BRICK)
    order = np.concatenate([order, np.repeat(order[-1:], count * BRICK - len(order))])
    triangles = corners[order].reshape(count, BRICK, 3, 3)
    flat = triangles.reshape(count, -1, 3)
    return _Bricks(low=flat.min(axis=1), high=flat.max(axis=1), triangles=triangles)


def _along_curve(points: Floats) -> NDArray[np.int64]:
    """Return where points (n, 3) lie along a curve that fills space: 10 bits of each axis, in turn (Morton 1966)."""
    low = points.min(axis=0)
    size = float((points.max(axis=0) - low).max()) or 1.0
    cell = ((points - low) / size * 1023.0).astype(np.int64)
    key = np.zeros(len(points), np.int64)
    for bit in range(10):
        for axis in range(3):
            key |= ((cell[:, axis] >> bit) & 1) << (3 * bit + axis)
    return key
