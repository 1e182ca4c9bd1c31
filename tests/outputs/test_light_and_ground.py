"""The light that an output asks for by name, and the ground that it may lay under it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from mockup import api
from mockup.geometry.irradiance import irradiance
from mockup.lights import presets
from mockup.lights._rigs import card
from mockup.model.errors import InputError
from mockup.model.ground import GROUNDS
from mockup.options import option_fields
from mockup.outputs import OUTPUTS
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


@pytest.mark.parametrize("ground", GROUNDS)
def test_on_every_ground_a_white_card_on_the_near_side_is_white(ground: str) -> None:
    lighting = PictureRequest(background=ground).lit("near")
    at, normal = card("near")
    # half of what an upright card sees is ground: a plane of reflectance r sends r E / pi from E (Lambert)
    sky = np.array(irradiance(lighting, at, normal))
    below = np.array(irradiance(lighting, (2 * at[0], 2 * at[1], 0.0), (0.0, 0.0, 1.0)))
    np.testing.assert_allclose((sky + 0.5 * np.array(lighting.ground) * below) / np.pi, 1.0, atol=1e-6)


@pytest.mark.parametrize("output", ["log", "share"])
def test_pages_take_a_ground_and_refuse_to_go_without(output: str, examples: Path) -> None:
    made = OUTPUTS.load(output)
    assert "background" in {each.name for each in option_fields(made.Options)}
    with pytest.raises(InputError, match="paper, sand"):
        made.make(api.load(examples / "lantern_moth" / "layout.toml"), made.Options(background="none"))
