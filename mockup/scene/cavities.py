"""Holes in hardware that one looks into, for engines that tell light in a hole by its shape."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from mockup.geometry.poses import axis_under
from mockup.model.mesh import Floats
from mockup.model.part import Kind
from mockup.model.scene import Cavity
from mockup.model.shape import Extruded, Point, Solid, Turned

_SAME_MM = 0.05  # radii and axes this near are one: far below any drill
_FILLED_SHARE = 0.6  # a rod of this share of a hole's radius leaves nothing to look into: by eye
_LEAST_DEPTH = 0.5  # of the radius; a shallower one is a washer, not a hole: by eye


def cavities(kind: Kind, pose: Floats, part: str | None = None) -> tuple[Cavity, ...]:
    """Return the round holes of a kind that are open to the outside, `pose` (4, 4) from its frame to the world.

    A ring that a narrower one stands in, or a rod, is no hole to look into: a nut, a washer, a bezel.
    """
    lowest = min((_low(solid) for solid in kind.above), default=0.0)
    rings = [each for each in map(_ring, kind.above) if each is not None]
    found = []
    for ring in rings:
        at, radius, mouth = ring
        depth = mouth - lowest
        is_inner = not any(
            other is not ring and _is_one_axis(other[0], at) and other[1] < radius and other[2] > mouth - _SAME_MM
            for other in rings
        )
        if is_inner and depth > _LEAST_DEPTH * radius and not _is_filled(kind.above, ring):
            way_out = (0.0, 0.0, 1.0)
            found.append(Cavity(mouth=(*at, mouth), way_out=way_out, radius_mm=radius, depth_mm=depth, part=part))
    return moved(found, pose)


def moved(holes: Iterable[Cavity], pose: Floats) -> tuple[Cavity, ...]:
    """Return the same holes under a rigid (4, 4) pose."""
    found = []
    for hole in holes:
        mouth, way_out = axis_under(pose, (hole.mouth, hole.way_out))
        found.append(replace(hole, mouth=mouth, way_out=way_out))
    return tuple(found)


def _ring(solid: Solid) -> tuple[Point, float, float] | None:
    """Return axis, radius and upper end of the narrowest stretch of a ring's bore; None for what is no ring."""
    if isinstance(solid, Extruded):
        return (solid.at, solid.bore_mm / 2, solid.top_mm) if solid.bore_mm > 0.0 else None
    radius = min(r for r, _ in solid.profile)
    if radius <= 0.0 or solid.tilt_deg != 0.0:
        return None
    return solid.at, radius, max(z for r, z in solid.profile if r < radius + _SAME_MM)


def _is_filled(solids: Iterable[Solid], ring: tuple[Point, float, float]) -> bool:
    """True where a rod on the ring's own axis comes up to its mouth and leaves no more than a gap."""
    at, radius, mouth = ring
    for solid in solids:
        if isinstance(solid, Turned) and min(r for r, _ in solid.profile) <= 0.0 and _is_one_axis(solid.at, at):
            wide = max((r for r, z in solid.profile if z > mouth - _LEAST_DEPTH * radius), default=0.0)
            if wide > _FILLED_SHARE * radius:
                return True
    return False


def _low(solid: Solid) -> float:
    return min(z for _, z in solid.profile) if isinstance(solid, Turned) else solid.bottom_mm


def _is_one_axis(one: Point, other: Point) -> bool:
    return math.dist(one, other) < _SAME_MM
