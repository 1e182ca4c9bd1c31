"""Pixels to the bytes of a picture file of the kind that its name asks for: PNG or JPEG."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePath

import numpy as np
from numpy.typing import NDArray

from mockup.decal.ink_over_paint import flatten
from mockup.encode.jpeg import jpeg
from mockup.encode.png import png
from mockup.options import JPEG, bad_option

_LONGEST_PX = 65535  # of a JPEG's side: ISO/IEC 10918-1 B.2.2, X and Y


def picture_file(
    name: str | PurePath,
    pixels: NDArray[np.uint8],
    *,
    dpi: float | None = None,
    text: Mapping[str, str] | None = None,
) -> bytes:
    """Return a picture file of encoded sRGB pixels (h, w, 3 or 4): JPEG, over white, where its name says so, else PNG.

    `dpi` and the facts in `text` go along. Raises `InputError` for more pixels than a JPEG can have.
    """
    if PurePath(name).suffix.lower() not in JPEG:
        return png(pixels, dpi=dpi, text=text)
    if max(pixels.shape[:2]) > _LONGEST_PX:
        what = f"a picture of {pixels.shape[1]} x {pixels.shape[0]} pixels is too large for a JPEG"
        raise bad_option("output", what, "end the name in .png")
    return jpeg(flatten(pixels), dpi=dpi, text=text)
