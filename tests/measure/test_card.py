"""A paint in a photograph with a white card: everything in it is known."""

from __future__ import annotations

import numpy as np
import pytest

from mockup.colour import difference, rgb
from mockup.measure.card import paint_in
from mockup.model.finish import Artwork

WARM = np.array([0.62, 0.55, 0.44])
CARD, PAINT = (80.0, 100.0), (300.0, 100.0)


def photograph(light: np.ndarray = WARM, paint: str = "#2f7f86") -> Artwork:
    """Return a card and a paint beside it on grey, in some light, with noise."""
    linear = np.full((200, 400, 3), 0.3)
    linear[40:160, 30:130], linear[40:160, 250:350] = 1.0, rgb.decode(rgb.parse(paint))
    linear = linear * light + np.random.default_rng(1).normal(0, 0.004, linear.shape)
    pixels = rgb.to_8bit(rgb.encode(np.clip(linear, 0, 1)))
    return Artwork(name="a.jpg", pixels=np.dstack([pixels, np.full((200, 400), 255, np.uint8)]))


def test_the_card_takes_the_lights_colour_and_strength_out() -> None:
    assert float(difference.difference(paint_in(photograph(), CARD, PAINT), rgb.parse("#2f7f86"))) < 1.0


@pytest.mark.parametrize(
    ("light", "card", "paint", "said"),
    [
        (WARM, (5000.0, 10.0), PAINT, r"white card at 5000, 10 lies outside the photograph \(400 x 200 px\)"),
        (np.array([1.4, 1.2, 1.1]), CARD, PAINT, r"card is burnt out in the photograph; take it again a little darker"),
        (np.array([0.1, 0.1, 0.1]), CARD, PAINT, r"card is too dark in the photograph; take it again in more light"),
        (WARM, CARD, (250.0, 100.0), r"the paint is not one colour there; move its point"),
    ],
)
def test_what_cannot_be_read_says_why(
    light: np.ndarray, card: tuple[float, float], paint: tuple[float, float], said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        paint_in(photograph(light), card, paint)
