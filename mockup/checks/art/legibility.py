"""How well lettering stands out from what is round it, by the ink model with its doubts.

The letters' colour is that of the deepest fifth of their strokes; what is round them is a ring from just beside
their edge to an eighth of their height outside. The contrast is that of the worst tenth of the ring, so that a word
on a plate of its own is held against its plate, and one across stripes against the stripe that swallows it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from mockup.checks.art.lettering import Piece, Strokes
from mockup.checks.art.sheets import Bits
from mockup.checks.art.surface_colour import Place
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.difference import FLARE
from mockup.decal import ink_over_paint
from mockup.decal.ink_over_paint import FAINT
from mockup.decal.painting import finishes_under
from mockup.model.mesh import Floats

DEEPEST = 80.0  # percentile of depth in a stroke from which it shows its own colour; measured on 510 words
WORST = 10.0  # percent of the ring that is judged; the same
BESIDE_PX, REACH = 1.6, 0.12  # where the ring begins (pixels of the mask) and ends (heights); the same
EDGE_PX = 1.5  # pixels of the art that an edge is wide
ACROSS = (
    2.0  # times that the whole ring stands out more than its worst tenth where a word lies across stripes: our choice
)


@dataclass(frozen=True, kw_only=True)
class Standing:
    """Contrast ratios as predicted (`likely`), and at the worst and the best of the model's doubts.

    `letters` and `around` are the relative luminances of the lettering and of what it stands out from least, as
    predicted, `black` the ratio that black ink would reach there. `drawn` is the ratio in the art itself, on white;
    `is_on_ink` says whether what is round the word is drawn too, and `is_across` whether most of that would let it
    read well and only some of it does not.
    """

    low: float
    likely: float
    high: float
    letters: float
    around: float
    black: float
    drawn: float
    is_on_ink: bool
    is_across: bool


def standing(built: Built, piece: Piece) -> Standing | None:
    """Return how lettering stands out, or None where the art holds none."""
    if piece.strokes is None:
        return None
    core, ring = core_and_ring(piece, piece.strokes)
    inner = len(core)
    spot = Place(built, piece.label.face, np.concatenate([core, ring]))
    ratios = [_worst(rgb.luminance(seen), inner)[0] for seen in spot.doubts()]
    light = rgb.luminance(spot.seen())
    worst, usual, around = _worst(light, inner)
    return Standing(
        low=min(worst, *ratios),
        likely=worst,
        high=max(worst, *ratios),
        letters=float(np.median(light[:inner])),
        around=around,
        black=(around + FLARE) / (_black(built, piece) + FLARE),
        drawn=_worst(rgb.luminance(spot.art / 255.0), inner)[0],
        is_on_ink=float(np.median(255 - spot.art[inner:].min(axis=1))) >= FAINT,
        is_across=usual >= ACROSS * worst,
    )


def core_and_ring(piece: Piece, strokes: Strokes) -> tuple[Floats, Floats]:
    """Return points (n, 2) and (m, 2) of the face in the middle of a piece's strokes, and just round them."""
    height, width = strokes.mask.shape
    pixel_mm = np.array([piece.label.width_mm / width, piece.label.height_mm / height])
    start = max(BESIDE_PX, EDGE_PX / (float(pixel_mm.max()) * min(strokes.sheet.per_mm)))
    stop = max(REACH * height, start + 2.0)
    room = int(np.ceil(stop)) + 1
    mask: Bits = np.pad(strokes.mask, room)
    inside, outside = ndimage.distance_transform_edt(mask), ndimage.distance_transform_edt(~mask)
    is_core = mask & (inside >= np.percentile(inside[mask], DEEPEST))
    is_ring = (outside >= start) & (outside <= stop)

    def points(which: Bits) -> Floats:
        y, x = np.nonzero(which)
        away = np.stack([x + 0.5 - room - width / 2, y + 0.5 - room - height / 2], axis=1) * pixel_mm
        out: Floats = away @ piece.axes + (piece.label.u_mm, piece.label.v_mm)
        return out

    return points(is_core), points(is_ring)


def _worst(light: Floats, inner: int) -> tuple[float, float, float]:
    """Return the ratio of letters to the worst tenth of their ring and to its middle, and that tenth's luminance."""
    letters, ring = float(np.median(light[:inner])), light[inner:]
    ratios = (np.maximum(letters, ring) + FLARE) / (np.minimum(letters, ring) + FLARE)
    worst = float(np.percentile(ratios, WORST))
    return worst, float(np.median(ratios)), float(np.median(ring[ratios <= worst]))


def _black(built: Built, piece: Piece) -> float:
    """Return the luminance of black ink on the ground there: what the veil leaves of it."""
    on = ink_over_paint.ground(finishes_under(built.design.finish, piece.label)[0])
    return float(rgb.luminance(ink_over_paint.predict(np.zeros(3), on)))
