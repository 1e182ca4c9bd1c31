"""An open hole is dark in every look and both engines, and flake stays under white film."""

from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.decal.composite import face_texture
from mockup.decal.paint import film_on, paint_material
from mockup.decal.processes import PROCESSES
from mockup.engines import raster, traced
from mockup.films import films
from mockup.finishes import sheens
from mockup.lights import presets, suited
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Enclosure, FaceName
from mockup.model.finish import Artwork, Decal, Finish
from mockup.model.part import Cutout, Kind
from mockup.model.scene import Body, Camera, Scene
from mockup.model.shape import Outline
from mockup.scene.assemble import assemble

pytestmark = pytest.mark.slow

ENGINES = [pytest.param(raster, id="raster", marks=pytest.mark.gl), pytest.param(traced, id="traced")]
both = pytest.mark.parametrize("engine", ENGINES)
DOWN = Camera(eye=(0.0, 0.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=40.0)
NEAR = Camera(eye=(0.0, -300.0, 20.0), target=(0.0, 0.0, 20.0), ortho_mm=40.0)
WHITE = (0.95, 0.95, 0.95)


def drilled(face: FaceName, u_mm: float, v_mm: float) -> Design:
    """A white box with one open hole of 12 mm."""
    kind = Kind(
        name="hole", family="hole", about="a hole", cutouts=(Cutout(outline=Outline(kind="circle", width_mm=12.0)),)
    )
    part = Placement(name="HOLE", kind=kind, face=face, u_mm=u_mm, v_mm=v_mm)
    box = Enclosure(width_mm=60.0, length_mm=100.0, height_mm=40.0, draft_deg=0.0)
    return Design(name="", source="", enclosure=box, finish=Finish(paint=WHITE, sheen=sheens()["gloss"]), parts=(part,))


@both
@pytest.mark.parametrize("look", ["photo", "proof"])
@pytest.mark.parametrize(("face", "at", "camera"), [("top", (30.0, 50.0), DOWN), ("near", (30.0, 20.0), NEAR)])
def test_an_open_hole_is_dark(engine, look, face, at, camera):
    scene = assemble(drilled(face, *at), presets("above" if face == "top" else "near")["bench"], look=look)
    with engine.open(scene) as session:
        pixels = session.render(scenes.shot(camera, 40, 40, quality="draft", look=look)).pixels[..., :3]
    assert pixels[18:22, 18:22].max() < 0.03  # paper black is about that: from memory
    assert pixels[20, 2:6].mean() > 0.5  # and the paint beside it is white


def flaked(film: str, process: str) -> Scene:
    """A plate of flake paint with unprinted clear film on its left, white on its right and none between."""
    finish = Finish(paint=(0.2, 0.5, 0.45), sheen=sheens()["flake"])
    art = Artwork(name="blank", pixels=np.zeros((64, 64, 4), np.uint8))
    decals = tuple(
        Decal(
            art=art, face="top", u_mm=u, v_mm=20.0, width_mm=14.0, height_mm=40.0, film=films()[name],
            process=PROCESSES[how], white_under="everything",
        )
        for u, name, how in ((7.0, "clear", "inkjet"), (33.0, film, process))
    )  # fmt: skip
    texture = face_texture(decals, finish, "photo")
    material = paint_material(finish, texture=replace(texture, film=film_on(finish, decals)))
    body = Body(name="plate", mesh=scenes.quad(40.0, 40.0), material=material, group="box")
    return Scene(bodies=(body,), lighting=suited(presets("above")["bench"], "mirror"))


@both
@pytest.mark.parametrize(("film", "process"), [("white", "inkjet"), ("clear", "print-service")])
def test_no_flake_glitters_through_white(engine, film, process):
    with engine.open(flaked(film, process)) as session:
        pixels = session.render(scenes.shot(DOWN, 120, 120, quality="normal")).pixels[..., :3].mean(axis=2)
    clear, bare, white = (
        float(part.std() / part.mean())
        for part in (pixels[20:100, 6:36], pixels[20:100, 45:75], pixels[20:100, 84:114])
    )
    assert clear > 0.6 * bare
    assert white < 0.2 * bare
