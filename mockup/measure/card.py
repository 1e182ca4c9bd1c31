"""A colour in a photograph with a white card beside it.

Linear light is divided by the card's, channel by channel in sRGB: that takes out the light's colour and the exposure
(von Kries, 1902, with the camera's own primaries, as a camera's white balance does).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.colour import difference, rgb
from mockup.model.finish import Artwork
from mockup.model.material import Colour

Floats = NDArray[np.float64]
Point = tuple[float, float]

_ALIKE = 2.0  # CIEDE2000; what shows side by side, common practice, no source
_WINDOW = 0.006  # of the picture's longer side, to each side of a point: our choice
_LEAST_PX = 2  # to each side of the point
_BURNT = 254  # 8-bit code from which a channel holds no more light than it says
_BURNT_SHARE = 0.2  # of a window: our choice
_DARKEST_CARD = 0.15  # linear; below it noise outweighs dark paint: our choice
_BRIGHTEST_PAINT = 1.1  # of the card's light; more is shine, or a card in the shade: our choice
_UNEVEN = 20  # 8-bit codes between the middles of two halves of a window: an edge, not noise; our choice


@dataclass(frozen=True, kw_only=True)
class SeenPaint:
    """A paint's encoded sRGB colour and its `doubt`: how far parts of the places lie from it, CIEDE2000.

    `card` is the light of the darkest card in its weakest channel, 0 to 1 where the camera saturates.
    """

    colour: Colour
    doubt: float
    card: float

    @property
    def problem(self) -> str:
        """What is to be done about much doubt, "" where there is little."""
        if self.doubt <= _ALIKE:
            return ""
        return (
            "the places differ: light falls unevenly, the paint is not one colour, or the picture is too dark for it; "
            "lay the card next to the paint, in more light"
        )


def paint_in(picture: Artwork, cards: Sequence[Point], paints: Sequence[Point]) -> SeenPaint:
    """Return a paint seen at one or more places of a photograph, with a white card at one or more.

    Points are pixels from the top left corner as an image editor shows it. Raises `ValueError` with one plain
    sentence, and after a semicolon what to do, where a point lies outside of the picture or on an edge, where the
    card is burnt out or too dark, and where the paint is burnt out or brighter than the card.
    """
    whites = [white_at(picture, card) for card in cards]
    seen = [seen_at(picture, "the paint", paint) for paint in paints]
    colour = np.mean(seen, axis=0) / np.mean(whites, axis=0)
    if colour.max() > _BRIGHTEST_PAINT:
        raise ValueError("the paint is brighter than the white card; move its point away from shine, or light the card")
    parts = _quarters(picture, paints)[:, None] / _quarters(picture, cards)[None]
    lab = difference.linear_to_lab(np.clip(colour, 0.0, 1.0))
    doubt = float(difference.ciede2000(difference.linear_to_lab(np.clip(parts, 0.0, 1.0)), lab).max())
    return SeenPaint(colour=rgb.colour(rgb.encode(np.clip(colour, 0.0, 1.0))), doubt=doubt, card=float(np.min(whites)))


def white_balanced(picture: Artwork, cards: Sequence[Point]) -> NDArray[np.uint8]:
    """Return a photograph's pixels (h, w, 3), encoded sRGB, as they look where the card is white.

    What is brighter than the card is white too. Raises `ValueError` as `paint_in` does.
    """
    white = np.mean([white_at(picture, card) for card in cards], axis=0)
    seen = rgb.decode_8bit(np.arange(256, dtype=np.uint8))[:, None] / white
    table = rgb.to_8bit(rgb.encode(np.clip(seen, 0.0, 1.0)))
    return np.stack([table[picture.pixels[..., each], each] for each in range(3)], axis=-1)


def _quarters(picture: Artwork, points: Sequence[Point]) -> Floats:
    """Return the linear light (n, 3) of each quarter of the windows round points that were read before."""
    found = []
    for point in points:
        window = _window(picture, "it", point)
        half = len(window) // 2
        for rows in (window[:half], window[-half:]):
            found += [_middle(rows[:, :half]), _middle(rows[:, -half:])]
    return np.array(found)


def white_at(picture: Artwork, card: Point) -> Floats:
    """Return the linear light (3,) of a white card; raises `ValueError` as `paint_in` does."""
    seen = _window(picture, "the white card", card)
    _require_unburnt(seen, "the white card")
    white = _average(seen, "the white card")
    if white.min() < _DARKEST_CARD:
        raise ValueError("the white card is too dark in the photograph; take it again in more light")
    return white


def seen_at(picture: Artwork, what: str, at: Point) -> Floats:
    """Return the linear light (3,) round a point, which is called `what`; raises `ValueError`."""
    seen = _window(picture, what, at)
    _require_unburnt(seen, what)
    return _average(seen, what)


def _require_unburnt(window: NDArray[np.uint8], what: str) -> None:
    if float((window >= _BURNT).any(axis=-1).mean()) > _BURNT_SHARE:
        raise ValueError(f"{what} is burnt out in the photograph; take it again a little darker")


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
    return _middle(window)


def _middle(window: NDArray[np.uint8]) -> Floats:
    """Return the mean (3,) linear light of the middle half of each channel's values."""
    values = np.sort(rgb.decode_8bit(window.reshape(-1, 3)), axis=0)
    quarter = len(values) // 4
    return np.asarray(values[quarter : len(values) - quarter].mean(axis=0))
