"""How well lettering stands out from what is round it, by the ink model with its doubts.

A label's box, with a margin above and below, is cut into blocks as wide as a letter is high. In each,
art colours fall into two groups along the line that tells them apart best (Otsu's threshold on the
first principal axis of CIELAB); the group that fills the margins is the surround. Pixels halfway
between are edges and left out. The contrast of a block is that of its nearest shades (a tenth of the
pixels on either side may be nearer); the label's is what a fifth of its blocks fall below.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.checks._built import Built
from mockup.checks._lettering import Piece
from mockup.checks._seen import Place
from mockup.checks._sheet import Bits
from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.model.mesh import Floats
from mockup.surface import ink

Indices = NDArray[np.intp]

ROWS = 40  # samples from top to bottom of a label with its margins: 25 across a capital
MOST_COLUMNS = 700
MARGIN = 0.3  # above, below and beside, in heights of the letters
EDGE = 0.1  # of the way from one group to the other: what is farther inside is an edge pixel
NEAR_SHADES = 10.0  # percent of the pixels that may be nearer
LOW_BLOCKS = 20.0  # percent of the blocks that may be worse
LEAST_SHARE = 0.04  # of a block's pixels, for a group to count
LEAST_DE = 3.0  # between the two groups on white: less is no lettering
_FLARE = 0.05  # WCAG 2.2, "contrast ratio"


@dataclass(frozen=True, kw_only=True)
class Standing:
    """Contrast ratios at the worst and the best of the model's doubts, and CIEDE2000 as predicted.

    `around` is the relative luminance of the surround and `black` the ratio that black ink would reach.
    """

    low: float
    high: float
    difference: float
    around: float
    black: float


def standing(built: Built, piece: Piece) -> Standing | None:
    """Return how a label stands out, or None where nothing is printed in its box."""
    uv, is_margin, column = _grid(piece)
    spot = Place(built, piece.label.face, uv)
    blocks = _blocks(encoded_to_lab(spot.art / 255.0), is_margin, column)
    if not blocks:
        return None
    ratios = []
    for seen in spot.doubts():
        light = rgb.luminance(seen)
        ratios.append(float(np.percentile([_ratio(light[b[0]], light[b[1]]) for b in blocks], LOW_BLOCKS)))
    seen = spot.seen()
    lab, light = encoded_to_lab(seen), rgb.luminance(seen)
    letters, around = np.concatenate([b[0] for b in blocks]), np.concatenate([b[1] for b in blocks])
    gap = ciede2000(np.median(lab[letters], axis=0), np.median(lab[around], axis=0))
    level = float(np.percentile(light[around], NEAR_SHADES))
    return Standing(
        low=min(ratios),
        high=max(ratios),
        difference=float(gap),
        around=level,
        black=(level + _FLARE) / (_black(built, piece) + _FLARE),
    )


def _black(built: Built, piece: Piece) -> float:
    """Return the luminance of black ink on the ground there: what the veil leaves of it."""
    on = ink.ground(built.design.finish, "clear")
    return float(rgb.luminance(ink.predict_on(np.zeros(3), on)))


def _grid(piece: Piece) -> tuple[Floats, Bits, Floats]:
    """Return points (n, 2) over a label with its margins, which of them are margin, and their place along it (0 up)."""
    label = piece.label
    margin = MARGIN * label.height_mm
    tall, wide = label.height_mm + 2 * margin, label.width_mm + 2 * margin
    rows = ROWS
    columns = int(np.clip(round(wide / tall * rows), 8, MOST_COLUMNS))
    down = (np.arange(rows) + 0.5) / rows * tall - tall / 2
    along = (np.arange(columns) + 0.5) / columns * wide - wide / 2
    y, x = (each.ravel() for each in np.meshgrid(down, along, indexing="ij"))
    is_margin = (np.abs(y) > label.height_mm / 2) | (np.abs(x) > label.width_mm / 2)
    uv = np.stack([x, y], axis=1) @ piece.axes + (label.u_mm, label.v_mm)
    return uv, is_margin, (x + wide / 2) / label.height_mm


def _blocks(lab: Floats, is_margin: Bits, column: Floats) -> list[tuple[Indices, Indices]]:
    """Return (letters, surround) as indices for each block that holds both."""
    found = []
    for number in range(int(column.max()) + 1):
        here = np.flatnonzero((column >= number) & (column < number + 1))
        if len(here) < 2 * ROWS:
            continue
        own = lab[here]
        away = own - own.mean(axis=0)
        along = away @ np.linalg.eigh(away.T @ away)[1][:, -1]
        split = _otsu(along)
        high = along > split
        if not LEAST_SHARE < high.mean() < 1 - LEAST_SHARE:
            continue
        tops, bottoms = np.median(along[high]), np.median(along[~high])
        place = (along - bottoms) / (tops - bottoms)
        groups = [here[place >= 1 - EDGE], here[place <= EDGE]]
        if min(len(group) for group in groups) < LEAST_SHARE / 2 * len(here):
            continue
        if ciede2000(np.median(own[high], axis=0), np.median(own[~high], axis=0)) < LEAST_DE:
            continue
        if high[is_margin[here]].mean() > 0.5:
            groups.reverse()
        found.append((groups[0], groups[1]))
    return found


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
    return max(1.0, float((light + _FLARE) / (dark + _FLARE)))
