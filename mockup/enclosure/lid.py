"""The lid: a plate with a lip that keys into the body, four countersunk holes, their screws, and rubber feet."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from mockup.enclosure.skin import inner_skin, outer_skin
from mockup.geometry.planar import CHORD_MM, contour, inset
from mockup.geometry.poses import turn
from mockup.geometry.solids import Solid, cut, prism, solid, united
from mockup.geometry.tessellate import tessellate
from mockup.memo import memoize
from mockup.model.enclosure import FOOT_MM, Enclosure, FaceName, faces
from mockup.model.material import CAST_ALUMINIUM, RUBBER, STEEL
from mockup.model.mesh import Mesh, joined
from mockup.model.shape import Extruded, Outline, Point, Turned

# Size: tapping drill (major diameter less the pitch of ISO 261's coarse thread, from memory), clearance hole
# (ISO 273:1979, medium series H13), countersink (ISO 15065:2005, middle of Dc for 90 degree heads to ISO 7721,
# from memory).
_SCREWS_MM = {
    2.0: (1.6, 2.4, 4.45),
    2.5: (2.05, 2.9, 5.55),
    3.0: (2.5, 3.4, 6.4),
    3.5: (2.9, 3.9, 8.3),
    4.0: (3.3, 4.5, 9.5),
    5.0: (4.2, 5.5, 10.525),
    6.0: (5.0, 6.6, 12.725),
}
CORE_MM, CLEARANCE_MM, COUNTERSINK_MM = ({size: row[i] for size, row in _SCREWS_MM.items()} for i in range(3))
LEAST_LID_MM = 0.2  # plate left above a countersink, at least: common practice, no source
EDGE_MM = 0.3  # broken edge of the plate: common practice, no source
SINK_MM = 0.1  # screw head below the plate's underside: common practice, no source
SLACK_MM = 0.02  # head to countersink, so that the two never coincide: drawing aid
SHANK_MM = 6.0  # screw below the plate: common practice, no source
MARGIN_MM = 0.8  # countersink to the edge of the plate, at least: common practice, no source
LIP_PLAY_MM = 0.3  # lip to walls and posts: from memory
LIP_EDGE_MM = 0.2  # broken upper edge of the lip, at most: common practice, no source
SEAM_DEPTH_MM = 0.6  # how deep the line between lid and body is seen into: our choice
REACH_MM = 1.0  # how far a cutter overshoots the surface it goes through
SCREW_TURNS_DEG = (12.0, 71.0, 38.0, 3.0)  # screws stop where they stop: a picture's detail


def screw_size(box: Enclosure) -> float:
    """Return the nominal screw size in the tables that is nearest to the box's own, millimetres."""
    return min(COUNTERSINK_MM, key=lambda size: abs(size - box.screw_mm))


def screw_places(box: Enclosure) -> tuple[Point, ...]:
    """Return the four screws' axes (x, y), millimetres.

    A post keeps half a wall clear of the outer skin at the ceiling, where the draft brings it nearest,
    and so grows together with the corner; the countersink keeps clear of the plate's edge.
    """
    skin = outer_skin(box)
    radius, ceiling = box.post_mm / 2, box.height_mm - box.top_mm
    clear = max(
        radius + box.wall_mm / 2 + skin.inset_mm(ceiling),
        COUNTERSINK_MM[screw_size(box)] / 2 + MARGIN_MM,
    )
    if clear < box.corner_mm:  # inside the corner's quarter circle the nearest edge lies on the diagonal
        clear = box.corner_mm - (box.corner_mm - clear) / math.sqrt(2)
    x, y = box.width_mm / 2 - clear, box.length_mm / 2 - clear
    return ((x, y), (-x, y), (-x, -y), (x, -y))


def foot_places(box: Enclosure) -> tuple[Point, ...]:
    """Return the middles (x, y) of the feet, mm: beside each screw, towards the lid's middle, clear of its head."""
    if box.feet_mm <= 0:
        return ()
    aside = (countersink(box)[0] / 2 + MARGIN_MM + FOOT_MM / 2) / math.sqrt(2)
    return tuple((x - math.copysign(aside, x), y - math.copysign(aside, y)) for x, y in screw_places(box))


def countersink(box: Enclosure) -> tuple[float, float, float]:
    """Return (diameter at the underside, depth of the cone, diameter of the hole), millimetres.

    In a thin plate the hole widens so that the cone keeps its outer diameter and its 90 degrees.
    """
    size = screw_size(box)
    wide, hole = COUNTERSINK_MM[size], CLEARANCE_MM[size]
    depth = min((wide - hole) / 2, max(box.lid_mm - LEAST_LID_MM, box.lid_mm / 2))
    return wide, depth, wide - 2 * depth


def lip_bars(box: Enclosure) -> dict[FaceName, tuple[Point, Point]]:
    """Return the lip's bars by the wall that each lies along: lowest and highest (x, y), millimetres.

    A bar keeps its play to the wall and to the posts at both ends, and to the wall's round corners.
    """
    inner, posts, top = inner_skin(box), screw_places(box)[0], box.lid_mm + box.lip_mm
    away = [half / 2 - inner.inset_mm(top) - LIP_PLAY_MM for half in (inner.width_mm, inner.length_mm)]
    long = [
        min(core, post - box.post_mm / 2 - box.inset_mm(top) - LIP_PLAY_MM)
        for core, post in zip(inner.core, posts, strict=True)
    ]
    pairs: tuple[tuple[FaceName, FaceName], ...] = (("left", "right"), ("near", "far"))
    found: dict[FaceName, tuple[Point, Point]] = {}
    for across, walls in enumerate(pairs):
        least, most, end = away[across] - box.lip_wall_mm, away[across], long[1 - across]
        if box.lip_mm <= 0 or least <= 0 or end <= box.lip_wall_mm:
            continue
        for wall, (low, high) in zip(walls, ((-most, -least), (least, most)), strict=True):
            found[wall] = ((low, -end), (high, end)) if across == 0 else ((-end, low), (end, high))
    return found


def lip_edge(box: Enclosure) -> float:
    """Return how much of the lip's upper edge is broken, millimetres."""
    return min(LIP_EDGE_MM, box.lip_mm / 2, box.lip_wall_mm / 4)


def lid_solid(box: Enclosure, chord_mm: float = CHORD_MM) -> Solid:
    """Return the drilled plate; z from 0 to the lid's thickness, and the lip over it.

    Regions: ``lid`` (painted outside, with face coordinates), ``lid inside`` (bare, lip included), ``lid seam`` and
    ``lid holes``.
    """
    edge = min(EDGE_MM, box.lid_mm / 4, box.corner_mm / 2)
    outline = Outline(kind="rectangle", width_mm=box.width_mm, height_mm=box.length_mm, corner_mm=box.corner_mm)
    plate = tessellate(
        Extruded(outline=outline, bottom_mm=-box.lid_mm, top_mm=0.0, bevel_mm=edge, material=CAST_ALUMINIUM), chord_mm
    ).moved(np.diag([1.0, -1.0, -1.0, 1.0]))
    wide, depth, hole = countersink(box)
    profile = (
        (0.0, -REACH_MM),
        (wide / 2 + REACH_MM, -REACH_MM),
        (hole / 2, depth),
        (hole / 2, box.lid_mm + REACH_MM),
        (0.0, box.lid_mm + REACH_MM),
    )
    cutters = [
        solid({"lid holes": tessellate(Turned(profile=profile, at=at, material=CAST_ALUMINIUM), chord_mm)})
        for at in screw_places(box)
    ]
    if box.seam_mm > 0:
        cutters.append(_seam(box, outline, chord_mm))
    is_inside = plate.normals[plate.faces[:, 0], 2] > 0.5
    outside = plate.part(plate.faces[~is_inside])
    mapped = replace(outside, uv=faces(box)["lid"].from_world(outside.vertices)[:, :2])
    regions = {"lid": mapped, "lid inside": plate.part(plate.faces[is_inside])}
    bars = [_bar(box, *corners) for corners in lip_bars(box).values()]
    return cut(united([solid(regions), *bars]), cutters)


def _seam(box: Enclosure, outline: Outline, chord_mm: float) -> Solid:
    """Return what is taken off round the plate, under the body's rim, so that a dark line is left."""
    deep = min(SEAM_DEPTH_MM, box.wall_mm / 2, box.corner_mm / 2)
    beyond = replace(outline, width_mm=box.width_mm + 2 * REACH_MM, height_mm=box.length_mm + 2 * REACH_MM)
    ring = [contour(beyond, chord_mm).points, contour(inset(outline, deep), chord_mm).points[::-1]]
    return prism("lid seam", ring, box.lid_mm - box.seam_mm, box.lid_mm + REACH_MM)


def _bar(box: Enclosure, low: Point, high: Point) -> Solid:
    outline = Outline(kind="rectangle", width_mm=high[0] - low[0], height_mm=high[1] - low[1])
    bar = Extruded(
        outline=outline,
        bottom_mm=box.lid_mm / 2,
        top_mm=box.lid_mm + box.lip_mm,
        at=((low[0] + high[0]) / 2, (low[1] + high[1]) / 2),
        bevel_mm=lip_edge(box),
        material=CAST_ALUMINIUM,
    )
    return solid({"lid inside": tessellate(bar)})


@memoize
def lid(box: Enclosure, chord_mm: float = CHORD_MM) -> dict[str, Mesh]:
    """Return the lid as regions: those of `lid_solid`, ``lid screws`` and, where it has them, ``lid feet``."""
    screw = _screw(box)
    screws = [screw.moved(turn(angle, at)) for angle, at in zip(SCREW_TURNS_DEG, screw_places(box), strict=True)]
    found = {**lid_solid(box, chord_mm).regions(), "lid screws": joined(screws)}
    return found if box.feet_mm <= 0 else {**found, "lid feet": joined(_feet(box))}


def _feet(box: Enclosure) -> list[Mesh]:
    """Return a rubber foot at each of its places."""
    foot, edge = FOOT_MM / 2, min(FOOT_MM / 8, box.feet_mm / 2)
    profile = ((0.0, -box.feet_mm), (foot - edge, -box.feet_mm), (foot, edge - box.feet_mm), (foot, 0.0), (0.0, 0.0))
    return [tessellate(Turned(profile=profile, at=at, material=RUBBER)) for at in foot_places(box)]


def _screw(box: Enclosure) -> Mesh:
    """Return one countersunk screw with a cross slot, head down at z = 0, on the z axis."""
    wide, _, hole = countersink(box)
    shank = CORE_MM[screw_size(box)] / 2
    wide = wide - 2 * SLACK_MM
    land = SINK_MM + 0.15  # height where the cone begins: common practice, no source
    rim = wide / 2 - land
    neck = min(hole / 2 - SLACK_MM, max(shank, 0.6 * rim))
    profile = (
        (0.0, SINK_MM),
        (rim, SINK_MM),
        (rim, land),
        (neck, wide / 2 - neck),
        (shank, wide / 2 - neck + 0.1),
        (shank, box.lid_mm + SHANK_MM),
        (0.0, box.lid_mm + SHANK_MM),
    )
    head = solid({"screw": tessellate(Turned(profile=profile, material=STEEL))})
    slots = []
    for angle in (0.0, 90.0):  # 1.1 by 0.32 of the head's radius, 0.4 deep: about a cross slot, from memory
        bar = Outline(kind="rectangle", width_mm=1.1 * rim, height_mm=0.32 * rim)
        mesh = tessellate(
            Extruded(
                outline=bar,
                bottom_mm=SINK_MM - REACH_MM,
                top_mm=SINK_MM + 0.4 * rim,
                rotation_deg=angle,
                bevel_mm=0.1 * rim,
                material=STEEL,
            )
        )
        slots.append(solid({"slot": mesh}))
    return joined(cut(head, slots).regions().values())
