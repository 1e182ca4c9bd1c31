"""A strip read from a scan or a photograph: found by its marks, straightened, the light taken out, patches averaged.

Bare film between the patches and the white card above them show how the light falls off over the strip; the card's
white takes its colour and strength out, channel by channel in linear light (von Kries, 1902, with the camera's own
primaries, as a camera's white balance does). What stays in is the camera's contrast curve, taken as sRGB's.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.calibration.options import SIZES
from mockup.calibration.strip import (
    BARE,
    BLACK_BAND_MM,
    BLACK_PARTS_MM,
    PATCH_MM,
    STEP_MM,
    WHITE_BAND_MM,
    bare_spots_mm,
    field_mm,
    marks_mm,
    patches,
)
from mockup.colour import rgb
from mockup.geometry.rectify import Floats, Plane, plane, window
from mockup.measure.marks import marks

NOTE = (
    "Colours from a picture are cut to sRGB and carry the camera's or scanner's own contrast: expect an error of a few "
    "CIEDE2000, and more where the light was uneven."
)
_LEAST_PER_MM = 4.0  # pixels: a gap of 1 mm must show; by trial
_BURNT, _BURNT_SHARE = 254, 0.1  # 8-bit code, and share of the card that may lie there: our choice
_DARKEST_CARD = 0.15  # linear; below it noise outweighs the darker patches: our choice
_STEEPEST = 1.6  # times that light may differ over the strip: more is a lamp too near; our choice
_PATCHY = 0.05  # of light, root mean square, that is left of what should be even: a shadow or shine; our choice
_ALIKE = 0.6  # correlation of what is seen with what was printed, in brightness: below it is no strip; by trial
_KEEP = 0.5  # of the values round the median that are averaged: dust and glints fall out
_SEARCHED = 10  # of the marks found, the surest ones of which four are sought: our choice
_SKEW = 1.8  # times that opposite sides, or width to height, may be off at the slant of a photograph: by trial


@dataclass(frozen=True, kw_only=True, eq=False)
class Seen:
    """A strip of `size` patches as seen: linear sRGB relative to the white card, by patch.

    Over black with film and without, if asked.
    """

    size: int
    colours: dict[str, Floats]
    over_black: Floats | None
    black: Floats | None


def read(picture: NDArray[np.uint8], *, has_black: bool = False, corners: Sequence[tuple[float, float]] = ()) -> Seen:
    """Return the strip in a picture (h, w, 3 or 4), 8-bit encoded sRGB; which one it is the picture tells.

    `corners` are the middles of its four marks, clockwise from A1, in pixels; without them they are sought. Raises
    `ValueError` with one plain sentence, and after a semicolon what to do, where the picture does not tell.
    """
    size, on = _found(picture, corners)
    width, height = field_mm(size)
    if on.per_mm((width / 2, height / 2)) < _LEAST_PER_MM:
        raise ValueError("the strip is too small in the picture; go nearer, or scan it at 300 dpi or more")
    card_mm = [(width * (number + 0.5) / 6, sum(WHITE_BAND_MM) / 2) for number in range(6)]
    band = WHITE_BAND_MM[1] - WHITE_BAND_MM[0]
    codes = [_window(picture, on, at, (width / 8, band * 0.6), "the white card") for at in card_mm]
    if float((np.concatenate(codes) >= _BURNT).any(axis=-1).mean()) > _BURNT_SHARE:
        raise ValueError("the white card is burnt out in the picture; take it again a little darker")
    card = np.array([_mean(each) for each in codes])
    if card.min() < _DARKEST_CARD:
        raise ValueError(
            "there is no white card along the strip's upper edge, or it is dark; lay it there, in more light"
        )
    gap = (STEP_MM - PATCH_MM) * 0.5
    spots_mm = bare_spots_mm(size)
    spots = np.array([_mean(_window(picture, on, at, (gap, gap), "the strip")) for at in spots_mm])
    light = _light(np.array(card_mm), card, np.array(spots_mm), spots)
    seen = {
        name: _mean(_window(picture, on, (each.x_mm, each.y_mm), (PATCH_MM / 2, PATCH_MM / 2), "the strip"))
        / light.at(each.x_mm, each.y_mm)
        for name, each in patches(size).items()
    }
    bare = np.array([spot / light.at(*at) for spot, at in zip(spots, spots_mm, strict=True)])
    seen[BARE] = np.median(np.concatenate([bare, [seen[BARE]]]), axis=0)  # the surest reading of all
    dark = []
    for left, right in BLACK_PARTS_MM if has_black else ():
        at = ((left + right) / 2, height + sum(BLACK_BAND_MM) / 2)
        part = _window(picture, on, at, ((right - left) * 0.6, 3.0), "the black scrap")
        dark.append(_mean(part) / light.at(*at))
    if dark and max(float(each.mean()) for each in dark) > float(card.mean()):
        raise ValueError("there is no black scrap along the strip's lower edge; lay it there, or leave --black out")
    return Seen(size=size, colours=seen, over_black=dark[0] if dark else None, black=dark[1] if dark else None)


@dataclass(frozen=True, kw_only=True, eq=False)
class _Light:
    """The white card's linear colour (3,) in the middle of the strip, and how it falls off from there."""

    white: Floats
    slope: Floats
    scale: Floats

    def at(self, x_mm: float, y_mm: float) -> Floats:
        """Return what perfect white would show there."""
        return np.asarray(self.white * np.exp(_terms(np.array([[x_mm, y_mm]]) / self.scale)[0] @ self.slope))


def _light(card_mm: Floats, card: Floats, spots_mm: Floats, spots: Floats) -> _Light:
    """Return the light over a strip: one even surface for card and bare film, each with a colour of its own.

    The logarithm of brightness is a quadratic of the place; where bare film is dark its noise counts less.
    """
    scale = np.array([20.0, 20.0])
    places = np.concatenate([card_mm, spots_mm]) / scale
    bright = np.log(np.maximum(np.concatenate([card.mean(axis=1), spots.mean(axis=1)]), 1e-4))
    is_card = np.arange(len(bright)) < len(card)
    shape = np.column_stack([_terms(places), is_card, ~is_card]).astype(np.float64)
    level = np.concatenate([card.mean(axis=1), spots.mean(axis=1)])
    weight = level / (level + 0.03)
    tied = np.diag([0.0, 0.0, 0.3, 0.3, 0.3, 0.0, 0.0])  # curvature only as far as it is seen
    found = np.zeros(7)
    for _ in range(3):  # a few spots under dust or shine count less each time
        found, *_ = np.linalg.lstsq(
            np.vstack([shape * weight[:, None], tied]), np.concatenate([bright * weight, np.zeros(7)]), rcond=None
        )
        left = np.abs(bright - shape @ found)
        weight = level / (level + 0.03) / np.maximum(1.0, left / 0.02)
    slope = found[:5]
    if np.sqrt(float((weight * left**2).sum() / weight.sum())) > _PATCHY:
        raise ValueError("light on the strip is patchy, with a shadow, shine or dust on it; take the picture again")
    falls = _terms(places) @ slope
    if float(np.exp(np.ptp(falls))) > _STEEPEST:
        raise ValueError("light falls off too much over the strip; take the picture farther from lamp and window")
    white = (card / np.exp(_terms(card_mm / scale) @ slope)[:, None]).mean(axis=0)
    return _Light(white=white, slope=slope, scale=scale)


def _terms(places: Floats) -> Floats:
    x, y = places[:, 0] - 1.0, places[:, 1] - 0.5
    return np.stack([x, y, x * x, x * y, y * y], axis=-1)


def _window(
    picture: NDArray[np.uint8], on: Plane, at_mm: Sequence[float], size_mm: Sequence[float], what: str
) -> Floats:
    """Return the 8-bit codes (n, 3) in a rectangle of the strip."""
    try:
        return window(picture[..., :3], on, at_mm, size_mm)
    except ValueError:
        raise ValueError(f"{what} reaches beyond the picture; take it again with more round it") from None


def _mean(codes: Floats) -> Floats:
    """Return the mean linear colour (3,) of the middle half of each channel's codes (n, 3)."""
    values = np.sort(rgb.decode(codes / 255.0), axis=0)
    cut = int(len(values) * (1.0 - _KEEP) / 2)
    return np.asarray(values[cut : len(values) - cut].mean(axis=0))


def _found(picture: NDArray[np.uint8], corners: Sequence[tuple[float, float]]) -> tuple[int, Plane]:
    """Return how many patches the strip has, and its plane: those that show best what was printed."""
    fours = [np.array(corners)] if corners else list(_turned_fours(picture))
    tried = [
        (size, plane(np.array(marks_mm(size)), four))
        for size in SIZES
        for four in fours
        if corners or _fits(four, size)
    ]
    fits = [_likeness(picture, on, size) for size, on in tried]
    if not fits or (max(fits) <= _ALIKE and not corners):
        remedy = "take it straighter and sharper, or give their middles: --corners"
        raise ValueError(f"the strip's four marks are not found; {remedy}")
    return tried[int(np.argmax(fits))]


def _turned_fours(picture: NDArray[np.uint8]) -> Iterator[Floats]:
    """Yield what may be the four marks of a strip, clockwise, each from all four corners."""
    middles = [(each.x_px, each.y_px) for each in marks(picture)[:_SEARCHED]]
    for four in itertools.combinations(middles, 4):
        corners = _clockwise(np.array(four))
        sides = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
        if max(sides[0] / sides[2], sides[2] / sides[0], sides[1] / sides[3], sides[3] / sides[1]) <= _SKEW:
            yield from (np.roll(corners, -turn, axis=0) for turn in range(4))


def _fits(corners: Floats, size: int) -> bool:
    """Return whether four marks could be those of a strip of `size` patches, slanted as photographs are."""
    across, down = np.ptp(np.array(marks_mm(size)), axis=0)
    sides = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    shape = (sides[0] + sides[2]) / (sides[1] + sides[3]) / (across / down)
    return bool(1 / _SKEW < shape < _SKEW)


def _clockwise(corners: Floats) -> Floats:
    """Return corners (4, 2) in order round their middle, clockwise in the picture."""
    way = corners - corners.mean(axis=0)
    return np.asarray(corners[np.argsort(np.arctan2(way[:, 1], way[:, 0]))])


def _likeness(picture: NDArray[np.uint8], on: Plane, size: int) -> float:
    """Return how far what is seen follows what was printed, -1 to 1: the correlation of all channels' values."""
    names = patches(size)
    try:
        seen = [
            window(picture[..., :3], on, (each.x_mm, each.y_mm), (2.0, 2.0), 3).mean(axis=0) for each in names.values()
        ]
    except ValueError:
        return -1.0
    got = np.array(seen)
    wanted = np.array([each.printed for each in names.values()])
    spread = [
        np.corrcoef(got[:, each], wanted[:, each])[0, 1] if np.ptp(got[:, each]) > 0 else 0.0 for each in range(3)
    ]
    return float(np.nanmean(spread))
