"""Colours picked from a photograph of the strip with a white card in it.

Linear light is divided by the card's, channel by channel in sRGB: that takes out the light's colour and
the exposure (von Kries, 1902, with the camera's own primaries, as a camera's white balance does). It does
not take out the camera's contrast curve, nor colours outside sRGB.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from mockup.calibration.strip import FIRST, LAST, PATCH_MM, PATCHES
from mockup.colour import rgb
from mockup.model.finish import Artwork
from mockup.model.material import Colour

Floats = NDArray[np.float64]
Point = tuple[float, float]

WHITE, PAINT = "white", "paint"
NOTE = (
    "Colours from a photograph are cut to sRGB and carry the camera's own contrast: expect an error of a few "
    "CIEDE2000, and more where light or shadow was uneven."
)

_WINDOW = 0.5  # of a patch's side is averaged: clear of its edges even when a point is some way off; our choice
_LONE_WINDOW = 0.006  # of the picture's longer side, where no distance tells how large a patch is: our choice
_LEAST_PX = 2  # to each side of the point
_BURNT = 254  # 8-bit code from which a channel holds no more light than it says
_BURNT_SHARE = 0.2  # of the card's window: our choice
_DARKEST_CARD = 0.15  # linear; below it noise outweighs the darker patches: our choice
_UNEVEN = 20  # 8-bit codes between the middles of two halves of a window: an edge, not noise; our choice


@dataclass(frozen=True, kw_only=True)
class Points:
    """Where things lie in a photograph, in pixels from its top left corner as an image editor shows it.

    `white` is the card; `first` and `last` are the middles of the strip's first and last patch, from
    which all others follow (the photograph taken from straight above); `own` holds points given one by one,
    which go before those.
    """

    white: Point
    first: Point | None = None
    last: Point | None = None
    own: Mapping[str, Point] = field(default_factory=dict)

    def placed(self) -> dict[str, Point]:
        """Return the point of every patch that follows from the points given."""
        found: dict[str, Point] = {}
        if self.first is not None and self.last is not None:
            start, turn = complex(*self.first), (complex(*self.last) - complex(*self.first)) / _reach()
            for name, patch in PATCHES.items():
                at = start + turn * complex(patch.x_mm, patch.y_mm)
                found[name] = (at.real, at.imag)
        return found | dict(self.own)

    def half_window_px(self, longer_side_px: int) -> int:
        """Return how far from its point a patch is averaged, in pixels."""
        if self.first is not None and self.last is not None:
            per_mm = abs(complex(*self.last) - complex(*self.first)) / abs(_reach())
            return max(_LEAST_PX, int(PATCH_MM * _WINDOW / 2 * per_mm))
        return max(_LEAST_PX, round(_LONE_WINDOW * longer_side_px))


def _reach() -> complex:
    """Return the way from the first patch to the last, x and y in millimetres."""
    return complex(PATCHES[LAST].x_mm - PATCHES[FIRST].x_mm, PATCHES[LAST].y_mm - PATCHES[FIRST].y_mm)


def pick(picture: Artwork, points: Points) -> dict[str, Floats]:
    """Return the colour (3,) at every point, encoded sRGB relative to the white card, by name.

    Raises `ValueError` with one plain sentence, and after a semicolon what to do, where a point
    lies outside of the picture or on an edge, or where the card is burnt out or too dark.
    """
    half = points.half_window_px(max(picture.width_px, picture.height_px))
    card = _window(picture, WHITE, points.white, half)
    if float((card >= _BURNT).any(axis=-1).mean()) > _BURNT_SHARE:
        raise ValueError("the white card is burnt out in the photograph; take it again a little darker")
    white = _average(card, "the white card")
    if white.min() < _DARKEST_CARD:
        raise ValueError("the white card is too dark in the photograph; take it again in more light")
    seen = {
        name: _average(_window(picture, name, at, half), _called(name)) / white for name, at in points.placed().items()
    }
    return {name: rgb.encode(np.clip(linear, 0.0, 1.0)) for name, linear in seen.items()}


def paint_in(picture: Artwork, card: Point, paint: Point) -> Colour:
    """Return the encoded sRGB colour of a paint in a photograph with a white card beside it.

    Both are points as in `Points`; the light's colour and strength are taken out by the card (von Kries). Raises
    `ValueError` as `pick` does.
    """
    red, green, blue = pick(picture, Points(white=card, own={PAINT: paint}))[PAINT].tolist()
    return red, green, blue


def _window(picture: Artwork, name: str, at: Point, half: int) -> NDArray[np.uint8]:
    """Return the pixels (n, n, 3) round a point; n is odd."""
    column, row = (int(np.floor(value)) for value in at)
    if not (half <= column < picture.width_px - half and half <= row < picture.height_px - half):
        size = f"{picture.width_px} x {picture.height_px} px"
        where = f"{at[0]:g}, {at[1]:g}"
        raise ValueError(f"{_called(name)} at {where} lies outside the photograph ({size}); check its points")
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


def _called(name: str) -> str:
    if name == WHITE:
        return "the white card"
    return "the paint" if name == PAINT else f'the patch "{name}"'
