"""Ink that runs over the edge of its face, or up to the edge its film is cut at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from mockup.checks import Case
from mockup.checks.art.sheets import Bits, Sheet, sheets
from mockup.checks.panel.built import Built
from mockup.checks.report.sentences import listed
from mockup.decal.ink_over_paint import FAINT
from mockup.model.enclosure import Enclosure, Face
from mockup.model.finding import Fact, Finding, Quantity, mm
from mockup.model.mesh import Floats
from mockup.model.shape import turned

LIMITS = """
[over_edge_mm]
value = 0.2
about = "how far ink may run past the flat of its face"
source = "common practice, no source"
"""
READS = ("decals", "enclosure", "lost")
PLANTED = Case(art='<rect x="0.2" y="20" width="5" height="5"/>')
SOUND = Case(art='<rect x="10" y="20" width="5" height="5"/>')
BLEEDING = 0.8  # share of the film's border that is ink where art runs off on purpose: common practice, no source
INWARD_MM = (1.0, 2.0, 3.0, 4.0)  # how far in from an edge ink is looked for again: our choice
GOES_ON = 0.85  # share of that which is ink where a ground or a bar runs off: our choice
EDGE_PX = 1.0  # of an edge's soft pixels that a cut may go through: our choice
LEAST_SPOTS = 3  # blocks of a quarter of a millimetre: fewer are a speck
_SIDES = ("left", "right", "top", "bottom")


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for sheet in sheets(built):
        is_ink = sheet.coarse >= 2 * FAINT
        if is_ink.any() and _is_beside(built, sheet):
            yield _nowhere(built, sheet)
        elif is_ink.any():
            over = list(_over_edge(built, sheet, is_ink))
            yield from over
            yield from (each for each in _at_trim(built, sheet) if not each.is_advice or not over)


def past_flat(face: Face, box: Enclosure, uv: Floats) -> Floats:
    """Return how far points (..., 2) lie past the flat of a face, in millimetres; negative on it.

    The top's flat has rounded corners: what is left of the vertical corners' radius at its height.
    """
    left, top, right, bottom = face.flat
    u, v = uv[..., 0], uv[..., 1]
    widen = face.taper * np.clip(v, 0.0, face.height_mm)
    half_u, half_v = (right - left) / 2 + widen, (bottom - top) / 2
    radius = max(0.0, box.corner_mm - box.inset_mm(box.height_mm) - box.flat_inset_mm) if face.name == "top" else 0.0
    away_u = np.abs(u - (left + right) / 2) - (half_u - radius)
    away_v = np.abs(v - (top + bottom) / 2) - (half_v - radius)
    outside = np.hypot(np.maximum(away_u, 0.0), np.maximum(away_v, 0.0))
    past: Floats = outside + np.minimum(np.maximum(away_u, away_v), 0.0) - radius
    return past


def _over_edge(built: Built, sheet: Sheet, is_ink: Bits) -> Iterator[Finding]:
    limit, box = built.limits["over_edge_mm"], built.design.enclosure
    face = built.faces[sheet.decal.face]
    down, across = sheet.block
    rows, columns = np.nonzero(is_ink)
    spots = sheet.to_face(np.stack([(columns + 0.5) * across, (rows + 0.5) * down], axis=1))
    past = past_flat(face, box, spots)
    if int((past > limit.value).sum()) < LEAST_SPOTS:
        return
    worst = int(np.argmax(past))
    far = float(past[worst])
    bleeds = _bleeding(sheet) > BLEEDING or _runs_on(built, sheet, spots[past > limit.value])
    cell = across / sheet.per_mm[0] * down / sheet.per_mm[1]
    yield Finding(
        severity="note" if bleeds else "warn",
        title="Ink over the edge",
        what="ink of {first} runs {measured} past the flat part of the {face} face, "
        + ("over its rounded edge" if far <= box.flat_inset_mm else "off the face")
        + " ({area} of it)"
        + ("; it runs on to there, so nothing is lost" if bleeds else ""),
        subjects=(sheet.subject,),
        remedy="Film does not stretch over a rounded corner: cut it at the flat, or slit its corners"
        if bleeds
        else "Shrink the art or move it by {measured}",
        measured=mm(round(far, 2)),
        limit=limit,
        facts={"face": face.name, "area": Quantity(float((past > limit.value).sum() * cell), "mm²")},
        marks=(sheet.mark([(columns[worst] + 0.5) * across, (rows[worst] + 0.5) * down]),),
    )


def _lying(sheet: Sheet) -> tuple[float, float]:
    return turned(sheet.decal.width_mm, sheet.decal.height_mm, sheet.decal.rotation_deg)


def _is_beside(built: Built, sheet: Sheet) -> bool:
    """Return whether no bit of a film lies on its face; that it hangs over an edge is fine."""
    decal, face, (across, down) = sheet.decal, built.faces[sheet.decal.face], _lying(sheet)
    v = min(max(decal.v_mm, 0.0), face.height_mm)
    is_across = decal.u_mm + across / 2 > face.left_edge(v) and decal.u_mm - across / 2 < face.right_edge(v)
    return not (is_across and decal.v_mm + down / 2 > 0 and decal.v_mm - down / 2 < face.height_mm)


def _nowhere(built: Built, sheet: Sheet) -> Finding:
    """Return the stop for film beside its face, with the way that it has to go to lie on the flat."""
    decal, face, (across, down) = sheet.decal, built.faces[sheet.decal.face], _lying(sheet)
    left, top, right, bottom = face.flat
    ways = []
    for at, side, low, high, towards in (
        (decal.u_mm, across, left, right, ("right", "left")),
        (decal.v_mm, down, top, bottom, ("down", "up")),
    ):
        half = min(side, high - low) / 2
        back = min(max(at, low + half), high - half) - at
        if back:
            ways.append((mm(round(abs(back), 2)), towards[back < 0]))
    facts: dict[str, Fact] = {"face": face.name}
    for name, (far, way) in zip(("one", "other"), ways, strict=False):
        facts |= {name: far, f"{name}_way": way}
    return Finding(
        severity="stop",
        title="Art off its face",
        what="no bit of {first} lies on the {face} face",
        subjects=(sheet.subject,),
        remedy="Move {first} {one} {one_way}" + (" and {other} {other_way}" if len(ways) > 1 else "")
        if ways
        else "Move or shrink {first}",
        facts=facts,
        marks=(sheet.mark_whole(),),
    )


def _at_trim(built: Built, sheet: Sheet) -> Iterator[Finding]:
    """Yield ink too near to the edge of its film, as advice where it runs off on purpose."""
    limit = built.limits["trim_mm"]
    is_plain = sheet.ink >= 2 * FAINT
    rows, columns = np.flatnonzero(is_plain.any(axis=1)), np.flatnonzero(is_plain.any(axis=0))
    if not len(rows):
        return
    height, width = sheet.ink.shape
    across, down = sheet.per_mm
    ends = (columns[0] / across, (width - 1 - columns[-1]) / across, rows[0] / down, (height - 1 - rows[-1]) / down)
    doubt, cut_off = EDGE_PX / min(sheet.per_mm), _cut_off(built, sheet)
    room = dict(zip(_SIDES, ends, strict=True))
    tight = [side for side, left in room.items() if left + doubt < limit.value and side not in cut_off]
    if not tight:
        return
    least = min(room[side] for side in tight)
    bleeds = _bleeding(sheet) > BLEEDING or all(room[side] <= doubt and _reaches(sheet, side) for side in tight)
    yield Finding(
        severity="note" if bleeds else "warn",
        is_advice=bleeds,
        title="Ink up to the cut",
        what="ink of {first} comes within {measured} of the edge of its film {where}"
        if not bleeds
        else "{first} is printed up to the edge of its film: print it a millimetre larger all round and cut it to size",
        subjects=(sheet.subject,),
        remedy="" if bleeds else "Add {missing} of clear film {where}",
        measured=mm(round(float(least), 2)),
        limit=limit,
        facts={"where": "all round" if len(tight) == len(_SIDES) else f"on the {listed(tight)}"},
        marks=(sheet.mark_whole(),),
    )


def _cut_off(built: Built, sheet: Sheet) -> set[str]:
    """Return the sides at which a film that the tool adds ends because lettering runs past the flat: told by itself."""
    if sheet.decal.art.file is not None:
        return set()
    lost = [
        dict(zip(("left", "top", "right", "bottom"), ink.past_mm, strict=True))
        for ink in built.design.lost
        if ink.face == sheet.decal.face
    ]
    return {side for past in lost for side, by_mm in past.items() if by_mm}


def _runs_on(built: Built, sheet: Sheet, spots: Floats) -> bool:
    """Return whether the ink at some places (n, 2) of a face goes on towards its middle, as a ground or a bar does.

    Lettering and frames do not: a few millimetres farther in there is none.
    """
    left, top, right, bottom = built.faces[sheet.decal.face].flat
    low, high = np.array([left, top]), np.array([right, bottom])
    inside = np.clip(spots, low, high)
    middle = (low + high) / 2
    ways = np.where(inside != spots, np.sign(middle - spots), 0.0)
    steps = [inside + far * ways for far in INWARD_MM]
    return bool(np.mean([sheet.ink_at(each) >= FAINT for each in steps]) >= GOES_ON)


def _reaches(sheet: Sheet, side: str) -> bool:
    """Return whether the ink at one side of a film touches its edge there and goes on inward."""
    is_ink = sheet.coarse >= FAINT
    turned = is_ink if side in ("top", "bottom") else is_ink.T
    rows = turned if side in ("top", "left") else turned[::-1]
    per_cell = sheet.block[side in ("left", "right")] / sheet.per_mm[side in ("top", "bottom")]
    deep = [min(len(rows) - 1, round(far / per_cell)) for far in INWARD_MM]
    at_edge = rows[0]
    return bool(at_edge.any() and np.mean([rows[row][at_edge] for row in deep]) >= GOES_ON)


def _bleeding(sheet: Sheet) -> float:
    """Return which share of the film's border is ink, pale ink too."""
    is_ink = sheet.coarse >= FAINT
    border = np.concatenate([is_ink[0], is_ink[-1], is_ink[:, 0], is_ink[:, -1]])
    return float(border.mean())
