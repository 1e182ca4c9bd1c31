"""Film on a face: its gloss on bare paint, its edge, and neither where they would not be seen."""

from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.colour.view import view
from mockup.decal.composite import face_texture
from mockup.decal.paint import film_on, paint_material
from mockup.engines import raster, traced
from mockup.films import films
from mockup.finishes import sheens
from mockup.lights import presets
from mockup.model.finish import Artwork, Cut, Decal, Finish
from mockup.model.scene import Body, Camera, Scene, SoftBox

pytestmark = pytest.mark.slow

ENGINES = [pytest.param(raster, id="raster", marks=pytest.mark.gl), pytest.param(traced, id="traced")]
both = pytest.mark.parametrize("engine", ENGINES)
DOWN = Camera(eye=(0.0, 0.0, 400.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=80.0)


def lamp(lean_deg, half=30.0):
    """A soft box 250 mm off that leans from straight above towards -x, and faces the middle."""
    a = np.radians(lean_deg)
    centre = 250.0 * np.array((-np.sin(a), 0.0, np.cos(a)))
    along = half * np.array((np.cos(a), 0.0, np.sin(a)))
    return SoftBox(centre=tuple(centre), right=(0.0, -half, 0.0), up=tuple(along), radiance=(6.0, 6.0, 6.0))


DISC = np.zeros((400, 400, 4), np.uint8)
DISC[np.hypot(*(np.indices((400, 400)) - 199.5)) < 190.0] = (40, 40, 40, 255)  # of 38 mm


def plate(sheen, has_coat, lighting, is_filmed=True, is_disc=False, is_silvered=False):
    """A dark plate of 80 mm with unprinted film on its middle 40 mm, or a printed disc of as much film."""
    finish = Finish(paint=(0.2, 0.2, 0.2), sheen=sheens()[sheen], has_clear_coat=has_coat, is_silvered=is_silvered)
    art = Artwork(name="art", pixels=DISC if is_disc else np.zeros((64, 64, 4), np.uint8))
    cut = Cut(shape="ink", allowance_mm=1.0, radius_mm=0.0) if is_disc else None
    decals = (
        Decal(art=art, face="top", u_mm=40.0, v_mm=40.0, width_mm=40.0, height_mm=40.0, film=films()["clear"], cut=cut),
    )
    texture = face_texture(decals, finish, "photo")
    if is_filmed:
        texture = replace(texture, film=film_on(finish, decals))
    material = paint_material(finish, texture=texture)
    body = Body(name="plate", mesh=scenes.quad(80.0, 80.0), material=material, group="box")
    return Scene(bodies=(body,), lighting=lighting)


def dark(*boxes):
    return replace(scenes.flat_lighting(0.0), boxes=boxes)


def seen(engine, scene, camera=DOWN, quality="normal", **kind):
    with engine.open(scene) as session:
        return session.render(scenes.shot(camera, 80, 80, quality=quality, **kind)).pixels


def patches(pixels):
    """Mean light of the film's middle and of the paint beside it (80 px show 80 mm)."""
    return float(pixels[30:50, 30:50, :3].mean()), float(
        np.mean([pixels[30:50, 5:15, :3].mean(), pixels[30:50, 65:75, :3].mean()])
    )


@both
def test_bare_film_on_matte_paint_is_a_glossier_patch(engine):
    """The narrower lobe is brighter in the mirror direction of a lamp, and darker where it mirrors none."""
    film, paint = patches(seen(engine, plate("matte", False, dark(lamp(0.0)))))
    assert film > 1.15 * paint
    film, paint = patches(seen(engine, plate("matte", False, dark(lamp(50.0)))))
    assert film < 0.95 * paint


@both
@pytest.mark.parametrize("sheen", ["gloss", "matte"])
def test_lacquer_gives_film_and_paint_one_sheen(engine, sheen):
    film, paint = patches(seen(engine, plate(sheen, True, dark(lamp(35.0)))))
    bare, around = patches(seen(engine, plate(sheen, True, dark(lamp(35.0)), is_filmed=False)))
    assert film / paint == pytest.approx(bare / around, rel=0.02)


@both
@pytest.mark.parametrize("is_disc", [False, True], ids=["rectangle", "shaped"])
def test_a_cut_edge_catches_the_light_it_leans_to(engine, is_disc):
    """0.015 mm over 0.06 mm falls at 14 degrees, so from above the left edge mirrors what lies 28 degrees left."""
    close = replace(DOWN, ortho_mm=2.0)
    lines = {}
    for side, x in (("left", -20.0), ("right", 20.0)):
        camera = replace(close, eye=(x, 0.0, 400.0), target=(x, 0.0, 0.0))
        across = seen(engine, plate("gloss", False, dark(lamp(28.0)), is_disc=is_disc), camera)[..., :3].mean(
            axis=(0, 2)
        )
        beside = max(np.median(across[:30]), np.median(across[50:]))  # the film's side or the paint's
        lines[side] = float(across[38:43].max() / beside)
    assert lines["left"] > 1.5
    assert lines["right"] < 1.2


@pytest.mark.gl
def test_an_edge_under_gloss_lacquer_is_not_seen_from_where_a_pedal_is_looked_at():
    """8 pixels to the millimetre, as a pedal fills a large picture: one 8-bit code between film and none."""
    camera = Camera(eye=(-20.0, -150.0, 260.0), target=(-20.0, 0.0, 0.0), ortho_mm=80.0)
    pictures = {}
    for has_coat in (True, False):
        for is_filmed in (True, False):
            with raster.open(plate("gloss", has_coat, presets()["bench"], is_filmed)) as session:
                out = session.render(scenes.shot(camera, 640, 640, quality="draft")).pixels
            pictures[has_coat, is_filmed] = view(out, "photo").astype(int)
    change = {coat: int(np.abs(pictures[coat, True] - pictures[coat, False]).max()) for coat in (True, False)}
    assert change[True] <= 1
    assert change[False] > 3, "bare film is seen there"


@pytest.mark.gl
def test_the_bare_edge_fades_with_distance():
    """It is 0.06 mm wide: over pixels of 1 mm its light is spread 40 times thinner than over 0.025 mm."""
    lines = []
    for across in (2.0, 80.0):
        camera = replace(DOWN, ortho_mm=across, eye=(-20.0, 0.0, 400.0), target=(-20.0, 0.0, 0.0))
        row = seen(raster, plate("gloss", False, dark(lamp(28.0))), camera)[..., :3].mean(axis=(0, 2))
        plain = seen(raster, plate("gloss", False, dark(lamp(28.0)), is_filmed=False), camera)[..., :3].mean(
            axis=(0, 2)
        )
        lines.append(float((row - plain)[36:44].max()))
    assert 0.0 < lines[1] < 0.15 * lines[0]


@both
def test_a_proof_shows_no_film(engine):
    with_film, without = (
        seen(engine, plate("matte", False, presets()["bench"], is_filmed), look="proof") for is_filmed in (True, False)
    )
    assert np.array_equal(with_film, without)


@both
def test_several_turned_films_leave_paint_beside_them(engine):
    """Two strips that cross: on both, on one, and on the bare paint in the corners."""
    scene = plate("matte", False, dark(lamp(0.0)))
    body = scene.bodies[0]
    film = body.material.texture.film
    across = np.abs(np.arange(-320, 320) + 0.5)[:, None] * 0.1, np.abs(np.arange(-70, 70) + 0.5)[None] * 0.1
    inside = np.clip(np.minimum(30.0 - across[0], 5.0 - across[1]).T, -1, 1).astype(np.float32)
    blank = np.zeros_like(inside)
    strip = replace(film.patches[0], width_mm=64.0, height_mm=14.0, inside_mm=inside, hides=blank, shine=blank)
    strips = tuple(replace(strip, rotation_deg=turn) for turn in (45.0, 135.0))
    texture = replace(body.material.texture, film=replace(film, patches=strips))
    # the texture reaches as far as its picture: make that the whole plate
    texture = replace(texture, u_mm=0.0, v_mm=0.0, width_mm=80.0, height_mm=80.0)
    material = replace(body.material, texture=texture)
    light = seen(engine, replace(scene, bodies=(replace(body, material=material),)))[..., :3].mean(axis=2)
    corner = light[38:42, 60:64].mean()  # 20 mm right of the middle, between the strips' ends
    one = light[53:56, 53:56].mean()  # 14 mm along a diagonal
    both_films = light[38:42, 38:42].mean()
    assert one > 1.15 * corner
    assert both_films > 1.15 * corner


@both
def test_air_under_film_is_silvery(engine):
    """Where no lamp is mirrored film is paler by what mist scatters and, near one, mirrors; in patches; both engines
    alike. Paint of 0.033 sends back 0.033 + 0.6 x 0.078 where air is everywhere, and 0.4 of matte paint has it."""
    with_air, without = (
        seen(engine, plate("matte", False, dark(lamp(20.0)), is_silvered=flag)) for flag in (True, False)
    )  # fmt: skip
    more = (with_air[24:56, 24:56, :3] / without[24:56, 24:56, :3]).mean(axis=2)
    assert 1.2 < more.mean() < 1.9  # 1.5 by what scatters alone
    assert more.max() > more.mean() + 0.2
    assert np.percentile(more, 10) < 1.1
    assert patches(with_air)[1] == pytest.approx(patches(without)[1], rel=0.05)  # the paint beside it
