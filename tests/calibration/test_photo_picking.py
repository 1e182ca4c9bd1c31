"""Colours picked from a photograph in which everything is known: light, place and turn."""

from __future__ import annotations

import math

import numpy as np
import pytest

from mockup.calibration.photo import Points, paint_in, pick
from mockup.calibration.strip import FIRST, LAST, PATCH_MM, PATCHES
from mockup.colour import difference, rgb
from mockup.model.finish import Artwork

LIGHT = np.array([0.62, 0.55, 0.44])  # warm, and darker than white
ORIGIN, PER_MM, TURN = (210.0, 160.0), 6.0, math.radians(8.0)
CARD = (80.0, 500.0)


def place(x_mm: float, y_mm: float) -> tuple[float, float]:
    """Return the pixel of a point of the strip, turned clockwise on the picture by 8 degrees."""
    c, s = math.cos(TURN), math.sin(TURN)
    return ORIGIN[0] + PER_MM * (c * x_mm - s * y_mm), ORIGIN[1] + PER_MM * (s * x_mm + c * y_mm)


def photograph(noise: float = 0.0, light: np.ndarray = LIGHT) -> Artwork:
    """Return a photograph of the strip on grey ground, with a white card, in warm light."""
    height, width = 640, 900
    linear = np.full((height, width, 3), 0.3)
    rows, columns = np.mgrid[:height, :width] + 0.5
    c, s = math.cos(TURN), math.sin(TURN)
    dx, dy = (columns - ORIGIN[0]) / PER_MM, (rows - ORIGIN[1]) / PER_MM
    across, down = c * dx + s * dy, -s * dx + c * dy
    for patch in PATCHES.values():
        inside = (np.abs(across - patch.x_mm) < PATCH_MM / 2) & (np.abs(down - patch.y_mm) < PATCH_MM / 2)
        linear[inside] = rgb.decode(np.array(patch.printed))
    linear[420:600, 30:160] = 1.0
    linear = linear * light + np.random.default_rng(1).normal(0, noise, linear.shape)
    return Artwork(
        name="card.jpg",
        pixels=np.dstack([rgb.to_8bit(rgb.encode(np.clip(linear, 0, 1))), np.full((height, width), 255, np.uint8)]),
    )


POINTS = Points(white=CARD, first=place(0, 0), last=place(PATCHES[LAST].x_mm, PATCHES[LAST].y_mm))


def test_first_and_last_place_every_patch() -> None:
    for name, at in POINTS.placed().items():
        assert at == pytest.approx(place(PATCHES[name].x_mm, PATCHES[name].y_mm), abs=1e-9)


def test_the_card_takes_the_lights_colour_and_strength_out() -> None:
    picked = pick(photograph(), POINTS)
    assert set(picked) == set(PATCHES)
    for name, patch in PATCHES.items():
        # 8 bits in a light of 0.44 leave at most about a code: 1/255 of encoded sRGB, 1.6 CIEDE2000 in the dark
        assert float(difference.difference(picked[name], np.array(patch.printed))) < 1.6, name


def test_noise_and_dust_average_out() -> None:
    picture = photograph(noise=0.02)
    pixels = picture.pixels.copy()
    x, y = (int(value) for value in place(PATCHES["yellow"].x_mm, PATCHES["yellow"].y_mm))
    pixels[y - 2 : y + 2, x - 2 : x + 2, :3] = 0  # a fleck over 16 of some 700 pixels
    picked = pick(Artwork(name="card.jpg", pixels=pixels), POINTS)
    for name in ("grey-2", "yellow", "pale-cyan"):
        assert float(difference.difference(picked[name], np.array(PATCHES[name].printed))) < 1.5, name


def test_a_point_of_its_own_goes_before_the_grid() -> None:
    own = Points(
        white=CARD, first=POINTS.first, last=POINTS.last, own={"cyan": place(PATCHES["red"].x_mm, PATCHES["red"].y_mm)}
    )
    assert pick(photograph(), own)["cyan"] == pytest.approx([1, 0, 0], abs=0.02)


@pytest.mark.parametrize(
    ("points", "light", "said"),
    [
        (Points(white=(5000, 10), first=POINTS.first, last=POINTS.last), LIGHT, r"white card at 5000, 10 lies outside"),
        (
            Points(white=CARD, first=(20, 20), last=(2000, 20)),
            LIGHT,
            r"outside the photograph \(900 x 640 px\)",
        ),
        (POINTS, np.array([1.4, 1.2, 1.1]), r"card is burnt out in the photograph; take it again a little darker"),
        (POINTS, np.array([0.1, 0.1, 0.1]), r"card is too dark in the photograph; take it again in more light"),
        (
            Points(white=CARD, own={"black": place(PATCHES["black"].x_mm + PATCH_MM / 2, 0)}),
            LIGHT,
            r'the patch "black" is not one colour there; move its point',
        ),
    ],
)
def test_what_cannot_be_picked_says_why(points: Points, light: np.ndarray, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        pick(photograph(light=light), points)


def test_the_first_patch_is_the_bare_one() -> None:
    assert PATCHES[FIRST].printed == (1.0, 1.0, 1.0)


def test_one_paint_beside_a_card() -> None:
    # The patch's own printed colour is what the photograph was made from; the light is warm and dim.
    name, patch = next(iter(PATCHES.items()))
    found = paint_in(photograph(), CARD, place(patch.x_mm, patch.y_mm))
    assert float(difference.difference(np.array(found), np.array(patch.printed))) < 1.6, name
    with pytest.raises(ValueError, match="lies outside the photograph"):
        paint_in(photograph(), (5000.0, 10.0), place(0, 0))
