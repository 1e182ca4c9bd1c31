"""A guide left on in the art: which of the lines that a guide of this layout has are drawn where it has them.

Every line of the guide is followed in steps; a step counts where something as thin as a line stands out from what is
on both its sides, in whatever colour and on whatever ground. A line is there where enough of its dashes count, and
far more than beside it: dots and grain count beside it as well.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy import ndimage

from mockup.checks.art.sheets import Sheet, sheets_on
from mockup.checks.panel.built import Built
from mockup.checks.panel.guide import CROSS_MM, SETS, Trace, traces
from mockup.colour import rgb
from mockup.memo import MEMORY
from mockup.model.enclosure import FaceName
from mockup.model.mesh import Floats

STEP_MM = 0.2  # along a line: finer than half its shortest dash
ACROSS_MM = 0.04  # between two places across it: one pixel at 600 dpi
NEAR_MM = 0.2  # that a line may lie off: a pixel or two of a layer that was moved; our choice
SIDE_MM = 0.34  # from its middle to what it stands out from: a line drawn by hand is up to half a millimetre wide
APART_MM = 0.7  # beside it, where grain and dots would count as well
TELLS = 28  # of 255, in the channel that tells best; measured down to guides of half their strength
DRAWN, ABOVE = 0.6, 0.3  # shares of its dashes that have to count, and to count more than beside it; measured
LAYER = 3  # lines from which a whole layer of them is on: our choice
ARM_MM = 8.0  # that the arm of a cross by hand is long, at most: our choice
LEAST_STEPS = 6  # on the sheet; shorter is a dot
HERE = 0.8  # share of a line that has to lie on the sheet: the box's own edge hardly ever does


@dataclass(frozen=True, kw_only=True, eq=False)
class GuideLine:
    """One line of the guide that is drawn: what it goes round, how far off it lies, and where it is drawn (n, 2)."""

    trace: Trace
    off_mm: float
    drawn: Floats


def guide_lines(built: Built, face: FaceName) -> tuple[GuideLine, ...]:
    """Return the lines of a guide that are drawn on a face; empty where they are too few for a layer of them."""
    design = built.design
    decals = tuple(each for each in design.decals if each.face == face)
    parts = tuple(each for each in design.parts if each.face == face)
    if not decals:
        return ()
    read = (face, decals, parts, design.enclosure, built.limits["trim_mm"].value)
    return MEMORY.recall(guide_lines, read, lambda: _found(built, face))


def is_on_guide(built: Built, face: FaceName, uv: Floats) -> bool:
    """Return whether a place (2,) lies on a line of a guide that was left on."""
    return any(np.hypot(*(line.drawn - uv).T).min() <= SIDE_MM for line in guide_lines(built, face))


def _found(built: Built, face: FaceName) -> tuple[GuideLine, ...]:
    sets = {name: traces(built, face, name) for name in SETS if name != "labels"}  # a plate has a label's box too
    best: tuple[GuideLine, ...] = ()
    for sheet in sheets_on(built, face):
        rounds = {
            name: [line for each in all_ if each.is_closed and (line := _line(sheet, each, name))]
            for name, all_ in sets.items()
        }
        is_sure = len(rounds["holes"]) > 1  # a cross alone is too short to tell by
        crosses = [each for each in sets["holes"] if is_sure and not each.is_closed]
        found = [line for each in rounds.values() for line in each]
        is_spread = len({line.trace.about for line in found}) > 1
        found += [line for each in crosses if (line := _line(sheet, each, "holes"))]
        if len(found) >= LAYER and is_spread and len(found) > len(best):
            best = tuple(found)
    return best


def _line(sheet: Sheet, trace: Trace, name: str) -> GuideLine | None:
    """Return a line of the guide as it is drawn on a sheet, or None where it is not."""
    points, normals = _steps(trace)
    is_own = np.ones(len(points), bool)
    if name == "holes" and not trace.is_closed:  # a cross by hand has longer arms
        middle = trace.points.mean(axis=0)
        points, normals = _steps(replace(trace, points=middle + (trace.points - middle) * ARM_MM / CROSS_MM))
        is_own = np.hypot(*(points - middle).T) <= CROSS_MM
    reach = APART_MM + SIDE_MM + NEAR_MM
    offsets = np.arange(-reach, reach + ACROSS_MM / 2, ACROSS_MM)
    rows, columns, is_inside = sheet.indices(points[:, None] + offsets[:, None] * normals[:, None])
    is_here = is_inside[:, len(offsets) // 2]
    if is_here[is_own].sum() < LEAST_STEPS or is_here[is_own].mean() < HERE:
        return None
    colours = np.where(is_inside[..., None], sheet.colours[rows, columns], 255).astype(np.int16)
    side = round(SIDE_MM / ACROSS_MM)
    middle, before, after = colours[:, side:-side], colours[:, : -2 * side], colours[:, 2 * side :]
    one, other = middle - before, middle - after
    is_line = (one > 0) == (other > 0)  # the soft edge of something wide lies between both its sides
    tells = rgb.most(np.minimum(np.abs(one), np.abs(other)) * is_line) >= TELLS
    counts = ndimage.maximum_filter1d(tells, 3, axis=1)  # a line may run between two places, or waver by one
    at, share = offsets[side:-side], counts[is_own & is_here].mean(axis=0)
    near = np.flatnonzero(np.abs(at) <= NEAR_MM)
    own = int(near[np.argmax(share[near] - 1e-3 * np.abs(at[near]))])
    dash = SETS[name].dash_mm if trace.is_closed else None
    part = 1.0 if dash is None else dash[0] / sum(dash)
    beside = share[np.abs(np.abs(at) - APART_MM) <= ACROSS_MM].mean()
    if share[own] < DRAWN * part or share[own] - beside < ABOVE * part:
        return None
    is_drawn = counts[:, own] & is_here
    drawn = points[is_drawn] + at[own] * normals[is_drawn]
    return GuideLine(trace=trace, off_mm=abs(float(at[own])), drawn=drawn)


def _steps(trace: Trace) -> tuple[Floats, Floats]:
    """Return places (n, 2) evenly along a line of the guide, and unit normals (n, 2) there."""
    ends = np.roll(trace.points, -1, axis=0) if trace.is_closed else trace.points[1:]
    starts = trace.points if trace.is_closed else trace.points[:-1]
    lengths = np.hypot(*(ends - starts).T)
    reached = np.concatenate([[0.0], np.cumsum(lengths)])
    count = max(LEAST_STEPS, int(reached[-1] / STEP_MM))
    along = (np.arange(count) + 0.5) / count * reached[-1]
    edge = np.clip(np.searchsorted(reached, along, side="right") - 1, 0, len(starts) - 1)
    unit = (ends - starts)[edge] / np.maximum(lengths[edge], 1e-9)[:, None]
    points = starts[edge] + (along - reached[edge])[:, None] * unit
    return points, np.stack([unit[:, 1], -unit[:, 0]], axis=1)
