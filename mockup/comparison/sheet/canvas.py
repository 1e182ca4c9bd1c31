"""A page with pictures as pixels: the pictures keep theirs, lines and text are drawn over them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image as Picture

from mockup.drawing.paper import moved
from mockup.encode.svg import layer
from mockup.model.sheet import Image, Page
from mockup.model.units import MM_PER_INCH

_STRIP_PX = 1000  # a long page is drawn in pieces of this height; keeps memory bounded


def painted(page: Page, px_per_mm: float) -> NDArray[np.uint8]:
    """Return a page on white, (h, w, 3) encoded sRGB; a picture as fine as that keeps its own pixels.

    Everything else lies over the pictures.
    """
    size = round(page.width_mm * px_per_mm), round(page.height_mm * px_per_mm)
    canvas = np.full((size[1], size[0], 3), 255, np.uint8)
    for mark in page.marks:
        if isinstance(mark, Image):
            _paste(canvas, mark, px_per_mm)
    drawn = [mark for mark in page.marks if not isinstance(mark, Image)]
    for top in range(0, size[1], _STRIP_PX):
        below = canvas[top : top + _STRIP_PX]
        marks = tuple(moved(mark, 0.0, -top / px_per_mm) for mark in drawn)
        strip = replace(page, height_mm=below.shape[0] / px_per_mm, marks=marks)
        over = layer(strip, px_per_mm * MM_PER_INCH)
        alpha = over[..., 3:].astype(np.float32) / 255.0
        below[:] = np.rint(below * (1.0 - alpha) + over[..., :3] * alpha)
    return canvas


def _paste(canvas: NDArray[np.uint8], mark: Image, px_per_mm: float) -> None:
    x, y = round(mark.x_mm * px_per_mm), round(mark.y_mm * px_per_mm)
    wide, tall = round(mark.width_mm * px_per_mm), round(mark.height_mm * px_per_mm)
    pixels = mark.pixels
    if pixels.shape[:2] != (tall, wide):
        pixels = np.asarray(Picture.fromarray(pixels).resize((wide, tall), Picture.Resampling.LANCZOS))
    target = canvas[y : y + tall, x : x + wide]
    target[:] = pixels[: target.shape[0], : target.shape[1]]
