"""Waves of paint and casting: as steep and as long as said, and the same in both engines."""

from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.decal.paint import paint_material
from mockup.engines import raster, traced
from mockup.engines.appearance.waviness import TILE_MM, TILE_PX, slopes
from mockup.finishes import sheens
from mockup.geometry.irradiance import soft_box
from mockup.model.finish import Finish
from mockup.model.material import Material, Waviness
from mockup.model.scene import Body, Camera, Scene


def test_waves_are_as_steep_as_said_and_no_shorter_or_longer():
    along, down, squares, _ = np.moveaxis(slopes((Waviness(shortest_mm=1.0, longest_mm=4.0, slope=0.02),)), -1, 0)
    assert np.sqrt((along.astype(float) ** 2 + down.astype(float) ** 2).mean()) == pytest.approx(0.02, rel=1e-4)
    assert squares == pytest.approx(along**2 + down**2, abs=1e-8)
    # half of the slope, by octaves, is steeper than 2 mm: what a box 2 mm wide leaves of it shows that it is in mm
    power = np.abs(np.fft.fft2(along)) ** 2 + np.abs(np.fft.fft2(down)) ** 2
    waves_a_tile = np.hypot(*np.meshgrid(*(2 * [np.fft.fftfreq(TILE_PX, 1 / TILE_PX)])))
    length = TILE_MM / np.maximum(waves_a_tile, 1e-9)
    share = power / power.sum()
    assert share[(length < 0.999) | (length > 4.001)].sum() < 1e-9
    assert share[length < 2.0].sum() == pytest.approx(0.5, abs=0.05)


def test_slopes_are_those_of_one_surface():
    along, down, *_ = np.moveaxis(slopes((Waviness(shortest_mm=2.0, longest_mm=8.0, slope=0.01),)), -1, 0)
    # a height's second derivative is the same whichever way comes first
    mixed = [(np.roll(each, -1, axis) - np.roll(each, 1, axis)) for each, axis in ((along, 0), (down, 1))]
    assert np.abs(mixed[0] - mixed[1]).max() < 0.05 * np.abs(mixed[0]).max()


def test_each_way_to_finish_a_box_has_its_own_and_a_proof_none():
    def steepness(sheen, **kind):
        made = paint_material(Finish(paint=(0.5, 0.5, 0.5), sheen=sheens()[sheen], **kind))
        return sum(each.slope for each in made.waves)

    assert paint_material(Finish(paint=(0.5, 0.5, 0.5), sheen=sheens()["gloss"]), "proof").waves == ()
    assert steepness("gloss", orange_peel=0.0, casting_texture=0.0) == 0.0
    assert steepness("gloss", orange_peel=2.0) > steepness("gloss") > steepness("gloss", orange_peel=0.0) > 0.0
    bare = sheens()["bare"].waves[0].slope
    assert steepness("bare", has_clear_coat=False, casting_texture=0.5) == pytest.approx(0.5 * bare)
    assert steepness("bare", has_clear_coat=False) > 5 * steepness("gloss", orange_peel=0.0)


@pytest.mark.slow
@pytest.mark.gl
def test_both_engines_lean_the_same_way_at_the_same_place():
    """Chrome that mirrors the edge of a lamp: where it leans to the lamp it is bright, and dark where it leans away."""
    waves = (Waviness(shortest_mm=4.0, longest_mm=12.0, slope=0.05),)
    chrome = Material(name="chrome", base_color=(0.9, 0.9, 0.9), metallic=1.0, roughness=0.15, waves=waves)
    lamp = soft_box((0.0, 300.0, 500.0), 300.0, 300.0, (2.0,) * 3, aim=(0.0, 300.0, 0.0))
    mesh = scenes.quad(30.0, 30.0)
    lit = replace(scenes.flat_lighting(0.02), boxes=(lamp,))
    down = Camera(eye=(0.0, 0.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=28.0)
    scene = Scene(bodies=(Body(name="plate", mesh=mesh, material=chrome, group="box"),), lighting=lit)
    seen = []
    for engine in (raster, traced):
        with engine.open(scene) as session:
            seen.append(session.render(scenes.shot(camera=down, quality="draft")).pixels[..., :3].mean(axis=-1))
    for each in seen:
        assert each.std() > 0.2 * each.mean()
    assert np.corrcoef(seen[0].ravel(), seen[1].ravel())[0, 1] > 0.9
