"""How fine art really is, whatever its pixels claim: by the steepest of its edges, and by its steps.

Along every few rows and columns the lightness is cut into runs that only rise or only fall. A run that
rises far enough is an edge; its height over its steepest step is its width in pixels. Art at its own
resolution has edges about one pixel wide, art enlarged s times edges s pixels wide; what is drawn soft on
purpose is only part of the edges, so the sharpest tenth decides. A rise slower than an edge can be is a
gradient and does not count. Art enlarged by repeating pixels has sharp edges, but only at every s-th
column: that is told by the distances between columns where anything changes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.decal.ink_over_paint import flatten
from mockup.memo import memoize
from mockup.model.finish import Decal
from mockup.model.units import MM_PER_INCH

EVERY = 4  # rows and columns looked at: edges are longer than four pixels
LEAST_RISE = 64  # codes of 255: what is plainly an edge; the noise of a photograph stays below
WIDEST_MM = 0.6  # a rise slower than this is a gradient; 42 dpi enlarged to anything looks like it
SHARPEST = 10.0  # percent of the edges that decide
LEAST_EDGES = 150  # fewer say nothing safe
LEAST_STEPS = 40  # columns with a change, for the distances between them to mean anything


@dataclass(frozen=True)
class Sharpness:
    """How many pixels one true detail takes (1: all that the art claims), and how that was told."""

    factor: float
    is_stepped: bool


@memoize
def sharpness(decal: Decal) -> Sharpness | None:
    """Return how sharp a decal's art is at its printed size, or None where it has too few edges to tell."""
    light = np.asarray(Image.fromarray(flatten(decal.art.pixels)).convert("L"), np.int16)
    limit = WIDEST_MM * min(decal.dpi) / MM_PER_INCH
    widths = [_edges(light[EVERY // 2 :: EVERY], limit), _edges(light[:, EVERY // 2 :: EVERY].T, limit)]
    steps = [_step(light), _step(light.T)]
    if min(steps) >= 2.0:
        return Sharpness(min(steps), True)
    edges = np.concatenate(widths)
    if len(edges) < LEAST_EDGES:
        return None
    return Sharpness(max(1.0, float(np.percentile(edges, SHARPEST))), False)


def _edges(light: NDArray[np.int16], widest: float) -> NDArray[np.float64]:
    """Return the widths in pixels of all edges along the rows of (h, w) lightness."""
    if light.shape[1] < 3 or not light.size:
        return np.empty(0)
    step = np.zeros(light.shape, np.int16)
    np.subtract(light[:, 1:], light[:, :-1], out=step[:, :-1])  # the last column stays 0 and ends every run
    flat = step.ravel()
    sign = np.sign(flat).astype(np.int8)
    starts = np.concatenate([[0], np.flatnonzero(sign[1:] != sign[:-1]) + 1])
    rise = np.abs(np.add.reduceat(flat, starts, dtype=np.int32))
    steepest = np.maximum.reduceat(np.abs(flat), starts)
    is_edge = rise >= LEAST_RISE
    width = rise[is_edge] / steepest[is_edge]
    return np.asarray(width[width <= widest], np.float64)


def _step(light: NDArray[np.int16]) -> float:
    """Return the pixel repeat along the rows of (h, w) lightness; 1 where pixels are not repeated.

    Columns where some row changes by a visible step lie at least two apart, many times over, only if
    every pixel was drawn several times.
    """
    changes = np.flatnonzero((np.abs(np.diff(light, axis=1)) > 8).any(axis=0))
    if len(changes) < LEAST_STEPS:
        return 1.0
    gaps = np.diff(changes)
    least = int(gaps.min())
    near = gaps[gaps <= least + 1]
    if least < 2 or len(near) < LEAST_STEPS / 2:
        return 1.0
    return float(near.mean())
