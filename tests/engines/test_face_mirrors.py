"""A face of the box in gloss mirrors what stands on it, where geometry puts its image; in matte it does not."""

from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.engines import raster, traced
from mockup.model.material import Material
from mockup.model.scene import Body, Camera, Scene

ENGINES = [pytest.param(raster, id="raster", marks=pytest.mark.gl), pytest.param(traced, id="traced")]
HIGH_MM, SIDE_MM, AWAY_MM = 24.0, 10.0, 10.0
CAMERA = Camera(eye=(0.0, -260.0, 150.0), target=(0.0, 0.0, 0.0), fov_deg=24.0)
WIDTH, HEIGHT = 200, 150


def red(engine, roughness):
    """Red less blue in a picture of a black panel at z = 0 with a red square over it that faces the camera."""
    paint = Material(name="paint", base_color=(0.0,) * 3, roughness=roughness, coat=1.0, coat_roughness=roughness)
    dye = Material(name="red", base_color=(0.8, 0.0, 0.0), roughness=1.0, gloss=0.0)
    upright = np.array([[1, 0, 0, 0.0], [0, 0, -1, AWAY_MM], [0, 1, 0, HIGH_MM], [0, 0, 0, 1.0]])
    square = replace(scenes.quad(SIDE_MM, SIDE_MM), uv=None).moved(upright)
    bodies = (
        Body(name="top", mesh=scenes.quad(160.0, 160.0), material=paint, group="box"),
        Body(name="square", mesh=square, material=dye, group="hardware"),
    )
    with engine.open(Scene(bodies=bodies, lighting=scenes.flat_lighting(1.0))) as session:
        pixels = session.render(scenes.shot(CAMERA, WIDTH, HEIGHT, quality="normal")).pixels
    return pixels[..., 0] - pixels[..., 2]


def place(x, y, z):
    """Row and column of a point, by a pinhole camera worked out by hand."""
    pose = CAMERA.basis()
    right, up, back = pose[:3, :3].T @ (np.array((x, y, z)) - pose[:3, 3])
    scale = 0.5 * HEIGHT / np.tan(np.radians(CAMERA.fov_deg) / 2)
    return HEIGHT / 2 - up / -back * scale, WIDTH / 2 + right / -back * scale


@pytest.mark.parametrize("engine", ENGINES)
def test_an_image_lies_as_far_behind_the_panel_as_the_part_before_it(engine):
    first = int(place(0.0, AWAY_MM, HIGH_MM - SIDE_MM / 2)[0]) + 2  # the first row under the square itself
    gloss, matte = (red(engine, roughness)[first:] for roughness in (0.04, 0.8))
    # Fresnel's equations, index 1.5, at 58 degrees: 0.081 of the square's red, which is at most 0.8
    assert 0.02 < gloss.max() < 0.081 * 0.8 * 1.1
    rows, columns = np.nonzero(gloss > 0.5 * gloss.max())
    found = rows.mean() + first + 0.5, columns.mean() + 0.5
    assert found == pytest.approx(place(0.0, AWAY_MM, -HIGH_MM), abs=0.7)
    assert abs(matte[rows, columns].mean()) < 0.25 * gloss[rows, columns].mean()


@pytest.mark.parametrize("engine", ENGINES)
def test_a_part_on_a_wall_mirrors_the_wall(engine):
    upright = np.array([[1, 0, 0, 0.0], [0, 0, -1, 0.0], [0, 1, 0, 20.0], [0, 0, 0, 1.0]])
    wall = replace(scenes.quad(80.0, 40.0), uv=None).moved(upright)  # faces -y
    shelf = replace(scenes.quad(12.0, 8.0, z=20.0, corner=(0.0, -6.0)), uv=None)  # level, beside it
    green = Material(name="green", base_color=(0.0, 0.6, 0.0), roughness=1.0, gloss=0.0)
    silver = Material(name="silver", base_color=(0.9,) * 3, metallic=1.0, roughness=0.05)
    bodies = (
        Body(name="near", mesh=wall, material=green, group="box"),
        Body(name="shelf", mesh=shelf, material=silver, group="hardware"),
    )
    camera = Camera(eye=(0.0, -200.0, 140.0), target=(0.0, -6.0, 20.0), fov_deg=14.0)
    with engine.open(Scene(bodies=bodies, lighting=scenes.flat_lighting(1.0))) as session:
        pixels = session.render(scenes.shot(camera, 60, 45, quality="normal")).pixels
    # the wall sends 0.6 of the light that it gets, at most the room's 1.0, and silver 0.9 of that; none of it is red
    assert pixels[22:24, 29:31, 0].mean() < 0.1
    assert 0.9 * 0.3 * 0.6 < pixels[22:24, 29:31, 1].mean() < 0.9 * 0.6
