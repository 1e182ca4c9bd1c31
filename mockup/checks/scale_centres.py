"""Scale marks drawn round a knob whose middle is not that of the hole."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from mockup.checks import Case, part_text
from mockup.checks.art.sheets import Sheet, sheets
from mockup.checks.panel.built import Built
from mockup.clearance.placed import knob_figure
from mockup.decal.ink_over_paint import FAINT
from mockup.memo import memoize
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.mesh import Floats

READS = ("decals", "enclosure", "parts")
_POT = part_text("A", "pot-16", top=40, knob={"style": "barrel", "diameter": 18})
_TICKS = "".join(
    f'<path transform="translate({{0}} {{1}}) rotate({turn})" d="M-.3-13h.6v2h-.6z"/>' for turn in range(-150, 151, 30)
)
_MIDDLE = 25.0, 40.0 - 5.49  # the film begins 5.49 mm under the edge that places on the top are counted from
PLANTED = Case(_POT, _TICKS.format(_MIDDLE[0] + 1.0, _MIDDLE[1]))
SOUND = Case(_POT, _TICKS.format(*_MIDDLE))
BEYOND_MM = 8.0  # how far from a knob's edge its marks stand: common practice, no source
LONGEST_MM, LEAST_MM2 = 6.0, 0.1  # of a mark: common practice, no source
LEAST = 7  # marks that make a scale: fewer fit any circle
ROUND_DEG = 200.0  # least of the way round that they stand on: a scale has some 300
MOST_OF, UNEVEN = 0.8, 0.12  # share of the pieces that are marks, and how far their steps differ: our choice
STEADY_MM = 0.12  # how well they keep to their circle, root mean square: half a pixel of the grid that they are read in
"""Marks are known for a scale by how well they keep to one circle; what does not is no scale, and nothing is said."""


@dataclass(frozen=True, kw_only=True)
class Marks:
    """Separate pieces of ink: for each its middle (n, 2), and its cells (m, 2) on the face."""

    middles: Floats
    cells: tuple[Floats, ...]


def check(built: Built) -> Iterator[Finding]:
    """Yield the scales that are off centre by more than a hole drilled by hand may be."""
    limit = built.limits["wander_mm"]
    knobs = [part for part in built.design.parts if part.knob is not None]
    for sheet in sheets(built):
        for part in (each for each in knobs if each.face == sheet.decal.face and sheet.decal.art.file is not None):
            off = _off_centre(_marks(sheet), part)
            if off is None or math.hypot(*off) <= limit.value:
                continue
            yield Finding(
                severity="warn",
                title="Scale off centre",
                what="the scale marks round {first} stand on a circle whose middle is {measured} from its hole",
                subjects=Subject.parts(part.name),
                remedy="Move the marks {far} in the art, or move {first} onto their middle",
                measured=mm(round(math.hypot(*off), 2)),
                limit=limit,
                facts={"far": mm(round(math.hypot(*off), 1))},
                marks=(Mark.at(part, (part.knob.diameter_mm if part.knob else 16.0) / 2 + 3.0),),
            )


@memoize
def _marks(sheet: Sheet) -> Marks:
    """Return the pieces of ink of a film that are no larger than a mark."""
    is_ink = sheet.coarse >= 2 * FAINT
    (down, across), (x, y) = sheet.block, sheet.per_mm
    names, _ = ndimage.label(is_ink, np.ones((3, 3), bool))
    middles, cells = [], []
    for number, (rows, columns) in enumerate(ndimage.find_objects(names), start=1):
        size = (columns.stop - columns.start) * across / x, (rows.stop - rows.start) * down / y
        if max(size) > LONGEST_MM:
            continue
        own_rows, own_columns = np.nonzero(names[rows, columns] == number)
        if len(own_rows) * (across / x) * (down / y) < LEAST_MM2:
            continue
        place = np.stack([own_columns + columns.start + 0.5, own_rows + rows.start + 0.5], axis=1) * (across, down)
        on_face = sheet.to_face(place)
        weight = sheet.coarse[own_rows + rows.start, own_columns + columns.start].astype(float)
        middles.append(np.average(on_face, axis=0, weights=weight))
        cells.append(on_face)
    return Marks(middles=np.array(middles).reshape(-1, 2), cells=tuple(cells))


def _off_centre(marks: Marks, part: Placement) -> tuple[float, float] | None:
    """Return how far (u, v) the middle of the marks round a knob is from its axis; None where they are no scale."""
    knob = knob_figure(part)
    if knob is None or not len(marks.middles):
        return None
    axis = np.array([part.u_mm, part.v_mm])
    away = np.hypot(*(marks.middles - axis).T)
    near = np.flatnonzero((away > knob.radius_mm - 1.0) & (away < knob.radius_mm + BEYOND_MM))
    if len(near) < LEAST:
        return None
    ends = [_ends(marks, near, axis, way) for way in (-1, 1)]
    fits = [fit for points in (marks.middles[near], *ends) if (fit := _circle(points, axis)) is not None]
    if not fits:
        return None
    u, v, _ = min(fits, key=lambda each: each[2])
    return u - part.u_mm, v - part.v_mm


def _ends(marks: Marks, near: np.ndarray, axis: Floats, way: int) -> Floats:
    """Return the inner (-1) or outer (1) end of each mark: where its ink is nearest to the axis, or farthest."""
    found = []
    for index in near.tolist():
        away = np.hypot(*(marks.cells[index] - axis).T) * way
        found.append(marks.cells[index][away >= away.max() - 1e-6].mean(axis=0))
    return np.array(found)


def _circle(points: Floats, axis: Floats) -> tuple[float, float, float] | None:
    """Return (u, v, error) of the circle that most of some points stand on evenly, or None where there is none.

    What fits worst is left out.
    """
    kept = points
    while len(kept) >= max(LEAST, MOST_OF * len(points)):
        terms = np.column_stack([2 * (kept - axis), np.ones(len(kept))])
        u, v, rest = np.linalg.lstsq(terms, ((kept - axis) ** 2).sum(axis=1), rcond=None)[0].tolist()
        spokes = kept - axis - (u, v)
        wrong = np.hypot(*spokes.T) - math.sqrt(max(0.0, rest + u * u + v * v))
        error = math.sqrt(float((wrong**2).mean()))
        if error <= STEADY_MM:
            return (axis[0] + u, axis[1] + v, error) if _are_even(spokes) else None
        kept = np.delete(kept, int(np.abs(wrong).argmax()), axis=0)
    return None


def _are_even(spokes: Floats) -> bool:
    """Return whether marks go most of the way round, in equal steps or whole numbers of them."""
    turns = np.sort(np.degrees(np.arctan2(*spokes.T)))
    gaps = np.append(np.diff(turns), 360.0 - (turns[-1] - turns[0]))
    steps = np.delete(gaps, int(gaps.argmax()))
    share = steps / np.median(steps)
    return bool(360.0 - gaps.max() >= ROUND_DEG and (np.abs(share - np.round(share)) <= UNEVEN).mean() >= MOST_OF)
