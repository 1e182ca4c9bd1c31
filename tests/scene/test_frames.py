"""The frames of DEVELOPERS.md, in one picture: red lies to the right, green away, blue up."""

from __future__ import annotations

import numpy as np
import pytest

from mockup import engines
from mockup.geometry.tessellate import tessellate
from mockup.lights import presets
from mockup.model.material import BLACK_PLASTIC, Colour, plastic
from mockup.model.scene import Body, Camera, Point3, Scene, Shot
from mockup.model.shape import Extruded, Outline

RED, GREEN, BLUE = (0.8, 0.0, 0.0), (0.0, 0.8, 0.0), (0.0, 0.0, 0.8)


def block(colour: Colour, at: Point3) -> Body:
    outline = Outline(kind="rectangle", width_mm=8, height_mm=8)
    solid = Extruded(outline=outline, bottom_mm=at[2] - 4, top_mm=at[2] + 4, material=BLACK_PLASTIC, at=at[:2])
    return Body(name="block", mesh=tessellate(solid), material=plastic(colour), group="box")


@pytest.mark.parametrize("engine", [pytest.param("raster", marks=pytest.mark.gl), "traced"])
@pytest.mark.parametrize(
    ("eye", "up", "right_is", "up_is"),
    [
        ((0, 0, 200), (0, 1, 0), RED, GREEN),
        ((0, -200, 10), (0, 0, 1), RED, BLUE),
        ((200, 0, 10), (0, 0, 1), GREEN, BLUE),
    ],
    ids=["above", "near", "right"],
)
def test_axes(engine: str, eye: Point3, up: Point3, right_is: Colour, up_is: Colour) -> None:
    blocks = (block(RED, (20, 0, 10)), block(GREEN, (0, 20, 10)), block(BLUE, (0, 0, 30)))
    scene = Scene(bodies=blocks, lighting=presets()["bench"])
    camera = Camera(eye=eye, target=(0, 0, 10), up=up, ortho_mm=60)
    _, module, _ = engines.choose(engine)
    with module.open(scene) as session:
        pixels = session.render(Shot(camera=camera, width_px=60, height_px=60, look="proof")).pixels
    assert np.allclose(pixels[30, 50, :3], right_is, atol=0.01), "20 mm to the right of the middle"
    assert np.allclose(pixels[10, 30, :3], up_is, atol=0.01), "20 mm above it; row 0 is the top"


@pytest.mark.parametrize("engine", [pytest.param("raster", marks=pytest.mark.gl), "traced"])
def test_a_turn_is_anticlockwise_from_above(engine: str) -> None:
    """A quarter turn takes what was on the right (x) to the far side (y)."""
    scene = Scene(bodies=(block(RED, (20, 0, 10)),), lighting=presets()["bench"])
    camera = Camera(eye=(0, 0, 200), target=(0, 0, 10), up=(0, 1, 0), ortho_mm=60)
    _, module, _ = engines.choose(engine)
    with module.open(scene) as session:
        shot = Shot(camera=camera, width_px=60, height_px=60, look="proof", turn_deg=90)
        pixels = session.render(shot).pixels
    assert np.allclose(pixels[10, 30, :3], RED, atol=0.01)
