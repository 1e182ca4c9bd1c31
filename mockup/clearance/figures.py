"""Flat figures on a face and the room between them, in closed form.

Every outline that hardware has is a convex core blown up by a radius: a circle is a point, a slot a
line, a rectangle with round corners a smaller one with sharp corners. So distances are exact.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from mockup.geometry.planar import on_face, polygon
from mockup.memo import memoize
from mockup.model.bore import Bore
from mockup.model.design import Placement
from mockup.model.mesh import Floats
from mockup.model.shape import Extruded, Outline, Point, Solid

FINE_MM = 0.002  # chord error of the one outline that is drawn by corners (a d)
ON_PANEL_MM = 0.05  # what begins lower than this above the panel bears on it
WASHER_MM = 1.0  # height that no washer reaches: common practice, no source
STACK_MM = 3.3  # height of washer and nut, and of all that lies as low: common practice, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class Figure:
    """A convex polygon `core` (n, 2) in face coordinates, blown up by `radius_mm`; n may be 1 or 2.

    Its other two fields follow from these and live and die with it: searches read them far too often to look
    them up by content.
    """

    core: Floats
    radius_mm: float

    @cached_property
    def middle(self) -> tuple[float, float]:
        """The middle of the figure (u, v)."""
        u, v = self.core.mean(axis=0)
        return float(u), float(v)

    @cached_property
    def reach_mm(self) -> float:
        """From the middle to the farthest point."""
        return float(np.linalg.norm(self.core - self.core.mean(axis=0), axis=1).max()) + self.radius_mm


def figure(outline: Outline, u_mm: float, v_mm: float, rotation_deg: float = 0.0) -> Figure:
    """Return an outline as it lies on a face; `rotation_deg` turns it clockwise as seen from outside."""
    points, radius = core(outline)
    return Figure(core=on_face(points, (u_mm, v_mm), rotation_deg), radius_mm=radius)


def disc(u_mm: float, v_mm: float, radius_mm: float) -> Figure:
    """Return a circle on a face."""
    return Figure(core=np.array([[u_mm, v_mm]]), radius_mm=radius_mm)


def of_bore(bore: Bore) -> Figure:
    """Return a hole as it lies on its face."""
    return figure(bore.outline, bore.u_mm, bore.v_mm, bore.rotation_deg)


@memoize  # a search for a remedy asks for the same parts over and over
def seat(part: Placement) -> tuple[Figure, ...]:
    """Return what of a part bears on the panel: washers, flanges, bezels, screw heads."""
    return _low(part, ON_PANEL_MM)


@memoize
def stack(part: Placement) -> tuple[Figure, ...]:
    """Return what of a part lies low on the panel: its seat and the nut over it."""
    return _low(part, STACK_MM)


@memoize
def nuts(part: Placement) -> tuple[Figure, ...]:
    """Return the circles through the corners of a part's hexagon nuts on the panel."""
    flats = (
        (each, Outline(kind="circle", width_mm=each.outline.width_mm / math.cos(math.radians(30))))
        for each in part.kind.above
        if isinstance(each, Extruded) and each.outline.kind == "hexagon" and each.bottom_mm >= 0.0
    )
    return _lying(part, flats)


@memoize
def tall(part: Placement) -> tuple[Figure, ...]:
    """Return what of a part rises over the washers beside it; levers, which lean out of the way, left out."""
    return _lying(part, ((solid, _over(solid, WASHER_MM)) for solid in part.kind.above))


def behind(part: Placement) -> tuple[Figure, ...]:
    """Return what of a part is inside the box, as it lies behind its panel."""
    return _lying(part, ((solid, _whole(solid)) for solid in part.kind.below))


def between(first: Figure, second: Figure) -> float:
    """Return the room between two figures, millimetres; negative by how deep they overlap."""
    return apart(first, second)[0]


def apart(first: Figure, second: Figure) -> tuple[float, Floats]:
    """Return the room between two figures and the unit direction (2,) from the first to the second that it lies in."""
    room, way = _cores_apart(first.core, second.core)
    return room - first.radius_mm - second.radius_mm, way


def closest_points(first: Figure, second: Figure) -> tuple[Point, Point] | None:
    """Return the points (u, v) of two figures that lie closest to each other; None where their cores overlap."""
    room, way = apart(first, second)
    if room + first.radius_mm + second.radius_mm < 1e-9:
        return None
    one, two = _closest(first.core, second.core)
    a, b = one + way * first.radius_mm, two - way * second.radius_mm
    return (float(a[0]), float(a[1])), (float(b[0]), float(b[1]))


def _closest(first: Floats, second: Floats) -> tuple[Floats, Floats]:
    """Return the closest points of two convex polygons that do not overlap."""
    (one, two), (four, three) = _foot(first, second), _foot(second, first)
    is_there = np.linalg.norm(two - one) <= np.linalg.norm(four - three)
    return (one, two) if is_there else (three, four)


def least_between(first: Iterable[Figure], second: Iterable[Figure]) -> float:
    """Return the least room between two groups of figures; infinite where one is empty.

    Pairs that lie farther apart than the best one so far, by the circles round them, are passed over.
    """
    rest = tuple(second)
    pairs = sorted(
        (
            (math.dist(one.middle, other.middle) - one.reach_mm - other.reach_mm, one, other)
            for one in first
            for other in rest
        ),
        key=lambda pair: pair[0],
    )
    best = math.inf
    for at_least, one, other in pairs:
        if at_least >= best:
            break
        best = min(best, between(one, other))
    return best


def _low(part: Placement, below_mm: float) -> tuple[Figure, ...]:
    return _lying(part, ((solid, _footprint(solid, below_mm)) for solid in part.kind.above))


def _lying(part: Placement, outlines: Iterable[tuple[Solid, Outline | None]]) -> tuple[Figure, ...]:
    """Return the outlines of solids of a part, where each lies on the part's face."""
    found = []
    for solid, flat in outlines:
        if flat is not None:
            u, v = on_face(solid.at, (part.u_mm, part.v_mm), part.rotation_deg).tolist()
            lean = solid.rotation_deg if isinstance(solid, Extruded) else 0.0
            found.append(figure(flat, u, v, part.rotation_deg + lean))
    return tuple(each for index, each in enumerate(found) if not _is_under(each, found[:index], found[index + 1 :]))


def _is_under(disc: Figure, before: list[Figure], after: list[Figure]) -> bool:
    """Return whether a circle lies within another; of two equal ones the first counts."""
    if len(disc.core) > 1:
        return False
    spare = [
        each.radius_mm - disc.radius_mm - float(np.linalg.norm(each.core - disc.core))
        for each in (*before, *after)
        if len(each.core) == 1
    ]
    return max(spare, default=-1.0) > 1e-9 or any(
        len(each.core) == 1 and each.radius_mm == disc.radius_mm and np.array_equal(each.core, disc.core)
        for each in before
    )


def _whole(solid: Solid) -> Outline:
    return solid.outline if isinstance(solid, Extruded) else Outline(kind="circle", width_mm=2 * solid.radius_mm)


def _over(solid: Solid, above_mm: float) -> Outline | None:
    """Return the outline of what of a solid rises over a height, if any."""
    if isinstance(solid, Extruded):
        return solid.outline if solid.top_mm > above_mm else None
    reach = max((r for r, z in solid.profile if z > above_mm), default=0.0) if not solid.tilt_deg else 0.0
    return Outline(kind="circle", width_mm=2 * reach) if reach > 0 else None


def _footprint(solid: Solid, below_mm: float) -> Outline | None:
    """Return the outline of what of a solid lies between the panel and `below_mm` above it, if any."""
    if isinstance(solid, Extruded):
        return solid.outline if solid.bottom_mm <= below_mm and solid.top_mm > 0 else None
    if solid.tilt_deg:
        return None
    reach = max((r for r, z in solid.profile if -1e-9 <= z <= below_mm), default=0.0)
    return Outline(kind="circle", width_mm=2 * reach) if reach > 0 else None


def core(outline: Outline) -> tuple[Floats, float]:
    """Return an outline as a convex polygon (n, 2) about its own centre and the radius that blows it up."""
    half = outline.width_mm / 2
    if outline.kind == "circle":
        return np.zeros((1, 2)), half
    if outline.kind == "slot":
        radius = outline.height_mm / 2
        if half - radius < 1e-9:
            return np.zeros((1, 2)), radius
        return np.array([[radius - half, 0.0], [half - radius, 0.0]]), radius
    if outline.kind == "rectangle":
        a, b = half - outline.corner_mm, outline.height_mm / 2 - outline.corner_mm
        corners = np.array([[a, b], [-a, b], [-a, -b], [a, -b]])
        return np.unique(corners, axis=0) if min(a, b) < 1e-9 else corners, outline.corner_mm
    return polygon(outline, FINE_MM), 0.0


def _cores_apart(first: Floats, second: Floats) -> tuple[float, Floats]:
    """Return the distance of two convex polygons, or minus the least shift that parts them; and which way."""
    if len(first) == 1 and len(second) == 1:
        return _away(second[0] - first[0])
    depth, way = _depth(first, second)
    if depth > 0:
        return -depth, way
    there, back = _nearest(second, first), _nearest(first, second)
    return there if there[0] <= back[0] else (back[0], -back[1])


def _away(between_mm: Floats) -> tuple[float, Floats]:
    length = float(np.linalg.norm(between_mm))
    return length, between_mm / length if length > 0 else np.array([1.0, 0.0])


def _nearest(points: Floats, ring: Floats) -> tuple[float, Floats]:
    """Return the least distance of points from the edges of a polygon, and the way from the edge to the point."""
    point, foot = _foot(points, ring)
    return _away(point - foot)


def _foot(points: Floats, ring: Floats) -> tuple[Floats, Floats]:
    """Return the point of some that is closest to a polygon's edges, and the point of the edge."""
    start, along = ring, np.roll(ring, -1, axis=0) - ring
    squared = (along**2).sum(axis=1)
    share = np.einsum("pek,ek->pe", points[:, None] - start, along) / np.where(squared > 0, squared, 1.0)
    foot = start + np.clip(share, 0.0, 1.0)[..., None] * along
    away = ((points[:, None] - foot) ** 2).sum(axis=-1)
    point, edge = np.unravel_index(int(away.argmin()), away.shape)
    return points[point], foot[point, edge]


def _depth(first: Floats, second: Floats) -> tuple[float, Floats]:
    """Return how deep two convex polygons overlap, 0 where they do not, and the way to push the second out."""
    depth, way = math.inf, np.array([1.0, 0.0])
    for ring in (first, second):
        if len(ring) == 1:
            continue
        along = np.roll(ring, -1, axis=0) - ring
        along /= np.linalg.norm(along, axis=1)[:, None]
        normals = np.stack([along[:, 1], -along[:, 0]], axis=1)
        if len(ring) == 2:  # what lies in line with a straight line is parted from it by its ends alone
            normals = np.concatenate([normals, along])
        one, two = first @ normals.T, second @ normals.T
        out, back = one.max(axis=0) - two.min(axis=0), two.max(axis=0) - one.min(axis=0)
        overlap = np.minimum(out, back)
        least = int(np.argmin(overlap))
        if overlap[least] < depth:
            depth, way = float(overlap[least]), normals[least] if out[least] <= back[least] else -normals[least]
    return max(0.0, depth), way
