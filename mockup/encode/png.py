"""Pixels to the bytes of a PNG file (ISO/IEC 15948)."""

from __future__ import annotations

import io
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from PIL.PngImagePlugin import PngInfo


def png(
    pixels: NDArray[np.uint8],
    *,
    dpi: float | tuple[float, float] | None = None,
    text: Mapping[str, str] | None = None,
    icc: bytes | None = None,
) -> bytes:
    """Return a PNG file of encoded sRGB pixels, shape (h, w, 3) or (h, w, 4) with straight alpha.

    `dpi`, one figure or (across, down), goes into the pHYs chunk (pixels per metre); `text` into iTXt
    chunks, one per key. The sRGB chunk names the encoding (rendering intent 0, perceptual), unless `icc`
    is the colour profile that the pixels are in: then the iCCP chunk holds that.
    """
    info = PngInfo()
    if icc is None:
        info.add(b"sRGB", b"\0")
    for key, value in (text or {}).items():
        info.add_itxt(key, value)
    out = io.BytesIO()
    image = Image.fromarray(np.ascontiguousarray(pixels))
    size = dpi if isinstance(dpi, tuple) else (dpi, dpi) if dpi else None
    image.save(out, "PNG", pnginfo=info, compress_level=6, icc_profile=icc, **({"dpi": size} if size else {}))
    return out.getvalue()
