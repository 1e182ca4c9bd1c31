"""The light that an output asks for by name, and the ground that it may lay under it."""

from __future__ import annotations

import numpy as np
import pytest

from mockup.lights import presets
from mockup.model.errors import InputError
from mockup.picture.options import PictureRequest


@pytest.mark.parametrize(
    ("light", "background", "words"),
    [("bnech", "own", ["bnech", "bench"]), ("stage", "#12", ["background", "#12"]), ("stage", "blu", ["blu", "blue"])],
)
def test_what_is_not_there_is_named_with_a_way_out(light: str, background: str, words: list[str]) -> None:
    with pytest.raises(InputError) as caught:
        PictureRequest(light=light, background=background)
    assert all(word in str(caught.value) for word in words)


@pytest.mark.parametrize("light", presets())
def test_the_ground_is_the_presets_own_or_none_or_any_colour(light: str) -> None:
    assert PictureRequest(light=light).lighting is presets()[light]
    assert PictureRequest(light=light, background="none").lighting.ground is None
    coloured = PictureRequest(light=light, background="#808080").lighting
    # Grey 128: 0.21586 linear, IEC 61966-2-1:1999 (worked out by hand).
    np.testing.assert_allclose(coloured.ground, 0.21586, atol=1e-5)
    assert coloured.boxes == presets()[light].boxes
