"""Pixels to the bytes of a JPEG file, small enough for a page."""

from __future__ import annotations

import io
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.encode.document import Photo


def jpeg(
    pixels: NDArray[np.uint8], *, quality: int = 90, dpi: float | None = None, text: Mapping[str, str] | None = None
) -> bytes:
    """Return a JPEG file of encoded sRGB pixels (h, w, 3); colour is kept at full resolution.

    `text` holds facts about the picture, which stand in its comment, a line each.
    """
    out = io.BytesIO()
    image = Image.fromarray(np.ascontiguousarray(pixels))
    more: dict[str, Any] = {"dpi": (dpi, dpi)} if dpi is not None else {}
    if text:
        more["comment"] = "\n".join(f"{name}: {value}" for name, value in text.items()).encode()
    image.save(out, "JPEG", quality=quality, subsampling=0, optimize=True, progressive=True, **more)
    return out.getvalue()


def jpeg_photo(name: str, pixels: NDArray[np.uint8], *, alt: str, caption: str, quality: int = 90) -> Photo:
    """Return such a file as a picture of a document."""
    tall, wide = pixels.shape[:2]
    data = jpeg(pixels, quality=quality)
    return Photo(name=name, data=data, media="image/jpeg", width_px=wide, height_px=tall, alt=alt, caption=caption)
