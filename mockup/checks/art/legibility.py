"""How well lettering stands out from what is round it, by the ink model with its doubts.

A label's box, with a margin above and below, is cut into blocks as wide as a letter is high. In each,
art colours fall into two groups along the line that tells them apart best (Otsu's threshold on the
first principal axis of CIELAB); the group that fills the margins is the surround. Pixels halfway
between are edges and left out. The contrast of a block is that of its nearest shades (a tenth of the
pixels on either side may be nearer); the label's is that of its worst, a tenth of them left aside.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.checks.art.lettering import Piece
from mockup.checks.art.sheets import Bits, sheets_on
from mockup.checks.art.surface_colour import Place
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.difference import FLARE, ciede2000, encoded_to_lab
from mockup.decal import ink_over_paint
from mockup.model.mesh import Floats

Indices = NDArray[np.intp]

LEAST_ROWS, MOST_ROWS = 10, 40  # samples from top to bottom of a label with its margins, no finer than its pixels
MOST_COLUMNS = 700
MARGIN = 0.3  # above, below and beside, in heights of the letters
EDGE = 0.1  # of the way from one group to the other: what is farther inside is an edge pixel
NEAR_SHADES = 10.0  # percent of the pixels that may be nearer
LOW_BLOCKS = 10.0  # percent of the blocks that may be worse: none of fewer than eleven
FULL = 0.35  # of the usual number of letter samples; with fewer a block has cut off just an edge
STRONGEST = 90.0  # percentile of a thin letter that shows its colour
CORE = 0.15  # of a group: with less inside its edges, they have to count as well
LEAST_SHARE = 0.04  # of a block's pixels, for a group to count
LEAST_DE = 3.0  # between the two groups on white: less is no lettering


@dataclass(frozen=True, kw_only=True)
class Standing:
    """Contrast ratios at the worst and the best of the model's doubts.

    `letters` and `around` are the relative luminances of the lettering and of its surround as predicted, `black`
    the ratio that black ink would reach.
    """

    low: float
    high: float
    letters: float
    around: float
    black: float


def standing(built: Built, piece: Piece) -> Standing | None:
    """Return how a label stands out, or None where nothing is printed in its box."""
    uv, is_margin, column, rows = _grid(built, piece)
    spot = Place(built, piece.label.face, uv)
    blocks = _blocks(encoded_to_lab(spot.art / 255.0), is_margin, column, rows)
    if not blocks:
        return None
    ratios = []
    for seen in spot.doubts():
        light = rgb.luminance(seen)
        ratios.append(
            float(np.percentile([_ratio(light[b[0]], light[b[1]]) for b in blocks], LOW_BLOCKS, method="lower"))
        )
    light = rgb.luminance(spot.seen())
    letters, around = np.concatenate([b[0] for b in blocks]), np.concatenate([b[1] for b in blocks])
    level = float(np.percentile(light[around], NEAR_SHADES))
    return Standing(
        low=min(ratios),
        high=max(ratios),
        letters=float(np.median(light[letters])),
        around=level,
        black=(level + FLARE) / (_black(built, piece) + FLARE),
    )


def _black(built: Built, piece: Piece) -> float:
    """Return the luminance of black ink on the ground there: what the veil leaves of it."""
    on = ink_over_paint.ground(built.design.finish)
    return float(rgb.luminance(ink_over_paint.predict(np.zeros(3), on)))


def _grid(built: Built, piece: Piece) -> tuple[Floats, Bits, Floats, int]:
    """Return points (n, 2) over a label and its margins, which are margin, how far along it, and how many rows."""
    label = piece.label
    margin = MARGIN * label.height_mm
    tall, wide = label.height_mm + 2 * margin, label.width_mm + 2 * margin
    per_mm = min((min(sheet.per_mm) for sheet in sheets_on(built, label.face)), default=1.0)
    rows = int(np.clip(tall * per_mm, LEAST_ROWS, MOST_ROWS))
    columns = int(np.clip(round(wide / tall * rows), 8, MOST_COLUMNS))
    down = (np.arange(rows) + 0.5) / rows * tall - tall / 2
    along = (np.arange(columns) + 0.5) / columns * wide - wide / 2
    y, x = (each.ravel() for each in np.meshgrid(down, along, indexing="ij"))
    is_margin = (np.abs(y) > label.height_mm / 2) | (np.abs(x) > label.width_mm / 2)
    uv = np.stack([x, y], axis=1) @ piece.axes + (label.u_mm, label.v_mm)
    return uv, is_margin, (x + wide / 2) / label.height_mm, rows


def _blocks(lab: Floats, is_margin: Bits, column: Floats, rows: int) -> list[tuple[Indices, Indices]]:
    """Return (letters, surround) as indices for each block that holds both."""
    found = []
    for number in range(int(column.max()) + 1):
        here = np.flatnonzero((column >= number) & (column < number + 1))
        if len(here) < 3 * rows:
            continue
        own = lab[here]
        away = own - own.mean(axis=0)
        along = away @ np.linalg.eigh(away.T @ away)[1][:, -1]
        high = along > _otsu(along)
        if not LEAST_SHARE < high.mean() < 1 - LEAST_SHARE:
            continue
        if ciede2000(np.median(own[high], axis=0), np.median(own[~high], axis=0)) < LEAST_DE:
            continue
        groups = [here[_core(high, along, rows)], here[_core(~high, -along, rows)]]
        if min(len(group) for group in groups) < LEAST_SHARE / 4 * len(here):
            continue
        if high[is_margin[here]].mean() > 0.5:
            groups.reverse()
        found.append((groups[0], groups[1]))
    usual = float(np.median([len(letters) for letters, _ in found])) if found else 0.0
    return [pair for pair in found if len(pair[0]) >= FULL * usual]


def _core(group: Bits, along: Floats, rows: int) -> Bits:
    """Return the samples (n,) of a group that are no edge pixels; `along` is larger inside the group.

    They lie inside the group and have its usual colour or go beyond it; in letters too thin to have an
    inside, they have its strongest colour.
    """
    grid = group.reshape(rows, -1)
    inner = grid.copy()
    inner[1:] &= grid[:-1]
    inner[:-1] &= grid[1:]
    inner[:, 1:] &= grid[:, :-1]
    inner[:, :-1] &= grid[:, 1:]
    other = float(np.median(along[~group]))
    core = inner.ravel() & (along - other >= (1 - EDGE) * (np.median(along[group]) - other))
    if core.sum() >= max(8, CORE * group.sum()):
        return core
    return np.asarray(group & (along - other >= (1 - EDGE) * (np.percentile(along[group], STRONGEST) - other)))


def _otsu(values: Floats) -> float:
    """Return the threshold that splits values best into two groups (Otsu, IEEE Trans. SMC 9, 1979)."""
    counts, edges = np.histogram(values, 64)
    middle = (edges[1:] + edges[:-1]) / 2
    below = np.cumsum(counts)
    above = below[-1] - below
    mass = np.cumsum(counts * middle)
    with np.errstate(divide="ignore", invalid="ignore"):
        between = below * above * (mass / below - (mass[-1] - mass) / above) ** 2
    return float(edges[1:][np.nanargmax(np.where(above > 0, between, -1.0))])


def _ratio(letters: Floats, around: Floats) -> float:
    """Return the WCAG ratio of the letters' and the surround's nearest shades; 1 where they overlap."""
    if np.median(letters) < np.median(around):
        dark, light = np.percentile(letters, 100 - NEAR_SHADES), np.percentile(around, NEAR_SHADES)
    else:
        dark, light = np.percentile(around, 100 - NEAR_SHADES), np.percentile(letters, NEAR_SHADES)
    return max(1.0, float((light + FLARE) / (dark + FLARE)))
