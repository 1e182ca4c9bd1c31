"""A page as pixels: its pictures keep theirs, lines and lettering are drawn over them."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image as Picture

from mockup import fonts
from mockup.decal.pictures import formats, vector
from mockup.encode.svg import svg
from mockup.model.material import Colour
from mockup.model.sheet import Image, Mark, Page, Text, moved
from mockup.model.units import MM_PER_INCH

_STRIP_PX = 1000  # a long page is drawn in pieces of at most this height; keeps memory bounded


def pixels(page: Page, px_per_mm: float, paper: Colour = (1.0, 1.0, 1.0)) -> NDArray[np.uint8]:
    """Return a page, (h, w, 3) encoded sRGB, on paper of a colour; a picture as fine as that keeps its own pixels.

    Everything else lies over the pictures. Raises `InputError` where it comes out too large.
    """
    wide, tall = (round(side * px_per_mm) for side in page.paper_mm)
    formats.check_size(page.title or "page", wide, tall)
    across, down = (stretch * px_per_mm for stretch in page.stretch)
    canvas = np.empty((tall, wide, 3), np.uint8)
    canvas[:] = np.rint(np.array(paper) * 255)
    for mark in page.marks:
        if isinstance(mark, Image):
            _paste(canvas, mark, across, down)
    drawn = [mark for mark in page.marks if not isinstance(mark, Image)]
    count = math.ceil(tall / _STRIP_PX)
    for index in range(count):
        top, low = tall * index // count, tall * (index + 1) // count
        below = canvas[top:low]
        marks = tuple(moved(mark, 0.0, -top / down) for mark in drawn)
        over = layer(replace(page, height_mm=(low - top) / down, marks=marks), px_per_mm)
        alpha = over[..., 3:].astype(np.float32) / 255.0
        below[:] = np.rint(below * (1.0 - alpha) + over[..., :3] * alpha)
    return canvas


def layer(page: Page, px_per_mm: float) -> NDArray[np.uint8]:
    """Return a page drawn on nothing, (h, w, 4) encoded sRGB and straight alpha, to lie over a picture."""
    dpi = px_per_mm * MM_PER_INCH
    typed = replace(page, marks=tuple(map(_as_typed, page.marks)))
    with fonts.paths() as files:
        return vector.draw(svg(typed), page.title or "page", dpi=dpi, fonts=tuple(map(str, files.values()))).pixels


def _as_typed(mark: Mark) -> Mark:
    """Return lettering in which two hyphens stay two: the font would join them to a dash."""
    return replace(mark, text=mark.text.replace("--", "-\u200c-")) if isinstance(mark, Text) else mark


def resampled(pixels: NDArray[np.uint8], width: int, height: int) -> NDArray[np.uint8]:
    """Return pixels at another size, or themselves where the size is theirs."""
    if pixels.shape[:2] == (height, width):
        return pixels
    return np.asarray(Picture.fromarray(pixels).resize((width, height), Picture.Resampling.LANCZOS))


def _paste(canvas: NDArray[np.uint8], mark: Image, across: float, down: float) -> None:
    """Lay a picture onto pixels; `across` and `down` are pixels for each millimetre of the page."""
    x, y = round(mark.x_mm * across), round(mark.y_mm * down)
    wide, tall = round(mark.width_mm * across), round(mark.height_mm * down)
    shown = resampled(mark.pixels, wide, tall)
    target = canvas[y : y + tall, x : x + wide]
    target[:] = shown[: target.shape[0], : target.shape[1]]
