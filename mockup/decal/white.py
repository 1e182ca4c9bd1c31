"""Art whose white is not quite white: what is near enough prints nothing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from mockup.decal.ink_over_paint import ink_of
from mockup.memo import memoize
from mockup.model.finish import Artwork

NEAR = 24  # codes of 255 below white: JPEG's ringing and a flatbed's paper stay within it; our choice
MOST = 64  # the same: what is darker is a colour


@memoize
def whitened(art: Artwork, tolerance: int) -> Artwork:
    """Return art in which what is nearly white prints nothing; the file it came from stays as it is.

    A pixel counts as white where none of its three channels is more than `tolerance` codes of 255 below white, as the
    picture shows over white. From there to twice as far its ink fades in, so that no edge tears.
    """
    short = ink_of(art.pixels)
    codes = np.arange(256, dtype=np.float64)
    kept = np.clip((codes - tolerance) / tolerance, 0.0, 1.0)
    pixels = art.pixels.copy()
    pixels[..., 3] = np.rint(art.pixels[..., 3] * kept[short]).astype(np.uint8)
    note = f"What is within {tolerance} codes of white prints nothing, as the layout says."
    return replace(art, pixels=pixels, notes=(*art.notes, note))
