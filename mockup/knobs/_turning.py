"""What knobs are made of: hollow turned bodies, rounded edges, pointer lines that follow a profile.

Part frame, millimetres: the axis is z, the pointer lies at 12 o'clock (x = 0, y > 0), z = 0 is the
panel's outer surface.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from mockup.model.material import Colour, Material, plastic
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Point, Solid, Turned

CLEARANCE_MM = 1.6  # between panel and underside, as set by hand: common practice, no source
ROOF_MM = 1.2  # least material over the end of the shaft: common practice, no source
WALL_MM = 1.2  # of the hollow underside: common practice, no source
HOLLOW_MM = 2.2  # depth of the hollow underside, over the nut: common practice, no source
RAISE_MM = 0.15  # height of a pointer line over the body: common practice, no source
STEP_DEG = 11.25  # of rounded edges, an eighth of a quarter turn; well under the 30 degrees that make a crease
GENTLE_DEG = 15.0  # up to this bend two rods of a line are joined without a ball: the notch stays under 0.01 mm
BALL_DEG = 22.5  # of the ends of a line, small enough to take coarser steps


def hollow_mm(knob: Knob, wall_mm: float = WALL_MM) -> float:
    """Return the radius of the hollow underside of a knob whose wall is `wall_mm` thick there."""
    return max(knob.diameter_mm / 2 - wall_mm, knob.diameter_mm / 4)


def seat_mm(knob: Knob, shaft: Shaft, hollow: float) -> float:
    """Return the height of the knob's underside above the panel.

    The knob goes down to a finger nail's gap if its hollow (of radius `hollow`) takes in the nut, or
    else to the nut; a shaft that is too long for the knob holds it up, as it does on the bench.
    """
    lowest = CLEARANCE_MM if 2 * hollow >= shaft.nut_mm else shaft.nut_top_mm
    return max(lowest, shaft.top_mm + ROOF_MM - knob.height_mm)


def rim(radius_mm: float, seat: float, round_mm: float = 0.3) -> list[Point]:
    """Return the rounded lower edge of a body, the first points of its outside."""
    inner = radius_mm - round_mm
    return [(inner, seat), *arc((inner, seat + round_mm), round_mm, -67.5, 0.0)]


def body(outside: Sequence[Point], hollow: float, depth_mm: float, material: Material) -> Turned:
    """Return a turned body that is hollow below.

    `outside` runs from the rim of the underside up to the axis; the hollow is `depth_mm` deep.
    """
    seat = outside[0][1]
    inside = ((0.0, seat + depth_mm), (hollow, seat + depth_mm), (hollow, seat))
    return Turned(profile=(*inside, *outside), material=material)


def disc(
    outside: Sequence[Point], bottom_mm: float, material: Material, *, flutes: int = 0, flute_mm: float = 0
) -> Turned:
    """Return a turned solid with a flat underside; `outside` runs from its edge up to the axis."""
    return Turned(
        profile=((0.0, bottom_mm), *outside),
        material=material,
        flutes=flutes,
        flute_depth_mm=flute_mm,
        flute_from_mm=max(r for r, _ in outside) - 3 * flute_mm,
    )


def arc(centre: Point, radius: float, start_deg: float, end_deg: float, step_deg: float = STEP_DEG) -> list[Point]:
    """Return points of an arc in the (radius, z) plane, both ends included; 0 degrees points outward."""
    steps = max(1, math.ceil(abs(end_deg - start_deg) / step_deg - 1e-9))
    angles = (math.radians(start_deg + (end_deg - start_deg) * step / steps) for step in range(steps + 1))
    return [(centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)) for angle in angles]


def line_width_mm(knob: Knob) -> float:
    """Return the width of a knob's pointer line: a twentieth of the diameter, 0.7 to 1.3 mm."""
    return min(1.3, max(0.7, knob.diameter_mm / 20))


def bead_mm(width_mm: float, raise_mm: float = RAISE_MM) -> float:
    """Return the radius of the bead whose top `raise_mm` shows as a line `width_mm` wide."""
    return ((width_mm / 2) ** 2 + raise_mm**2) / (2 * raise_mm)  # sagitta formula


def edge_mm(knob: Knob) -> float:
    """Return the least rounding of an edge that a pointer line goes over without sinking in."""
    return bead_mm(line_width_mm(knob)) - RAISE_MM


def line_end_mm(knob: Knob, seat: float) -> float:
    """Return the lowest height a line on the side may end at without showing inside the hollow."""
    return seat + min(HOLLOW_MM, knob.height_mm / 3) + bead_mm(line_width_mm(knob))


def line(knob: Knob, surface: Sequence[Point], *, raise_mm: float = RAISE_MM) -> tuple[Solid, ...]:
    """Return the pointer line along `surface`, points (y, z) of the body from the middle outward and down.

    A round bead sunk into the body, so that it stands out by `raise_mm` and keeps its width over flats,
    slopes and roundings alike, as a moulded line filled with paint does. The narrower and the higher, the
    less deep it is sunk.
    """
    radius = bead_mm(line_width_mm(knob), raise_mm)
    path = _sunk(surface, radius - raise_mm)
    colour = paint(knob.pointer_colour)
    path = [path[0], *(b for a, b in pairwise(path) if math.dist(a, b) > 1e-6)]
    bends = [None, *(_bend_deg(*three) for three in zip(path, path[1:], path[2:], strict=False)), None]
    return tuple(
        _rod(a, b, radius, before, after, colour)
        for (a, b), (before, after) in zip(pairwise(path), pairwise(bends), strict=True)
    )


def shell(colour: Colour) -> Material:
    """Return the moulded plastic of a knob's body."""
    return plastic(colour, "knob", roughness=0.32)


def paint(colour: Colour) -> Material:
    """Return the paint of a pointer line."""
    return plastic(colour, "pointer", roughness=0.5)


def _sunk(surface: Sequence[Point], by_mm: float) -> list[Point]:
    """Move a polyline to its right-hand side, walking from the middle outward: into the body."""
    normals = []
    for (y0, z0), (y1, z1) in pairwise(surface):
        length = math.hypot(y1 - y0, z1 - z0)
        normals.append(((z1 - z0) / length, (y0 - y1) / length))
    ends = [normals[0], *normals, normals[-1]]
    moved = []
    for (y, z), (ay, az), (by, bz) in zip(surface, ends, ends[1:], strict=False):
        share = by_mm / (1 + ay * by + az * bz)  # mitre: keeps both sides at the same depth
        moved.append((y + share * (ay + by), z + share * (az + bz)))
    return moved


def _bend_deg(before: Point, here: Point, after: Point) -> float:
    into = math.atan2(here[1] - before[1], here[0] - before[0])
    out = math.atan2(after[1] - here[1], after[0] - here[0])
    return abs((math.degrees(out - into) + 180.0) % 360.0 - 180.0)


def _rod(
    start: Point, end: Point, radius: float, before_deg: float | None, after_deg: float | None, material: Material
) -> Turned:
    """Return a round rod from `start` to `end`, both (y, z), bent against its neighbours by these angles.

    It ends in a ball where it has no neighbour or the bend is sharp; where the bend is gentle it is
    drawn out flat until the outer sides of the two rods meet.
    """
    z, length = start[1], math.dist(start, end)
    low = _rod_end(radius, before_deg)
    high = _rod_end(radius, after_deg)
    profile = [*((r, z - past) for r, past in low), *((r, z + length + past) for r, past in reversed(high))]
    return Turned(
        profile=tuple(profile),
        material=material,
        at=(0.0, start[0]),
        tilt_deg=math.degrees(math.atan2(end[0] - start[0], end[1] - start[1])),
        pivot_z_mm=z,
    )


def _rod_end(radius: float, bend_deg: float | None) -> list[Point]:
    """Return (radius, distance past the joint) of one end of a rod, from the axis to the side."""
    if bend_deg is not None and bend_deg <= GENTLE_DEG:
        past = radius * math.tan(math.radians(bend_deg / 2))
        return [(0.0, past), (radius, past)]
    ball = arc((0.0, 0.0), radius, 90.0, 0.0, BALL_DEG)
    return [(0.0, radius), *ball[1:]]
