"""A paint in a photograph with a white card: everything in it is known."""

from __future__ import annotations

import numpy as np
import pytest

from mockup.colour import difference, rgb
from mockup.measure.card import paint_in
from mockup.model.finish import Artwork

WARM = np.array([0.62, 0.55, 0.44])
CARD, PAINT = (80.0, 100.0), (300.0, 100.0)


def photograph(light: np.ndarray = WARM, paint: str = "#2f7f86", noise: float = 0.004) -> Artwork:
    """Return a card and a paint beside it on grey, in some light, with noise."""
    linear = np.full((200, 400, 3), 0.3)
    linear[40:160, 30:130], linear[40:160, 250:350] = 1.0, rgb.decode(rgb.parse(paint))
    linear = linear * light + np.random.default_rng(1).normal(0, noise, linear.shape)
    pixels = rgb.to_8bit(rgb.encode(np.clip(linear, 0, 1)))
    return Artwork(name="a.jpg", pixels=np.dstack([pixels, np.full((200, 400), 255, np.uint8)]))


def test_the_card_takes_the_lights_colour_and_strength_out() -> None:
    seen = paint_in(photograph(), [CARD], [PAINT])
    assert float(difference.difference(seen.colour, rgb.parse("#2f7f86"))) < 1.0
    assert seen.card == pytest.approx(WARM.min(), abs=0.01)
    assert 0.0 < seen.doubt < 2.0
    assert seen.problem == ""


@pytest.mark.parametrize("paint", ["#f4f1e6", "#b3261e", "#26324a", "#e9c46a", "#6b4f2a"])
def test_pale_and_strong_paints_come_back(paint: str) -> None:
    """The picture is made of that colour; a quarter of the noise stands for four times the pixels across."""
    seen = paint_in(photograph(paint=paint, noise=0.001), [CARD], [PAINT])
    assert float(difference.difference(seen.colour, rgb.parse(paint))) < 1.0


def test_a_black_that_drowns_in_noise_is_doubted_by_at_least_its_error() -> None:
    """Its light is as weak as the noise here, and what falls below nothing is cut off, so it reads too light."""
    seen = paint_in(photograph(paint="#17181a"), [CARD], [PAINT])
    assert 2.0 < float(difference.difference(seen.colour, rgb.parse("#17181a"))) < seen.doubt
    assert "the picture is too dark" in seen.problem


def test_light_that_falls_off_is_told_and_cards_on_both_sides_take_it_out() -> None:
    """Light falls by 30 % across the picture, evenly; the mean of two cards round the paint is then the paint's."""
    picture = photograph(np.linspace(1.0, 0.7, 400)[None, :, None] * WARM)
    near, far = (255.0, 100.0), (340.0, 100.0)
    linear = rgb.decode_8bit(picture.pixels[..., :3])
    linear[40:160, 130:230] = np.linspace(1.0, 0.7, 400)[None, 130:230, None] * WARM  # a paint as white as the card
    white = Artwork(name="a.jpg", pixels=np.dstack([rgb.to_8bit(rgb.encode(linear)), picture.pixels[..., 3]]))
    one = paint_in(picture, [CARD], [near, far])
    assert one.doubt > 2.0
    assert one.problem.startswith("the places differ: light falls unevenly")
    lit = paint_in(white, [(80.0, 100.0), (220.0, 100.0)], [(150.0, 100.0)])
    assert float(difference.difference(lit.colour, (1.0, 1.0, 1.0))) < 0.5


@pytest.mark.parametrize(
    ("light", "card", "paint", "said"),
    [
        (WARM, (5000.0, 10.0), PAINT, r"white card at 5000, 10 lies outside the photograph \(400 x 200 px\)"),
        (np.array([1.4, 1.2, 1.1]), CARD, PAINT, r"card is burnt out in the photograph; take it again a little darker"),
        (np.array([0.1, 0.1, 0.1]), CARD, PAINT, r"card is too dark in the photograph; take it again in more light"),
        (WARM, CARD, (250.0, 100.0), r"the paint is not one colour there; move its point"),
        (
            np.full(3, 0.9),
            (200.0, 100.0),
            CARD,
            r"the paint is brighter than the white card; move its point away from shine",
        ),
    ],
)
def test_what_cannot_be_read_says_why(
    light: np.ndarray, card: tuple[float, float], paint: tuple[float, float], said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        paint_in(photograph(light), [card], [paint])
