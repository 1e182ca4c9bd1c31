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

from mockup.enclosure.skin import inner_skin, outer_skin
from mockup.geometry.planar import distance_inside_rounded_rectangle, on_face, polygon
from mockup.memo import memoize
from mockup.model.bore import Bore
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face
from mockup.model.mesh import Floats
from mockup.model.shape import Extruded, Outline, Solid

FINE_MM = 0.002  # chord error of the one outline that is drawn by corners (a d)
ON_PANEL_MM = 0.05  # what begins lower than this above the panel bears on it
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
    core, radius = _core(outline)
    return Figure(core=on_face(core, (u_mm, v_mm), rotation_deg), radius_mm=radius)


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


def between(first: Figure, second: Figure) -> float:
    """Return the room between two figures, millimetres; negative by how deep they overlap."""
    return _cores_apart(first.core, second.core) - first.radius_mm - second.radius_mm


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


def room_in_flat(box: Enclosure, face: Face, at: Figure) -> float:
    """Return the least room between a figure and the end of the flat of its face; negative outside.

    The rim of a side is no end of its flat here: see `room_to_rim`.
    """
    left, top, right, bottom = face.flat
    if face.name == "top":
        middle = at.core - ((left + right) / 2, (top + bottom) / 2)
        inside = distance_inside_rounded_rectangle(middle, right - left, bottom - top, outer_skin(box).top_corner_mm)
        return float(inside.min()) - at.radius_mm
    low, high = at.core.min(axis=0), at.core.max(axis=0)
    return float(min(low[0] - left, right - high[0], low[1] - top)) - at.radius_mm


def room_to_rim(face: Face, at: Figure) -> float:
    """Return the room between a figure on a side and the open rim; on the top there is none: infinite."""
    return math.inf if face.name == "top" else face.height_mm - float(at.core[:, 1].max()) - at.radius_mm


def room_on_box(box: Enclosure, face: Face, at: Figure) -> float:
    """Return the room between a figure and the outermost edge of its face seen straight on."""
    if face.name == "top":
        middle = at.core - (face.width_mm / 2, face.height_mm / 2)
        corner = box.corner_mm - box.inset_mm(box.height_mm)
        return float(distance_inside_rounded_rectangle(middle, face.width_mm, face.height_mm, corner).min()) - (
            at.radius_mm
        )
    low, high = at.core.min(axis=0), at.core.max(axis=0)
    sides = (low[0] - face.left_edge(low[1]), face.right_edge(low[1]) - high[0], low[1], face.height_mm - high[1])
    return float(min(sides)) - at.radius_mm


def room_behind(box: Enclosure, face: Face, at: Figure, posts: tuple[tuple[float, float], ...]) -> tuple[float, str]:
    """Return the room between a hole and what stands behind its panel, and what that is.

    `posts` are the screw posts' axes (x, y). Seen through the panel a post is a circle on the top
    and an upright bar on a side; the walls inside are the end of the inner flat.
    """
    inner = inner_skin(box)
    across = 0 if face.name in ("near", "far") else 1
    centre = face.width_mm / 2
    if face.name == "top":
        middle = at.core - (centre, face.height_mm / 2)
        size = (inner.width_mm - 2 * inner.top_inset_mm, inner.length_mm - 2 * inner.top_inset_mm)
        wall = float(distance_inside_rounded_rectangle(middle, *size, inner.top_corner_mm).min()) - at.radius_mm
        circles = (Figure(core=np.array([[x, -y]]), radius_mm=box.post_mm / 2) for x, y in posts)
        shifted = Figure(core=middle, radius_mm=at.radius_mm)
        post = min(between(shifted, circle) for circle in circles)
    else:
        sideways = float(np.abs(at.core[:, 0] - centre).max()) + at.radius_mm
        highest = box.height_mm - (float(at.core[:, 1].min()) - at.radius_mm) * math.cos(math.radians(box.draft_deg))
        wall = min(inner.core[across] - sideways, inner.wall_top_mm - highest)
        post = abs(posts[0][across]) - box.post_mm / 2 - sideways
    return (post, "a screw post") if post < wall else (wall, "a wall inside")


def _low(part: Placement, below_mm: float) -> tuple[Figure, ...]:
    found = []
    for solid in part.kind.above:
        flat = _footprint(solid, below_mm)
        if flat is not None:
            u, v = on_face(solid.at, (part.u_mm, part.v_mm), part.rotation_deg).tolist()
            lean = solid.rotation_deg if isinstance(solid, Extruded) else 0.0
            found.append(figure(flat, u, v, part.rotation_deg + lean))
    return tuple(found)


def _footprint(solid: Solid, below_mm: float) -> Outline | None:
    """Return the outline of what of a solid lies between the panel and `below_mm` above it, if any."""
    if isinstance(solid, Extruded):
        return solid.outline if solid.bottom_mm <= below_mm and solid.top_mm > 0 else None
    if solid.tilt_deg:
        return None
    reach = max((r for r, z in solid.profile if -1e-9 <= z <= below_mm), default=0.0)
    return Outline(kind="circle", width_mm=2 * reach) if reach > 0 else None


def _core(outline: Outline) -> tuple[Floats, float]:
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


def _cores_apart(first: Floats, second: Floats) -> float:
    """Return the distance of two convex polygons, or minus the least shift that parts them."""
    if len(first) == 1 and len(second) == 1:
        return float(np.linalg.norm(first[0] - second[0]))
    depth = _depth(first, second)
    if depth > 0:
        return -depth
    return min(_nearest(first, second), _nearest(second, first))


def _nearest(points: Floats, ring: Floats) -> float:
    """Return the least distance between points and the edges of a polygon."""
    start, end = ring, np.roll(ring, -1, axis=0)
    along = end - start
    squared = (along**2).sum(axis=1)
    share = np.einsum("pek,ek->pe", points[:, None] - start, along) / np.where(squared > 0, squared, 1.0)
    foot = start + np.clip(share, 0.0, 1.0)[..., None] * along
    return float(np.linalg.norm(points[:, None] - foot, axis=-1).min())


def _depth(first: Floats, second: Floats) -> float:
    """Return how deep two convex polygons overlap, along the best of their sides' directions; 0 where they do not."""
    depth = math.inf
    for ring in (first, second):
        if len(ring) == 1:
            continue
        along = np.roll(ring, -1, axis=0) - ring
        normals = np.stack([along[:, 1], -along[:, 0]], axis=1) / np.linalg.norm(along, axis=1)[:, None]
        one, two = first @ normals.T, second @ normals.T
        overlap = np.minimum(one.max(axis=0) - two.min(axis=0), two.max(axis=0) - one.min(axis=0))
        depth = min(depth, float(overlap.min()))
    return max(0.0, depth)
