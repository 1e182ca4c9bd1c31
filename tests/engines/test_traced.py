"""The path tracer against sums done by hand, within its own noise."""

import sys
import time
from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.engines import traced
from mockup.model.material import Material
from mockup.model.scene import Body, Camera, Scene, SoftBox

pytestmark = pytest.mark.slow

DOWN = Camera(eye=(0.0, 0.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=60.0)


def plate(material, lighting):
    body = Body(name="plate", mesh=replace(scenes.quad(80.0, 80.0), uv=None), material=material, group="box")
    return Scene(bodies=(body,), lighting=lighting)


def mean_and_error(pixels):
    values = pixels[..., :3].reshape(-1, 3)
    return values.mean(axis=0), values.std(axis=0) / np.sqrt(len(values))


@pytest.mark.parametrize("own", [0.1, 0.5, 0.9])
@pytest.mark.parametrize("look", [{"roughness": 0.5}, {"roughness": 0.9}, {"coat": 1.0, "coat_roughness": 0.1}])
def test_paint_in_a_uniform_room(own, look):
    room = 0.8
    paint = Material(name="paint", base_color=(own,) * 3, **look)
    with traced.open(plate(paint, scenes.flat_lighting(room))) as session:
        mean, error = mean_and_error(session.render(scenes.shot(DOWN, 48, 48, quality="final")).pixels)
    # one air interface, n = 1.5: F mirrored, the rest scattered (Fresnel at normal incidence, 0.04);
    # a rough lobe loses some of its 0.04 to what single scattering leaves out
    expected = (0.04 + 0.96 * own) * room
    assert np.abs(mean - expected).max() < 0.05 * expected + 0.015 * room + 4 * error.max()


def test_metal_in_a_uniform_room():
    metal = Material(name="metal", base_color=(0.9, 0.6, 0.3), metallic=1.0, roughness=0.2)
    with traced.open(plate(metal, scenes.flat_lighting(0.8))) as session:
        mean, error = mean_and_error(session.render(scenes.shot(DOWN, 48, 48, quality="normal")).pixels)
    assert np.abs(mean - np.array((0.9, 0.6, 0.3)) * 0.8).max() < 0.01 + 4 * error.max()


def test_a_still_of_flakes_keeps_glitter_that_the_denoiser_takes(monkeypatch):
    lamp = SoftBox(centre=(40.0, 0.0, 120.0), right=(20.0, 0.0, 0.0), up=(0.0, 20.0, 0.0), radiance=(9.0,) * 3)
    lighting = replace(scenes.flat_lighting(0.2), boxes=(lamp,))
    paint = Material(name="paint", base_color=(0.1, 0.4, 0.4), metallic=0.5, roughness=0.4, coat=1.0, flake=1.0)
    whole, alone = traced.denoised, []

    def denoised(noisy, own, grain=None, **kept):
        alone.append(whole(noisy, own, grain)[..., 1].std())
        return whole(noisy, own, grain, **kept)

    monkeypatch.setattr(traced, "denoised", denoised)
    with traced.open(plate(paint, lighting)) as session:
        still = session.render(scenes.shot(replace(DOWN, ortho_mm=16.0), 32, 32, quality="final")).pixels[..., 1]
    assert still.std() > 1.3 * alone[0]


def test_soft_box_light_against_the_closed_form():
    lamp = SoftBox(centre=(0.0, 0.0, 120.0), right=(50.0, 0.0, 0.0), up=(0.0, 50.0, 0.0), radiance=(3.0,) * 3)
    dark = replace(scenes.flat_lighting(0.0), boxes=(lamp,))
    chalk = [Material(name="chalk", base_color=(own,) * 3, roughness=0.9) for own in (0.8, 0.0)]
    camera = replace(DOWN, ortho_mm=4.0)
    seen = []
    for material in chalk:
        with traced.open(plate(material, dark)) as session:
            seen.append(mean_and_error(session.render(scenes.shot(camera, 24, 24, quality="final")).pixels))
    got, error = seen[0][0][0] - seen[1][0][0], np.hypot(seen[0][1][0], seen[1][1][0])
    # four quarters over their corner (Howell, factor B-3) with a = b = 50, c = 120 mm
    x = 50.0 / 120.0
    form = 4 * 2 * x / np.sqrt(1 + x * x) * np.arctan(x / np.sqrt(1 + x * x)) / (2 * np.pi)
    expected = 0.8 * 3.0 * form
    assert got == pytest.approx(expected, rel=0.05, abs=4 * error)


def test_more_time_buys_more_samples_and_the_frame_says_so():
    scene = plate(Material(name="paint", base_color=(0.5,) * 3), scenes.flat_lighting())
    with traced.open(scene) as session:
        started = time.perf_counter()
        counts = [int(session.render(scenes.shot(DOWN, seconds=s)).facts["samples"]) for s in (0.05, 1.0)]
        assert time.perf_counter() - started < 8.0
    assert counts[0] < counts[1]


def test_the_outline_and_its_noise_stay_out_of_a_flat_picture():
    scene = plate(Material(name="paint", base_color=(0.25, 0.5, 0.75)), scenes.flat_lighting())
    with traced.open(scene) as session:
        pixels = session.render(scenes.shot(replace(DOWN, ortho_mm=100.0), look="proof")).pixels
    assert np.ptp(pixels[20:70, 20:70].reshape(-1, 4), axis=0).max() < 1e-6
    assert (pixels[:5] == 0).all()


def test_no_compiled_variant_is_ever_touched():
    import mitsuba

    assert mitsuba.variant() == "scalar_rgb"
    assert not [name for name in sys.modules if name.startswith(("mitsuba.llvm", "mitsuba.cuda"))]
