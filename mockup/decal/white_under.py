"""White that is printed on the film before the colours: where it lies, and what is seen of art over it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.decal import ink_over_paint
from mockup.memo import memoize
from mockup.model.finish import Artwork, Decal, Finish
from mockup.model.scene import Look

Floats = NDArray[np.float64]
Pixels = NDArray[np.uint8]
Grounds = tuple[ink_over_paint.Ground, ink_over_paint.Ground]

SOLID = 128  # of 255: white that counts as there


def white_share(decal: Decal) -> Pixels | None:
    """Return how much white lies under each pixel of a decal's art, (h, w), 0 to 255; None where it has none.

    What is drawn is what is not transparent: art without transparency has white under all of it.
    """
    if decal.process.white is None:
        return None
    where = decal.art if decal.white_under == "drawn" else decal.white_under
    size = (decal.art.width_px, decal.art.height_px)
    return np.full(size[::-1], 255, np.uint8) if isinstance(where, str) else _drawn(where, size)


@memoize
def _drawn(art: Artwork, size: tuple[int, int]) -> Pixels:
    alpha = np.ascontiguousarray(art.pixels[..., 3])
    if alpha.shape == size[::-1]:
        return alpha
    return np.asarray(Image.fromarray(alpha).resize(size, Image.Resampling.BOX))


def grounds(finish: Finish, decal: Decal, look: Look = "proof") -> Grounds:
    """Return the grounds of ink beside the white of a decal and on it; equal where it has none."""
    beside, on_white = (ink_over_paint.ground(finish, film, look) for film in (decal.film, decal.ink_film))
    return beside, on_white


def reflected(art: Pixels | Floats, share: Floats | None, below: Floats, on: Grounds) -> Floats:
    """Return reflectance (..., 3), in bands, of art (..., 3) where a share (...) of it, 0 to 1, has white under it.

    Places that are half covered mix by area (Murray, J. Franklin Institute 221, 1936).
    """
    beside = ink_over_paint.overprint(art, below, on[0])
    if share is None or not share.any():
        return beside
    on_white = ink_over_paint.overprint(art, below, on[1])
    return np.asarray(beside + share[..., None] * (on_white - beside))
