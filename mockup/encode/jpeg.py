"""Pixels to the bytes of a JPEG file, small enough for a page."""

from __future__ import annotations

import io

import numpy as np
from numpy.typing import NDArray
from PIL import Image


def jpeg(pixels: NDArray[np.uint8], *, quality: int = 90) -> bytes:
    """Return a JPEG file of encoded sRGB pixels (h, w, 3); colour is kept at full resolution."""
    out = io.BytesIO()
    image = Image.fromarray(np.ascontiguousarray(pixels))
    image.save(out, "JPEG", quality=quality, subsampling=0, optimize=True, progressive=True)
    return out.getvalue()
