"""A polished ground mirrors the room and what stands on it, in both engines alike."""

from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.engines import raster, traced
from mockup.lights import presets
from mockup.model.material import Material
from mockup.model.scene import Body, Camera, Scene

ENGINES = [pytest.param(raster, id="raster", marks=pytest.mark.gl), pytest.param(traced, id="traced")]
SLANT = Camera(eye=(0.0, -300.0 * np.sin(np.radians(60.0)), 150.0), target=(0.0, 0.0, 0.0), fov_deg=14.0)


def scene(roughness):
    """A red wall of 60 by 40 mm that faces the camera, on grey ground in a white room."""
    turn = np.array([[1, 0, 0, 0], [0, 0, -1, 0], [0, 1, 0, 20.0], [0, 0, 0, 1.0]])
    wall = replace(scenes.quad(60.0, 40.0), uv=None).moved(turn)
    red = Material(name="red", base_color=(0.7, 0.02, 0.02), roughness=1.0)
    light = replace(scenes.flat_lighting(1.0, ground=(0.05,) * 3), ground_roughness=roughness, backdrop=(1.0,) * 3)
    return Scene(bodies=(Body(name="wall", mesh=wall, material=red, group="box"),), lighting=light)


def spots(engine, roughness):
    """Light of the ground 3 mm and 25 mm before the wall, and to its side."""
    pose = SLANT.basis()
    scale = 60 / np.tan(np.radians(SLANT.fov_deg) / 2)
    with engine.open(scene(roughness)) as session:
        pixels = session.render(scenes.shot(SLANT, 160, 120, quality="normal")).pixels[..., :3]

    def at(x, y):
        p, q, r = pose[:3, :3].T @ (np.array((x, y, 0.0)) - pose[:3, 3])
        row, column = int(60 - q / -r * scale), int(80 + p / -r * scale)
        return pixels[row - 1 : row + 2, column - 2 : column + 3].reshape(-1, 3).mean(axis=0)

    return at(0.0, -4.0), at(0.0, -12.0), at(44.0, -4.0)


@pytest.mark.parametrize("engine", ENGINES)
def test_the_wall_is_seen_in_the_floor(engine):
    close, further, beside = spots(engine, 0.2)
    # beside the wall: the room's 1.0 by Fresnel's equations at 60 degrees, index 1.5: 0.0892; and the ground's 0.05
    assert beside == pytest.approx(0.0892 + 0.05, abs=0.02)
    for spot in (close, further):
        # the wall's red (about 0.7 of the room's light, half of it blocked by the ground) in place of the room's white
        assert spot[0] > spot[2] + 0.02
        assert spot[2] < beside[2] - 0.04


@pytest.mark.parametrize("engine", ENGINES)
def test_matt_ground_mirrors_nothing(engine):
    close, _, beside = spots(engine, None)
    assert beside == pytest.approx(0.05, abs=0.01)
    assert close[0] < beside[0] + 0.005


@pytest.mark.gl
def test_polish_is_softer_the_rougher_it_is():
    """Across the mirrored wall's upper end, which lies in the floor as far before the wall as it is high."""
    steps = []
    for roughness in (0.1, 0.35):
        with raster.open(scene(roughness)) as session:
            pixels = session.render(scenes.shot(SLANT, 160, 120, quality="final")).pixels
        column = pixels[60:118, 78:83, 2].mean(axis=1)  # the ground below the middle
        steps.append(float(np.abs(np.diff(column)).max()))
    assert steps[1] < 0.75 * steps[0]


def test_only_the_stage_has_a_polished_ground():
    assert [name for name, light in presets().items() if light.ground_roughness is not None] == ["stage"]
