"""Convex regions of a face that figures have to stay in, with the room to their edge in closed form."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mockup.clearance.figures import Figure, between, disc
from mockup.enclosure.lid import screw_places
from mockup.enclosure.skin import inner_skin, outer_skin
from mockup.geometry.planar import directions, distance_inside_rounded_rectangle
from mockup.memo import memoize
from mockup.model.enclosure import Enclosure, Face
from mockup.model.mesh import Floats

CORNER_STEPS = 9  # planes that stand for a round corner where many places are tried at once: our choice


@dataclass(frozen=True, kw_only=True)
class Region:
    """A rectangle of a face in (u, v), sides that are open at infinity; its corners are rounded by `corner_mm`.

    Both upright sides move outward by `taper` millimetres per millimetre of v.
    """

    left: float = -math.inf
    top: float = -math.inf
    right: float = math.inf
    bottom: float = math.inf
    corner_mm: float = 0.0
    taper: float = 0.0

    def room(self, at: Figure) -> float:
        """Return the least room between a figure and the region's edge; negative outside."""
        if self.corner_mm > 0:
            middle = at.core - ((self.left + self.right) / 2, (self.top + self.bottom) / 2)
            size = (self.right - self.left, self.bottom - self.top)
            return float(distance_inside_rounded_rectangle(middle, *size, self.corner_mm).min()) - at.radius_mm
        return float(self.planes(at)[0].min(initial=math.inf))

    def planes(self, at: Figure) -> tuple[Floats, Floats]:
        """Return the room (k,) to each plane of the edge, and how it grows (k, 2) with u and v.

        Round corners count as `CORNER_STEPS` planes, so that a figure may stand out by a hair there.
        """
        ways, bounds = _planes(self)
        reach = (at.core @ ways.T).max(axis=0, initial=-math.inf) + at.radius_mm
        return bounds - reach, -ways


@memoize
def _planes(region: Region) -> tuple[Floats, Floats]:
    """Return a region's planes, ``ways (k, 2) . (u, v) <= bounds (k,)``."""
    rows = [
        ((-1.0, -region.taper), -region.left),
        ((1.0, -region.taper), region.right),
        ((0.0, -1.0), -region.top),
        ((0.0, 1.0), region.bottom),
    ]
    rows = [row for row in rows if math.isfinite(row[1])]
    if region.corner_mm > 0:
        corner = region.corner_mm
        for x, y in ((1, 1), (-1, 1), (-1, -1), (1, -1)):
            centre = np.array(
                [
                    region.right - corner if x > 0 else region.left + corner,
                    region.bottom - corner if y > 0 else region.top + corner,
                ]
            )
            for way in directions(0.0, math.pi / 2, CORNER_STEPS + 1)[1:-1] * (x, y):
                rows.append(((float(way[0]), float(way[1])), float(way @ centre) + corner))
    return np.array([way for way, _ in rows]).reshape(-1, 2), np.array([bound for _, bound in rows])


@memoize
def flat(box: Enclosure, face: Face) -> Region:
    """Return the flat of a face; the rim of a side is no end of its flat here: see `above_rim`."""
    left, top, right, bottom = face.flat
    if face.name == "top":
        return Region(left=left, top=top, right=right, bottom=bottom, corner_mm=outer_skin(box).top_corner_mm)
    return Region(left=left, top=top, right=right)


def above_rim(face: Face) -> Region:
    """Return what of a side lies above the open rim; on the top everything."""
    return Region() if face.name == "top" else Region(bottom=face.height_mm)


@memoize
def outline(box: Enclosure, face: Face) -> Region:
    """Return a face up to its outermost edge, seen straight on."""
    whole = Region(left=0.0, top=0.0, right=face.width_mm, bottom=face.height_mm, taper=face.taper)
    if face.name != "top":
        return whole
    corner = box.corner_mm - box.inset_mm(box.height_mm)
    return Region(left=0.0, top=0.0, right=face.width_mm, bottom=face.height_mm, corner_mm=corner)


@memoize
def between_walls(box: Enclosure, face: Face) -> Region:
    """Return what of a face has no wall of the inside behind it: the end of the inner flat."""
    inner, middle = inner_skin(box), face.width_mm / 2
    if face.name == "top":
        x, y = inner.width_mm / 2 - inner.top_inset_mm, inner.length_mm / 2 - inner.top_inset_mm
        down = face.height_mm / 2
        return Region(left=middle - x, top=down - y, right=middle + x, bottom=down + y, corner_mm=inner.top_corner_mm)
    core = inner.core[0 if face.name in ("near", "far") else 1]
    above = (box.height_mm - inner.wall_top_mm) / math.cos(math.radians(box.draft_deg))
    return Region(left=middle - core, top=above, right=middle + core)


@memoize
def posts(box: Enclosure, face: Face) -> tuple[Figure, ...]:
    """Return the screw posts as circles behind the top; behind a side they bound `between_posts`."""
    if face.name != "top":
        return ()
    return tuple(disc(face.width_mm / 2 + x, face.height_mm / 2 - y, box.post_top_mm / 2) for x, y in screw_places(box))


@memoize
def between_posts(box: Enclosure, face: Face) -> Region:
    """Return what of a side lies between the two screw posts behind it, which taper; on the top everything."""
    if face.name == "top":
        return Region()
    middle = face.width_mm / 2
    away = abs(screw_places(box)[0][0 if face.name in ("near", "far") else 1])
    post = away - box.post_mm / 2 - box.inset_mm(box.height_mm)  # at the face's upper edge
    return Region(left=middle - post, right=middle + post, taper=face.taper)


def room_behind(box: Enclosure, face: Face, at: Figure) -> tuple[float, str]:
    """Return the room between a hole and what stands behind its panel, and what that is."""
    wall = between_walls(box, face).room(at)
    post = min([between_posts(box, face).room(at), *(between(at, each) for each in posts(box, face))])
    return (post, "a screw post") if post < wall else (wall, "a wall inside")
