"""The raster engine's end of a frame against `colour.view`, pixel by pixel; its series against single pictures."""

from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.colour.view import view
from mockup.engines import raster
from mockup.engines.appearance.bloom import with_bloom
from mockup.lights import presets
from mockup.model.material import Material
from mockup.model.scene import Body, Camera, Scene

pytestmark = pytest.mark.gl

SLANT = Camera(eye=(0.0, -200.0, 150.0), target=(0.0, 0.0, 8.0), ortho_mm=70.0)


@pytest.fixture(scope="module", params=["bench", "cutout"])
def session(request):
    """A shining ball over a card: every brightness, a glow, edges; the second light has no ground."""
    t = np.radians(np.linspace(-90, 90, 17))
    ball = scenes.lathe([(8.0 * max(np.cos(a), 0.0), 8.0 + 8.0 * np.sin(a)) for a in t], 32)
    lamp = Material(name="lamp", base_color=(0.5, 0.1, 0.1), roughness=0.3, emission=(60.0, 10.0, 4.0))
    card = Material(name="card", base_color=(0.02, 0.3, 0.7), roughness=0.9)
    bodies = (
        Body(name="ball", mesh=ball, material=lamp, group="hardware"),
        Body(name="card", mesh=replace(scenes.quad(40.0, 40.0), uv=None), material=card, group="box"),
    )
    with raster.open(Scene(bodies=bodies, lighting=presets()[request.param])) as open_session:
        yield open_session


@pytest.mark.parametrize("look", ["photo", "proof"])
@pytest.mark.parametrize("quality", ["draft", "normal"])
def test_the_shader_makes_the_bytes_of_the_view_transform(session, look, quality):
    shot = scenes.shot(SLANT, 97, 75, quality=quality, look=look)  # odd sizes: rows of bytes are not padded
    [picture] = session.pictures([shot])
    linear = session.render(shot).pixels
    if look == "photo" and quality != "draft":
        lit = with_bloom(linear)
        assert (lit - linear).max() > 0.02  # there is a glow
        linear = lit
    wanted = view(linear, look)
    assert picture.pixels.shape == wanted.shape == (75, 97, 4)
    assert np.abs(picture.pixels.astype(int) - wanted).max() <= 1
    assert np.ptp(wanted[..., :3]) > 150
    assert (picture.pixels != wanted).mean() < 0.01


def test_a_series_yields_the_very_pictures_that_are_taken_one_by_one(session):
    first = scenes.shot(SLANT, 64, 48, quality="draft")
    shots = [replace(first, turn_deg=30.0 * i, look=look) for i, look in enumerate(["photo", "proof", "photo"])]
    shots.append(replace(first, width_px=40))
    together = list(session.pictures(shots))
    alone = [picture for shot in shots for picture in session.pictures([shot])]
    assert [each.pixels.shape[:2] for each in together] == [(48, 64)] * 3 + [(48, 40)]
    for one, other in zip(together, alone, strict=True):
        assert np.array_equal(one.pixels, other.pixels)
        assert one.facts == other.facts
    assert not np.array_equal(together[0].pixels, together[2].pixels)
