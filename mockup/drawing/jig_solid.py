"""A drill jig: a shell that sits over the box, with a bush to guide the pilot drill at every hole.

It is printed lying on its flat top, opening up, without supports. So the bushes of the top stand inward, from
the plate down to the box; those of the sides stand outward on a foot that leans back to the wall at 45 degrees,
the steepest that prints on nothing (common practice, no source); and where the plate meets its sides it is
chamfered, for a rounding would begin by hanging in the air.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from mockup.decal.curves import polygons
from mockup.decal.typeface import Typeface, line
from mockup.drawing.holes import Hole, guides
from mockup.drawing.lettering import Area, overlap_mm2
from mockup.enclosure.skin import Skin, lofted, outer_skin
from mockup.geometry.planar import CHORD_MM, on_face, polygon
from mockup.geometry.poses import turned_over
from mockup.geometry.solids import Solid, common, cut, hull, prism, solid, united
from mockup.geometry.tessellate import tessellate
from mockup.model.enclosure import Enclosure, Face, FaceName
from mockup.model.material import CAST_ALUMINIUM
from mockup.model.mesh import Floats
from mockup.model.shape import Extruded, Outline, Turned

_BELOW_MM = 1.0  # the hollow runs on below the shell's rim, so that the cut is clean
_BEYOND_MM = 1.0  # guide holes run on beyond both ends of their bush, for the same reason
_CHAMFER_MM = 1.0  # of the shell's own top edge, at 45 degrees: our choice
_ROOT_MM = 0.5  # bushes begin inside the plate that they stand on
_LAND_MM = 3.0  # of the plate's rim that rests on the top's flat, all round: our choice
_LEAST_ROOM_MM = 10.0  # a hollow above the top narrower than this is left solid: our choice
BUSH_WALL_MM = 1.2  # least wall of a bush, three lines of a common nozzle: common practice, no source
_LEAD_MM = 0.6  # countersink of a guide hole, so that the drill finds it: our choice
_ENGRAVED_MM = 0.6  # three layers of a common printer: common practice, no source
_LETTER_MM, _SPACED_MM, _AIR_MM = 4.0, 0.5, 1.0
"""Capitals that a common nozzle still draws; between letters; between lettering and what is round it: our choice."""
_AROUND_DEG = (0, 180, 90, 270, 45, 135, 225, 315)  # where a hole's number may stand about its bush, best first
RIM_GAP_MM = 1.0  # a full skirt ends this far above the lid: our choice


@dataclass(frozen=True, kw_only=True)
class JigSizes:
    """How a jig is made: clearance to the box on every side, walls, bushes and their holes."""

    fit_mm: float = 0.3  # what common printers need to slide on: common practice, no source
    wall_mm: float = 2.4  # six lines of a common nozzle: common practice, no source
    plate_mm: float = 4.0  # with the bush, twice the pilot drill's diameter and more: common practice, no source
    skirt_mm: float = 14.0  # long enough to sit square: our choice
    guide_mm: float = 3.2  # a 3 mm pilot drill turns freely in it: common practice, no source
    bush_mm: float = 9.0  # our choice
    bush_height_mm: float = 4.0  # our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Engraving:
    """Lettering in the plate: contours (n, 2) in the world's x and y, and the words that they spell."""

    words: str
    contours: tuple[Floats, ...]


@dataclass(frozen=True, kw_only=True, eq=False)
class GuideHole:
    """One guide hole: its hole's number, its name, its face, and where its axis meets the box: (u, v) and world."""

    number: int
    name: str
    face: FaceName
    u_mm: float
    v_mm: float
    at: Floats


def guide_places(faces: dict[FaceName, Face], holes: Sequence[Hole]) -> tuple[GuideHole, ...]:
    """Return where the guides of some holes stand: one for a round hole, two for a slot, four for a rectangle."""
    found = []
    for hole in holes:
        bore = hole.bore
        face = faces[bore.face]
        spots = guides(bore.outline)
        for index, spot in enumerate(spots, 1):
            u, v = on_face(spot, (bore.u_mm, bore.v_mm), bore.rotation_deg).tolist()
            name = bore.name if len(spots) == 1 else f"{bore.name}, guide {index}"
            at = face.to_world(np.array([u, v]))
            found.append(GuideHole(number=hole.number, name=name, face=bore.face, u_mm=u, v_mm=v, at=at))
    return tuple(found)


def engravings(
    face: Face,
    typeface: Typeface,
    places: Sequence[GuideHole],
    hole_mm: float,
    *,
    words: str = "",
) -> tuple[Engraving, ...]:
    """Return what is engraved in the plate over the top: FAR at its far edge, and each guide's number.

    `words` stand at the near edge. A box often takes the jig both ways round. What has no room beside the guide holes,
    `hole_mm` wide with their countersinks, is left out.
    """
    taken: list[Area] = []
    middles = [face.to_world(np.array([each.u_mm, each.v_mm]))[:2] for each in places if each.face == "top"]
    for x, y in middles:
        half = hole_mm / 2
        taken.append((x - half, y - half, x + half, y + half))
    corner, other = (face.to_world(np.array(at)) for at in ((face.flat[0], face.flat[1]), (face.flat[2], face.flat[3])))
    room: Area = (corner[0] + _AIR_MM, other[1] + _AIR_MM, other[0] - _AIR_MM, corner[1] - _AIR_MM)
    found: list[Engraving] = []

    def put(words: str, spots: Iterable[tuple[float, float]]) -> None:
        drawn = line(typeface, words, _LETTER_MM, _SPACED_MM)
        wide, tall = drawn.width_mm / 2 + _AIR_MM, drawn.height_mm / 2 + _AIR_MM
        for x, y in spots:
            area = (x - wide, y - tall, x + wide, y + tall)
            is_inside = area[0] >= room[0] and area[1] >= room[1] and area[2] <= room[2] and area[3] <= room[3]
            if is_inside and not any(overlap_mm2(area, each) for each in taken):
                taken.append(area)
                contours = tuple((each * (1.0, -1.0) + (x, y))[::-1] for each in polygons(drawn.curves))
                found.append(Engraving(words=words, contours=contours))
                return

    top = room[3] - _LETTER_MM / 2 - _AIR_MM
    put("FAR", ((x, top) for off in np.linspace(0.0, room[2], 40) for x in (off, -off)))
    if words:
        low = room[1] + _LETTER_MM / 2 + _AIR_MM
        put(words, ((x, low) for off in np.linspace(0.0, room[2], 40) for x in (off, -off)))
    for place, (x, y) in zip((each for each in places if each.face == "top"), middles, strict=True):
        away = hole_mm / 2 + 2.0 * _AIR_MM + _LETTER_MM / 2
        spots = (
            (x + away * math.cos(math.radians(each)), y + away * math.sin(math.radians(each))) for each in _AROUND_DEG
        )
        put(str(place.number), spots)
    return tuple(found)


def jig(
    box: Enclosure,
    faces: dict[FaceName, Face],
    places: Sequence[GuideHole],
    sizes: JigSizes,
    chord_mm: float = CHORD_MM,
    engraved: Sequence[Engraving] = (),
) -> Solid:
    """Return the jig in the box's own place: its plate lies over the top, its skirt hangs down the walls.

    The hollow is the box's own outside, widened by the fit. Over the flat of the top it is deeper by the
    bushes' height, all but a rim and the bushes, which rest on the box. Where a side has guides, the skirt
    reaches down to the rim. Raises `ValueError` with one plain sentence where the sizes make no jig.
    """
    problem = jig_problem(sizes)
    if problem is not None:
        raise ValueError(" ".join(problem))
    has_sides = any(place.face != "top" for place in places)
    low = box.lid_mm + RIM_GAP_MM if has_sides else max(box.lid_mm + RIM_GAP_MM, box.height_mm - sizes.skirt_mm)
    high = box.height_mm + sizes.plate_mm + sizes.bush_height_mm
    hollow = _named("hollow", _skin(box, sizes.fit_mm, low - _BELOW_MM, box.height_mm, box.edge_mm), chord_mm)
    shell = _chamfered(box, sizes.fit_mm + sizes.wall_mm, low, high, chord_mm)
    inward, outward, holes = [], [], []
    for place in places:
        pose = faces[place.face].pose(place.u_mm, place.v_mm)
        if place.face == "top":
            tip = sizes.plate_mm + sizes.bush_height_mm
            height = sizes.bush_height_mm + _ROOT_MM
            inward.append(_rod(f"bush {place.name}", sizes.bush_mm, 0.0, height, pose, chord_mm))
        else:
            tip = (sizes.fit_mm + sizes.wall_mm) / math.cos(_draft(box)) + sizes.bush_height_mm
            outward.append(_footed(f"bush {place.name}", sizes.bush_mm, box, tip, pose, chord_mm))
        lead = guide_lead_mm(sizes)
        holes.append(_drilled(f"guide {place.name}", sizes.guide_mm, tip, lead, pose, chord_mm))
    depth = min(_ENGRAVED_MM, sizes.plate_mm / 3)
    words = [prism(f"words {each.words}", each.contours, high - depth, high + _BEYOND_MM) for each in engraved]
    slab = prism("slab", [_around_all(box, sizes)], low, high)
    body = united([shell, *(common(each, slab) for each in outward)])
    body = cut(body, [hollow, *_room_above(box, faces["top"], sizes, chord_mm)])
    if sizes.bush_height_mm > 0:
        body = united([body, *(common(each, shell) for each in inward)])
    return cut(body, [*holes, *words])


def lying(made: Solid) -> Floats:
    """Return the (4, 4) pose that lays a jig on a printer's bed: turned over about y, its plate at z = 0."""
    return turned_over(float(made.bounds()[1][2]))


def guide_lead_mm(sizes: JigSizes) -> float:
    """Return how deep a guide hole is countersunk, at 45 degrees, where the drill goes in."""
    return min(_LEAD_MM, (sizes.bush_mm - sizes.guide_mm) / 4)


def jig_problem(sizes: JigSizes) -> tuple[str, str] | None:
    """Return which size makes a jig impossible (its name) and why, one plain sentence without full stop, or None."""
    for name, value, least, most in (  # beyond these nothing holds or nothing fits a bench: our choice
        ("fit", sizes.fit_mm, 0.0, 2.0),
        ("wall", sizes.wall_mm, 1.2, 10.0),
        ("plate", sizes.plate_mm, 1.0, 20.0),
        ("skirt", sizes.skirt_mm, 3.0, 200.0),
        ("guide", sizes.guide_mm, 0.5, 10.0),
        ("bush", sizes.bush_mm, 2.0, 30.0),
        ("bush height", sizes.bush_height_mm, 0.0, 30.0),
    ):
        if not least <= value <= most:  # never true of NaN
            return name, f"must be {least:g} to {most:g} mm, found {value:g} mm"
    if sizes.bush_mm < sizes.guide_mm + 2 * BUSH_WALL_MM:
        return "bush", f"{sizes.bush_mm:g} mm is too thin for a guide hole of {sizes.guide_mm:g} mm"
    return None


def _draft(box: Enclosure) -> float:
    return math.radians(box.draft_deg)


def _skin(box: Enclosure, out_mm: float, low_mm: float, high_mm: float, edge_mm: float) -> Skin:
    """Return the box's outside moved outward by `out_mm`, from one height to another."""
    outside = outer_skin(box)
    widened = out_mm - (low_mm - box.lid_mm) * math.tan(_draft(box))
    return Skin(
        width_mm=outside.width_mm + 2 * widened,
        length_mm=outside.length_mm + 2 * widened,
        corner_mm=outside.corner_mm + widened,
        low_mm=low_mm,
        high_mm=high_mm,
        draft_deg=box.draft_deg,
        edge_mm=edge_mm,
    )


def _chamfered(box: Enclosure, out_mm: float, low_mm: float, high_mm: float, chord_mm: float) -> Solid:
    """Return the shell's outside: the box's own moved outward, its upper edge cut off at 45 degrees."""
    skin = _skin(box, out_mm, low_mm, high_mm - _CHAMFER_MM, 0.0)
    walls = lofted(skin, chord_mm)
    bend = walls["top|flat"].vertices
    middles = np.sign(bend[:, :2]) * skin.core  # every point of a section lies on the arc of a corner
    inward = (middles - bend[:, :2]) / np.linalg.norm(middles - bend[:, :2], axis=1, keepdims=True)
    flat = np.column_stack([bend[:, :2] + _CHAMFER_MM * inward, np.full(len(bend), high_mm)])
    return hull("jig", np.concatenate([flat, *(each.vertices for each in walls.values())]))


def _room_above(box: Enclosure, top: Face, sizes: JigSizes, chord_mm: float) -> list[Solid]:
    """Return what is hollow between the top and the plate, if anything: it saves plastic and leaves chips a place."""
    width, length = (each - 2 * (box.flat_inset_mm + _LAND_MM) for each in (top.width_mm, top.height_mm))
    if sizes.bush_height_mm == 0 or min(width, length) < _LEAST_ROOM_MM:
        return []
    corner = min(max(box.corner_mm - box.flat_inset_mm - _LAND_MM, 1.0), min(width, length) / 2)
    shape = Outline(kind="rectangle", width_mm=width, height_mm=length, corner_mm=corner)
    floor = box.height_mm + sizes.bush_height_mm
    return [prism("room", [polygon(shape, chord_mm)], box.height_mm - _BELOW_MM, floor)]


def _around_all(box: Enclosure, sizes: JigSizes) -> Floats:
    """Return a rectangle, (4, 2) counter-clockwise, that holds the whole jig."""
    more = sizes.fit_mm + 2 * sizes.wall_mm + sizes.bush_height_mm + sizes.bush_mm
    x, y = box.width_mm / 2 + more, box.length_mm / 2 + more
    return np.array([[-x, -y], [x, -y], [x, y], [-x, y]])


def _footed(name: str, diameter_mm: float, box: Enclosure, tip_mm: float, pose: Floats, chord_mm: float) -> Solid:
    """Return a side's bush: a rod, and under it, as it is printed, a foot that leans back to the wall at 45 degrees.

    Its root lies deep enough for a corner's rounding; the hollow cuts it off. The wall itself leans by the
    draft, so that the foot leans that much further.
    """
    round_ = polygon(Outline(kind="circle", width_mm=diameter_mm), chord_mm)
    root = -box.corner_mm
    up = (tip_mm - root) * math.tan(math.pi / 4 + _draft(box))  # the part frame's y runs up the wall, to the bed
    ends = [(0.0, tip_mm), (0.0, root), (up, root)]
    x, y = round_.T
    points = np.concatenate([np.column_stack([x, y + off, np.full(len(x), z)]) for off, z in ends])
    return hull(name, points @ pose[:3, :3].T + pose[:3, 3])


def _named(name: str, skin: Skin, chord_mm: float) -> Solid:
    return solid({f"{name}|{part}": mesh for part, mesh in lofted(skin, chord_mm).items()})


def _drilled(name: str, diameter_mm: float, tip_mm: float, lead_mm: float, pose: Floats, chord_mm: float) -> Solid:
    """Return what is cut away for a guide hole whose bush ends at `tip_mm`: a bore that opens at 45 degrees."""
    radius, end = diameter_mm / 2, tip_mm + _BEYOND_MM
    profile = (
        (0.0, -_BEYOND_MM),
        (radius, -_BEYOND_MM),
        (radius, tip_mm - lead_mm),
        (radius + lead_mm + _BEYOND_MM, end),
        (0.0, end),
    )
    return solid({name: tessellate(Turned(profile=profile, material=CAST_ALUMINIUM), chord_mm).moved(pose)})


def _rod(name: str, diameter_mm: float, low_mm: float, high_mm: float, pose: Floats, chord_mm: float) -> Solid:
    outline = Outline(kind="circle", width_mm=diameter_mm)
    rod = Extruded(outline=outline, bottom_mm=low_mm, top_mm=high_mm, material=CAST_ALUMINIUM)
    return solid({name: tessellate(rod, chord_mm).moved(pose)})
