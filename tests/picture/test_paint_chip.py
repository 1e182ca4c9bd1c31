"""The chip in a picture's corner: the paint's own colour, exactly, and nothing else changed."""

from __future__ import annotations

import numpy as np
import pytest

from mockup.colour import rgb
from mockup.finishes import sheens
from mockup.model.finish import Finish
from mockup.model.picture import Picture
from mockup.picture.paint_chip import with_chip

PAINT = rgb.parse("#2a6f6b")


@pytest.mark.parametrize("channels", [3, 4])
@pytest.mark.parametrize("size", [(480, 360), (64, 48)])
def test_the_chip_has_the_paints_own_colour_and_leaves_the_rest(size: tuple[int, int], channels: int) -> None:
    before = np.full((size[1], size[0], channels), 90, np.uint8)
    after = with_chip(Picture(pixels=before), Finish(paint=PAINT, sheen=sheens()["gloss"])).pixels
    assert after.shape == before.shape
    own = (after[..., :3] == (0x2A, 0x6F, 0x6B)).all(axis=2)
    assert own.sum() > 200
    changed = (after != before).any(axis=2)
    rows, columns = np.nonzero(changed)
    assert rows.min() > 0.4 * size[1] or size[1] < 100  # the lower right corner alone
    assert columns.min() > 0.5 * size[0] or size[0] < 100
    assert channels == 3 or (after[changed][:, 3] == 255).all()


def test_bare_metal_has_the_metals_colour() -> None:
    chip = with_chip(Picture(pixels=np.zeros((360, 480, 3), np.uint8)), Finish(paint=PAINT, sheen=sheens()["bare"]))
    metal = rgb.to_8bit(np.array(rgb.encoded_colour(sheens()["bare"].metal.base_color)))
    assert (chip.pixels == metal).all(axis=2).sum() > 200
