"""A colour in a photograph with a white card beside it.

Linear light is divided by the card's, channel by channel in sRGB: that takes out the light's colour and the exposure
(von Kries, 1902, with the camera's own primaries, as a camera's white balance does).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mockup.colour import rgb
from mockup.model.finish import Artwork
from mockup.model.material import Colour

Floats = NDArray[np.float64]
Point = tuple[float, float]

_WINDOW = 0.006  # of the picture's longer side, to each side of a point: our choice
_LEAST_PX = 2  # to each side of the point
_BURNT = 254  # 8-bit code from which a channel holds no more light than it says
_BURNT_SHARE = 0.2  # of the card's window: our choice
_DARKEST_CARD = 0.15  # linear; below it noise outweighs dark paint: our choice
_UNEVEN = 20  # 8-bit codes between the middles of two halves of a window: an edge, not noise; our choice


def paint_in(picture: Artwork, card: Point, paint: Point) -> Colour:
    """Return the encoded sRGB colour of a paint in a photograph with a white card beside it.

    Points are pixels from the top left corner as an image editor shows it. Raises `ValueError` with one plain
    sentence, and after a semicolon what to do, where a point lies outside of the picture or on an edge, or where the
    card is burnt out or too dark.
    """
    linear = np.clip(seen_at(picture, "the paint", paint) / white_at(picture, card), 0.0, 1.0)
    red, green, blue = rgb.encode(linear).tolist()
    return red, green, blue


def white_at(picture: Artwork, card: Point) -> Floats:
    """Return the linear light (3,) of a white card; raises `ValueError` as `paint_in` does."""
    seen = _window(picture, "the white card", card)
    if float((seen >= _BURNT).any(axis=-1).mean()) > _BURNT_SHARE:
        raise ValueError("the white card is burnt out in the photograph; take it again a little darker")
    white = _average(seen, "the white card")
    if white.min() < _DARKEST_CARD:
        raise ValueError("the white card is too dark in the photograph; take it again in more light")
    return white


def seen_at(picture: Artwork, what: str, at: Point) -> Floats:
    """Return the linear light (3,) round a point, which is called `what`; raises `ValueError`."""
    return _average(_window(picture, what, at), what)


def _window(picture: Artwork, what: str, at: Point) -> NDArray[np.uint8]:
    """Return the pixels (n, n, 3) round a point; n is odd."""
    half = max(_LEAST_PX, round(_WINDOW * max(picture.width_px, picture.height_px)))
    column, row = (int(np.floor(value)) for value in at)
    if not (half <= column < picture.width_px - half and half <= row < picture.height_px - half):
        size = f"{picture.width_px} x {picture.height_px} px"
        where = f"{at[0]:g}, {at[1]:g}"
        raise ValueError(f"{what} at {where} lies outside the photograph ({size}); check its points")
    return picture.pixels[row - half : row + half + 1, column - half : column + half + 1, :3]


def _average(window: NDArray[np.uint8], what: str) -> Floats:
    """Return the mean (3,) linear light of the middle half of each channel's values: dust and glints fall out."""
    half = len(window) // 2
    for first, second in ((window[:half], window[-half:]), (window[:, :half], window[:, -half:])):
        gap = np.median(first, axis=(0, 1)) - np.median(second, axis=(0, 1))
        if np.abs(gap).max() <= _UNEVEN:
            continue
        raise ValueError(f"{what} is not one colour there; move its point away from edges, shine and shadow")
    values = np.sort(rgb.decode_8bit(window.reshape(-1, 3)), axis=0)
    quarter = len(values) // 4
    return np.asarray(values[quarter : len(values) - quarter].mean(axis=0))
