"""White in art: an inkjet prints none, so that the paint shows wherever the art on clear film is white."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mockup.checks.art.legibility import core_and_ring
from mockup.checks.art.lettering import Piece
from mockup.checks.art.sheets import Sheet
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.decal.ink_over_paint import FAINT
from mockup.decal.white_under import SOLID, white_share
from mockup.memo import memoize
from mockup.model.finish import Artwork
from mockup.model.mesh import Floats

INKED = 60  # of 255: ink round white lettering, from which it is drawn to stand out; 40 of 40 found, 0 of 125 others


def is_white(built: Built, piece: Piece) -> bool:
    """Return whether a piece of lettering is drawn in white on clear film: on nothing, or knocked out of ink."""
    if piece.strokes is None or not piece.strokes.sheet.decal.film.is_clear:
        return False
    sheet = piece.strokes.sheet
    core, ring = core_and_ring(piece, piece.strokes)
    if float(np.median(sheet.ink_at(core))) >= FAINT or _has_white(sheet, core):
        return False
    return float(np.median(sheet.ink_at(ring))) >= INKED or _is_clear(sheet, ring)


def white_mm2(sheet: Sheet) -> float:
    """Return the area of opaque white, with no white under it, in art whose ground is transparent, else 0."""
    return _lost_share(sheet.decal.art, white_share(sheet.decal)) * sheet.decal.width_mm * sheet.decal.height_mm


def _is_clear(sheet: Sheet, points: Floats) -> bool:
    rows, columns, is_inside = sheet.indices(points)
    alpha = np.where(is_inside, sheet.decal.art.pixels[rows, columns, 3], 0)
    return float(np.median(alpha)) < SOLID


def _has_white(sheet: Sheet, points: Floats) -> bool:
    """Return whether the process lays white under most of the points."""
    white = white_share(sheet.decal)
    rows, columns, is_inside = sheet.indices(points)
    return white is not None and float(np.median(np.where(is_inside, white[rows, columns], 0))) >= SOLID


@memoize
def _lost_share(art: Artwork, under: NDArray[np.uint8] | None) -> float:
    """Return the share of the picture that is opaque white, where most of its border is transparent."""
    alpha = art.pixels[..., 3]
    border = np.concatenate([alpha[0], alpha[-1], alpha[:, 0], alpha[:, -1]])
    if float((border < SOLID).mean()) < 0.5:
        return 0.0
    is_lost = (alpha >= SOLID) & (rgb.least(art.pixels[..., :3]) > 255 - FAINT)
    return float((is_lost if under is None else is_lost & (under < SOLID)).mean())
