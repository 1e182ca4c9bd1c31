"""What hardware hides of a face from an eye point: its shadow, were the eye a lamp.

A circle about an axis of the face, at height z over it, throws the circle that is Ez / (Ez - z) as
large about the eye's foot point, Ez being the eye's height over the face. A solid of revolution is what
lies between one ring of its profile and the next, so its shadow is the union of the hulls of
consecutive rings: exact, whatever the profile. Every extruded outline is convex, so the hull of its
shadow is exact too. Flutes are left out: a knob counts with its full diameter.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from mockup import knobs
from mockup.checks.panel.built import Built
from mockup.enclosure.bores import bores_of
from mockup.geometry.planar import axes, inset, on_face, polygon
from mockup.geometry.polygons import area, hull, shared_area, union
from mockup.memo import memoize
from mockup.model.design import Placement
from mockup.model.enclosure import FACES, Face, FaceName
from mockup.model.mesh import Floats
from mockup.model.shape import Extruded, Solid
from mockup.scene.assemble import TRAVEL_START_DEG

AROUND = 64  # points of a ring, on a circle of equal area: off by at most 0.08 % of the radius
THIN_MM = 0.01  # of a ring that stands for a circle
LEAST_DEG = 10.0  # a face that is seen more slantwise than this is not looked at: our choice
_TURN = np.linspace(0.0, 2 * math.pi, AROUND, endpoint=False)
_EQUAL = math.sqrt((2 * math.pi / AROUND) / math.sin(2 * math.pi / AROUND))  # polygon as large as its circle
_RING: Floats = _EQUAL * np.stack([np.cos(_TURN), np.sin(_TURN)], axis=1)


@dataclass(frozen=True, eq=False)
class Shadow:
    """What one part hides of its face, an area in face (u, v)."""

    part: str
    outline: tuple[Floats, ...]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom."""
        points = np.concatenate(self.outline)
        (left, top), (right, bottom) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        return left, top, right, bottom


def shadows(built: Built, face: FaceName, eye: Floats | None = None) -> tuple[Shadow, ...]:
    """Return the shadow of every part on a face, seen from `eye` (3,) in the world, or straight from above.

    Empty where the eye is behind the face.
    """
    frame = built.faces[face]
    seat = None if eye is None else frame.from_world(eye)
    if seat is not None and seat[2] <= 0:
        return ()
    beside = [part for part in built.design.parts if part.face == face and part.kind.mount == "panel"]
    return tuple(shadow for part in beside if (shadow := _shadow(part, seat)).outline)


@memoize
def _shadow(part: Placement, seat: Floats | None) -> Shadow:
    """Return a part's shadow on its face, seen from `seat` (3,) in the face's own frame, or straight from above."""
    hidden = [*(_thrown(each, seat) for each in rings(part)), *_holes(part)]
    return Shadow(part=part.name, outline=union(_largest(hidden)))


def from_above(built: Built) -> dict[FaceName, tuple[Shadow, ...]]:
    """Return every face's shadows straight from above."""
    return {face: shadows(built, face) for face in lit_faces(built)}


def _holes(part: Placement) -> Iterator[Floats]:
    """Yield a part's holes in face coordinates: what was printed there is gone, whatever is above it."""
    for bore in bores_of(part):
        yield hull(on_face(polygon(bore.outline), (bore.u_mm, bore.v_mm), bore.rotation_deg))


@memoize
def rings(part: Placement) -> tuple[Floats, ...]:
    """Return what lies between two neighbouring rings of a part's visible solids: points (n, 3) that span it.

    They are face coordinates: u, v and the height over the face; what is inside the panel counts as level with it.
    """
    found = [each for solid in part.kind.above for each in _placed(_slices(solid), part, part.rotation_deg)]
    if part.knob is not None and part.kind.shaft is not None:
        turn = part.rotation_deg + TRAVEL_START_DEG + part.knob.pointer * part.kind.shaft.travel_deg
        for solid in knobs.solids(part.knob, part.kind.shaft):
            found += _placed(_slices(solid), part, turn)
    return tuple(found)


def hidden_share(box: Floats, seat: Iterable[Shadow]) -> tuple[float, tuple[str, ...]]:
    """Return which share (0 to 1) of a polygon (n, 2) lies in shadow, and the parts that throw it, worst first."""
    near = [shadow for shadow in seat if meets(box, shadow)]
    whole = area([box])
    each = sorted(((shared_area([box], shadow.outline) / whole, shadow.part) for shadow in near), reverse=True)
    share = shared_area([box], union([polygon for shadow in near for polygon in shadow.outline])) / whole
    return min(1.0, share), tuple(part for own, part in each if own > 1e-6)


def meets(box: Floats, shadow: Shadow) -> bool:
    """Return whether the upright rectangles round a polygon (n, 2) and a shadow meet."""
    left, top, right, bottom = shadow.bounds
    (low_u, low_v), (high_u, high_v) = box.min(axis=0), box.max(axis=0)
    return bool(low_u < right and high_u > left and low_v < bottom and high_v > top)


def lens_seen(part: Placement, seat: Floats | None) -> tuple[Floats, ...]:
    """Return a lamp's lenses (n, 2) as an eye at `seat` (3,), in the face's own frame, sees them against the face."""
    lenses = [part.kind.above[index] for index in part.kind.lens]
    rims = [_placed(_slices(_rim(each)), part, part.rotation_deg) for each in lenses]
    return tuple(_thrown(points, seat) for rim in rims for points in rim)


def _rim(lens: Solid) -> Solid:
    """Return the ring of a lens where it is widest, as high as it goes: what an eye has to see of it."""
    if isinstance(lens, Extruded):
        return replace(lens, bottom_mm=lens.top_mm - lens.bevel_mm - THIN_MM, bevel_mm=0.0)
    wide = lens.radius_mm
    high = max(z for r, z in lens.profile if r > wide - THIN_MM)
    return replace(lens, profile=((wide, high - THIN_MM), (wide, high)))


def player_eye(built: Built, height_mm: float, stance_mm: float) -> Floats:
    """Return the eye (3,) of a player who stands `stance_mm` from the pedal's near side, in the world."""
    near = built.faces["near"]
    on_near = [part for part in built.design.parts if part.face == "near" and part.kind.mount == "panel"]
    reach = [float(_world(near, each)[:, 1].min()) for part in on_near for each in rings(part)]
    low = min([-built.design.enclosure.length_mm / 2, *reach])
    return np.array([0.0, low - stance_mm, height_mm])


def is_seen(built: Built, face: FaceName, eye: Floats) -> bool:
    """Return whether an eye (3,) looks at a face, from no less than `LEAST_DEG` over its plane."""
    frame = built.faces[face]
    away = eye - frame.to_world(np.array([frame.width_mm, frame.height_mm]) / 2)
    return bool(away @ frame.out >= math.sin(math.radians(LEAST_DEG)) * np.linalg.norm(away))


def lit_faces(built: Built) -> tuple[FaceName, ...]:
    """Return the faces that carry art or labels."""
    used = {decal.face for decal in built.design.decals} | {label.face for label in built.design.labels}
    return tuple(face for face in FACES if face in used)


def _world(face: Face, points: Floats) -> Floats:
    return face.to_world(points[:, :2]) + points[:, 2:] * face.out


def _slices(solid: Solid) -> Iterator[Floats]:
    """Yield points (n, 3) in the part frame that span each convex piece of a solid."""
    if isinstance(solid, Extruded):
        yield from _drawn_out(solid)
        return
    spread = axes(solid.tilt_deg)
    circles = []
    for radius, z in solid.profile:
        circle = np.empty((AROUND, 3))
        circle[:, 0] = radius * _RING[:, 0]
        upright = np.stack([radius * _RING[:, 1], np.full(AROUND, z - solid.pivot_z_mm)], axis=1)
        circle[:, 1:] = upright @ spread.T + (0.0, solid.pivot_z_mm)
        circles.append(circle + np.array([*solid.at, 0.0]))
    for one, other in pairwise([*circles, circles[0]]):
        yield np.concatenate([one, other])


def _drawn_out(solid: Extruded) -> Iterator[Floats]:
    rotate = axes(solid.rotation_deg)
    side = polygon(solid.outline) @ rotate.T + solid.at
    levels = [(side, solid.bottom_mm), (side, solid.top_mm - solid.bevel_mm)]
    if solid.bevel_mm:
        levels.append((polygon(inset(solid.outline, solid.bevel_mm)) @ rotate.T + solid.at, solid.top_mm))
    yield np.concatenate([np.column_stack([flat, np.full(len(flat), z)]) for flat, z in levels])


def _placed(slices: Iterable[Floats], part: Placement, turn_deg: float) -> Iterator[Floats]:
    """Yield the slices in face coordinates; the part frame has y up, the face v down."""
    for points in slices:
        flat = on_face(points[:, :2], (part.u_mm, part.v_mm), turn_deg)
        yield np.column_stack([flat, np.maximum(points[:, 2], 0.0)])


def _thrown(points: Floats, eye: Floats | None) -> Floats:
    """Return the hull of points' shadow on the face."""
    if eye is None:
        return hull(points[:, :2])
    stretch = eye[2] / (eye[2] - points[:, 2:])
    return hull(eye[:2] + (points[:, :2] - eye[:2]) * stretch)


def _largest(polygons: Iterable[Floats]) -> list[Floats]:
    """Drop convex polygons that lie within a larger one, which saves nearly all of the union's work."""
    sized = sorted(((_size(each), each) for each in polygons if len(each) >= 3), key=lambda pair: -pair[0])
    kept: list[Floats] = []
    boxes = np.empty((len(sized), 4))  # of those kept: most are told apart by their boxes alone
    for _, each in sized:
        box = np.concatenate([each.min(axis=0), -each.max(axis=0)])
        around = np.flatnonzero((boxes[: len(kept)] <= box + 1e-6).all(axis=1))
        if not any(_contains(kept[other], each) for other in around):
            boxes[len(kept)] = box
            kept.append(each)
    return kept


def _size(shape: Floats) -> float:
    x, y = shape[:, 0], shape[:, 1]
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) / 2


def _contains(outer: Floats, inner: Floats) -> bool:
    """Return whether every corner of one convex polygon lies inside of all edges of another."""
    along = np.concatenate([outer[1:], outer[:1]]) - outer
    inward = np.stack([-along[:, 1], along[:, 0]])
    return bool((inner @ inward >= (outer.T * inward).sum(axis=0) - 1e-6).all())
