"""Holes in the box: the cutters that make them, and the tests that tell a bad one.

The cheap test comes first: a circle round the hole inside the flat of its face, clear of everything
inside. Only what fails it is looked at in the drilled solid: the regions that share an edge with the
hole's wall say where it went. Counting handles or pieces could not.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from mockup.enclosure.lid import screw_places
from mockup.enclosure.skin import inner_skin, outer_skin
from mockup.geometry.extrude import band, cap
from mockup.geometry.planar import CHORD_MM, contour, distance_inside_rounded_rectangle, reach
from mockup.geometry.solids import Solid, common, solid
from mockup.model.bore import Bore, BoreProblem
from mockup.model.enclosure import Enclosure, Face, FaceName

OVERSHOOT_MM = 1.0  # beyond both sides of the wall: less risks a skin, more hits what lies behind: measured
TOUCH_MM3 = 1e-6  # shared volume below this is rounding


def wall_region(bore: Bore) -> str:
    """Return the name of the region that a bore's wall gets in a drilled solid."""
    return f"bore:{bore.name}|wall"


def end_region(bore: Bore) -> str:
    """Return the name of the region that the bore's end gets, where it does not come out."""
    return f"bore:{bore.name}|end"


def cutter(box: Enclosure, faces: Mapping[FaceName, Face], bore: Bore, chord_mm: float = CHORD_MM) -> Solid:
    """Return the prism that a bore takes away, perpendicular to its face."""
    ring = contour(bore.outline, chord_mm)
    thickness = box.top_mm if bore.face == "top" else box.wall_mm
    low, high = -thickness - OVERSHOOT_MM, OVERSHOOT_MM
    pose = faces[bore.face].pose(bore.u_mm, bore.v_mm, bore.rotation_deg)
    return solid(
        {
            wall_region(bore): band(ring, low, ring, high).moved(pose),
            end_region(bore): cap(ring.points, low, is_top=False).moved(pose),
            f"bore:{bore.name}|mouth": cap(ring.points, high, is_top=True).moved(pose),
        }
    )


def is_clear(box: Enclosure, faces: Mapping[FaceName, Face], bore: Bore) -> bool:
    """True where a circle round the bore lies in the flat of its face and clear of posts and walls inside.

    The cheap test: False means "look closer", not "bad".
    """
    face, radius = faces[bore.face], reach(bore.outline)
    left, top, right, bottom = face.flat
    inner = inner_skin(box)
    if bore.face == "top":
        centre = face.to_world(np.array([bore.u_mm, bore.v_mm]))[:2]
        spaces = (
            (right - left, bottom - top, outer_skin(box).top_corner_mm),
            (
                inner.width_mm - 2 * inner.top_inset_mm,
                inner.length_mm - 2 * inner.top_inset_mm,
                inner.top_corner_mm,
            ),
        )
        inside = min(float(distance_inside_rounded_rectangle(centre, *space)) for space in spaces)
        posts = min(math.dist(centre, place) for place in screw_places(box)) - box.post_top_mm / 2
        return min(inside, posts) > radius
    across = 0 if bore.face in ("near", "far") else 1
    sideways = abs(bore.u_mm - face.width_mm / 2) + radius
    post = abs(screw_places(box)[0][across]) - box.post_top_mm / 2
    highest = box.height_mm - (bore.v_mm - radius) * math.cos(math.radians(box.draft_deg))
    return (
        left + radius < bore.u_mm < right - radius
        and top + radius < bore.v_mm < bottom - radius
        and sideways < min(inner.core[across], post)
        and highest < inner.wall_top_mm
    )


def near_pairs(
    faces: Mapping[FaceName, Face], bores: Sequence[Bore], cutters: Sequence[Solid]
) -> list[tuple[int, int]]:
    """Return the pairs of bores of different parts that might overlap, lower index first."""
    if len(bores) < 2:
        return []
    low = np.array([each.bounds()[0] for each in cutters])
    high = np.array([each.bounds()[1] for each in cutters])
    meets = ((low[:, None] <= high[None]) & (low[None] <= high[:, None])).all(axis=-1)
    pairs = []
    for first, second in np.argwhere(np.triu(meets, 1)).tolist():
        a, b = bores[first], bores[second]
        if a.part == b.part:
            continue
        apart = math.hypot(a.u_mm - b.u_mm, a.v_mm - b.v_mm)
        if a.face != b.face or apart < reach(a.outline) + reach(b.outline):
            pairs.append((first, second))
    return pairs


def problems(
    box: Enclosure,
    faces: Mapping[FaceName, Face],
    bores: Sequence[Bore],
    cutters: Sequence[Solid],
    undrilled: Solid,
    drilled: Solid,
) -> tuple[BoreProblem, ...]:
    """Return what is wrong with each bore, in the order of `bores`; empty where all are good."""
    found: list[tuple[int, BoreProblem]] = []
    for first, second in near_pairs(faces, bores, cutters):
        if common(common(cutters[first], cutters[second]), undrilled).volume > TOUCH_MM3:
            found.append((second, _overlap(bores[second], bores[first])))
    suspects = [index for index, bore in enumerate(bores) if not is_clear(box, faces, bore)]
    touching = drilled.neighbours() if suspects else {}
    overlapping = {name for _, each in found for name in (each.bore, each.other)}
    for index in suspects:
        bore = bores[index]
        beside = touching.get(wall_region(bore))
        if beside is not None:
            found.extend((index, each) for each in _at_its_wall(bore, beside, touching, _behind(box, faces, bore)))
        elif common(cutters[index], undrilled).volume <= TOUCH_MM3:
            found.append((index, _misses(bore)))
        elif bore.name not in overlapping:  # nothing of its wall is left, and no other hole took it
            found.append((index, _breaks_out(bore, "every edge")))
    return tuple(each for _, each in sorted(found, key=lambda pair: pair[0]))


def _behind(box: Enclosure, faces: Mapping[FaceName, Face], bore: Bore) -> str:
    """Return in the trade's words what metal can lie behind a bore: a screw post, or else a wall."""
    inside = faces[bore.face].to_world(np.array([bore.u_mm, bore.v_mm]), -box.wall_mm)[:2]
    near = reach(bore.outline) + box.post_top_mm / 2
    return "a screw post" if any(math.dist(inside, at) < near for at in screw_places(box)) else "a wall"


def _at_its_wall(
    bore: Bore, beside: frozenset[str], touching: Mapping[str, frozenset[str]], behind: str
) -> list[BoreProblem]:
    """Return what the regions that share an edge with a bore's wall say about it."""
    result: list[BoreProblem] = []
    outside = sorted(
        name for name in beside if not name.startswith(("inner|", "bore:")) and name != f"{bore.face}|flat"
    )
    if outside:
        result.append(_breaks_out(bore, _edge_words(bore.face, outside)))
    if end_region(bore) in touching:
        result.append(_blind(bore, behind))
    if not result and f"{bore.face}|flat" not in beside and not any(name.startswith("bore:") for name in beside):
        result.append(_misses(bore))  # it cuts something, but not the face it is meant for
    return result


def _edge_words(face: FaceName, regions: Sequence[str]) -> str:
    """Return in the trade's words which edges of a face some regions stand for."""
    words = []
    for region in regions:
        name, _, part = region.partition("|")
        if name == "rim":
            words.append("the open rim")
        elif part == "edge" or name == "top":
            words.append("the rounded top edge")
        elif part == "corner":
            words.append("a rounded corner")
        else:
            words.append(f"the {name} wall")
    return " and ".join(dict.fromkeys(words))


def _misses(bore: Bore) -> BoreProblem:
    return BoreProblem(bore=bore.name, trouble="misses", what=f"the hole misses the {bore.face} face altogether")


def _breaks_out(bore: Bore, over: str) -> BoreProblem:
    what = f"the hole breaks out of the flat of the {bore.face} face over {over}"
    return BoreProblem(bore=bore.name, trouble="breaks-out", what=what)


def _blind(bore: Bore, into: str) -> BoreProblem:
    what = f"the hole in the {bore.face} face runs into {into} inside the box"
    return BoreProblem(bore=bore.name, trouble="blind", what=what)


def _overlap(bore: Bore, other: Bore) -> BoreProblem:
    what = f"the hole overlaps the hole {other.name}"
    return BoreProblem(bore=bore.name, trouble="overlaps", what=what, other=other.name)
