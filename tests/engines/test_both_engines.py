"""What both engines promise alike: exact proofs, true positions, turntables, transparency, exposure."""

from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.colour.view import view
from mockup.engines import raster, traced
from mockup.lights import presets, suited
from mockup.model.errors import EngineError
from mockup.model.material import Material, Texture
from mockup.model.scene import Body, Camera, DarkCard, Scene
from mockup.scene.cameras import frame
from mockup.scene.views import VIEWS

pytestmark = pytest.mark.slow

ENGINES = [pytest.param(raster, id="raster", marks=pytest.mark.gl), pytest.param(traced, id="traced")]
DOWN = Camera(eye=(0.0, 0.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=96.0)
both = pytest.mark.parametrize("engine", ENGINES)


def plate(pixels, width=80.0, height=80.0, **place):
    """A level plate that carries a picture over its whole face."""
    texture = Texture(pixels=pixels, **({"u_mm": 0.0, "v_mm": 0.0, "width_mm": width, "height_mm": height} | place))
    material = Material(name="plate", base_color=scenes.linear((10, 200, 90)), roughness=0.6, texture=texture)
    body = Body(name="plate", mesh=scenes.quad(width, height), material=material, group="box")
    return Scene(bodies=(body,), lighting=scenes.flat_lighting())


def shown(engine, scene, **kind):
    kind = {"camera": DOWN, "quality": "draft"} | kind
    with engine.open(scene) as session:
        return session.render(scenes.shot(**kind))


@both
def test_proof_shows_every_patch_exactly(engine):
    rng = np.random.default_rng(5)
    codes = np.concatenate([rng.integers(0, 256, (60, 3)), [(0, 0, 0), (255, 255, 255), (128, 128, 128), (10, 11, 12)]])
    pixels = codes.reshape(8, 8, 3).repeat(20, axis=0).repeat(20, axis=1).astype(np.uint8)
    frame = shown(engine, plate(pixels), look="proof")
    out = view(frame.pixels, "proof")
    # 96 px show 96 mm, so patch (i, j), 10 mm wide, has its middle at pixel 8 + 10 j + 5
    middles = 8 + 10 * np.arange(8) + 5
    seen = out[np.ix_(middles, middles)][..., :3].astype(int)
    assert np.abs(seen - codes.reshape(8, 8, 3)).max() <= 1
    assert (out[:6, :6, 3] == 0).all()


@both
def test_outside_its_picture_the_base_colour_shows(engine):
    red = np.full((40, 40, 3), (200, 30, 20), np.uint8)
    frame = shown(engine, plate(red, u_mm=20.0, v_mm=30.0, width_mm=20.0, height_mm=10.0), look="proof")
    out = view(frame.pixels, "proof")[..., :3].astype(int)
    # face (u, v) lies at pixel (8 + u, 8 + v)
    for (u, v), expected in {
        (30, 35): (200, 30, 20), (22, 32): (200, 30, 20), (10, 35): (10, 200, 90), (30, 45): (10, 200, 90),
        (45, 35): (10, 200, 90), (30, 25): (10, 200, 90),
    }.items():  # fmt: skip
        assert np.abs(out[8 + v, 8 + u] - expected).max() <= 1, (u, v)


@both
def test_a_mark_lands_where_the_ruler_says(engine):
    pixels = np.full((800, 800, 3), 255, np.uint8)
    marks = [(12.0, 17.0), (61.0, 23.0), (40.0, 70.0)]
    for u, v in marks:
        pixels[round(v * 10) - 15 : round(v * 10) + 15, round(u * 10) - 15 : round(u * 10) + 15] = 0
    frame = shown(engine, plate(pixels), look="proof", quality="normal", width=192, height=192)
    dark = (1.0 - frame.pixels[..., 1]) * frame.pixels[..., 3]
    row, column = np.mgrid[0:192, 0:192] + 0.5
    for u, v in marks:
        x, y = (8 + u) * 2, (8 + v) * 2  # pixels: two to the millimetre
        near = (np.abs(column - x) < 6) & (np.abs(row - y) < 6)
        weight = dark * near
        assert weight.sum() > 4
        assert (column * weight).sum() / weight.sum() == pytest.approx(x, abs=0.5)
        assert (row * weight).sum() / weight.sum() == pytest.approx(y, abs=0.5)


@both
def test_perspective_puts_a_point_where_a_pinhole_would(engine):
    pixels = np.full((80, 80, 3), 255, np.uint8)
    pixels[20:24, 60:64] = 0  # middle at u 62, v 22 mm: world x 22, y 18, z 0
    camera = Camera(eye=(0.0, -200.0, 200.0), target=(0.0, 0.0, 0.0), fov_deg=30.0)
    frame = shown(engine, plate(pixels), look="proof", quality="normal", camera=camera, width=200, height=160)
    pose = camera.basis()
    at = pose[:3, :3].T @ (np.array((22.0, 18.0, 0.0)) - pose[:3, 3])
    scale = 80 / np.tan(np.radians(15.0))
    x, y = 100 + at[0] / -at[2] * scale, 80 - at[1] / -at[2] * scale
    dark = (1.0 - frame.pixels[..., 1]) * frame.pixels[..., 3]
    row, column = np.mgrid[0:160, 0:200] + 0.5
    weight = dark * ((np.abs(column - x) < 8) & (np.abs(row - y) < 8))
    assert weight.sum() > 2
    assert (column * weight).sum() / weight.sum() == pytest.approx(x, abs=0.5)
    assert (row * weight).sum() / weight.sum() == pytest.approx(y, abs=0.5)


@both
def test_a_full_turn_is_no_turn_and_half_a_turn_is_the_other_side(engine):
    pixels = np.full((80, 80, 3), 255, np.uint8)
    pixels[:40, :40] = (255, 0, 0)  # far left quarter
    with engine.open(plate(pixels)) as session:
        turned = {
            t: session.render(scenes.shot(DOWN, quality="draft", look="proof", turn_deg=t)) for t in (0, 180, 360)
        }
        photo = {t: session.render(scenes.shot(DOWN, 48, 48, quality="draft", turn_deg=t)) for t in (0.0, 360.0)}
    assert np.array_equal(turned[0].pixels, turned[360].pixels)
    assert np.array_equal(photo[0.0].pixels, photo[360.0].pixels)
    assert turned[0].pixels[20, 20, 1] < 0.01 < 0.9 < turned[0].pixels[75, 75, 1]
    assert turned[180].pixels[75, 75, 1] < 0.01 < 0.9 < turned[180].pixels[20, 20, 1]


@both
def test_a_quarter_turn_is_anticlockwise_seen_from_above(engine):
    pixels = np.full((80, 80, 3), 255, np.uint8)
    pixels[:, 60:] = (255, 0, 0)  # the right edge goes to the far edge
    out = shown(engine, plate(pixels), look="proof", turn_deg=90.0).pixels
    assert out[14, 48, 1] < 0.01 < 0.9 < out[48, 82, 1]


@both
def test_hidden_groups_are_left_out(engine):
    under = np.full((8, 8, 3), (0, 0, 255), np.uint8)
    scene = plate(under)
    lid = Body(
        name="lid", mesh=replace(scenes.quad(40.0, 40.0, z=10.0), uv=None), group="lid",
        material=Material(name="lid", base_color=(1.0, 0.0, 0.0)),
    )  # fmt: skip
    scene = replace(scene, bodies=(*scene.bodies, lid))
    with engine.open(scene) as session:
        whole = session.render(scenes.shot(DOWN, look="proof", quality="draft")).pixels
        bare = session.render(scenes.shot(DOWN, look="proof", quality="draft", hidden=frozenset({"lid"}))).pixels
        none = session.render(scenes.shot(DOWN, look="proof", quality="draft", hidden=frozenset({"lid", "box"}))).pixels
    assert whole[48, 48].tolist() == pytest.approx((1, 0, 0, 1), abs=1e-5)
    assert bare[48, 48].tolist() == pytest.approx((0, 0, 1, 1), abs=1e-5)
    assert (none == 0).all()


@pytest.mark.gl
def test_what_is_seen_through_is_thin_glass_over_what_it_holds():
    """Premultiplied `over` of one layer with opacity s: s of its own colour, 1 - s of what is behind."""
    scene = plate(np.full((8, 8, 3), (0, 0, 255), np.uint8), width=40.0, height=40.0)
    lid = Body(
        name="lid", mesh=replace(scenes.quad(80.0, 80.0, z=10.0), uv=None), group="lid",
        material=Material(name="lid", base_color=(1.0, 0.0, 0.0)),
    )  # fmt: skip
    glass = {"look": "proof", "see_through": frozenset({"lid"})}
    for quality in ("draft", "final"):
        out = shown(raster, replace(scene, bodies=(*scene.bodies, lid)), quality=quality, **glass).pixels
        share = float(out[48, 12, 3])  # nothing behind the lid here
        assert 0.1 < share < 0.4
        assert out[48, 12].tolist() == pytest.approx((share, 0, 0, share), abs=2e-3)
        assert out[48, 48].tolist() == pytest.approx((share, 0, 1 - share, 1), abs=2e-3)
    with pytest.raises(EngineError, match="draws no see-through box"):
        shown(traced, scene, **glass)


@both
def test_cutout_is_transparent_with_its_shadow(engine):
    scene = scenes.pedal(presets()["cutout"])
    camera = Camera(eye=(150.0, -330.0, 300.0), target=(20.0, 0.0, 18.0), fov_deg=40.0)
    out = shown(engine, scene, camera=camera, quality="draft").pixels
    alpha = out[..., 3]
    # world (0, 0, 38), the middle of the panel, and a spot of ground just right of the box, away from the key
    panel, shadow = _at(camera, (0.0, 0.0, 38.0)), _at(camera, (42.0, 0.0, 0.0))
    assert alpha[panel] == pytest.approx(1.0, abs=0.02)
    assert 0.15 < alpha[shadow] < 0.95
    assert out[shadow][:3].max() < 0.06  # a shadow only darkens
    assert alpha[:3, :3].max() < 0.02
    assert alpha.min() >= 0.0
    assert alpha.max() <= 1.0


@both
@pytest.mark.parametrize("gloss", [True, False])
def test_mid_grey_paint_on_the_bench_comes_out_near_its_own_colour(engine, gloss):
    scene = scenes.pedal(suited(presets()["bench"], "mirror" if gloss else "dull"), paint=(128, 128, 128), gloss=gloss)
    points = np.concatenate([body.mesh.vertices for body in scene.bodies])
    camera = frame(VIEWS["three-quarter"], points, 4.0 / 3.0)
    out = view(shown(engine, scene, camera=camera, width=160, height=120, quality="draft").pixels, "photo")
    y, x = _at(camera, (-20.0, -10.0, 38.0), 160, 120)
    patch = out[y - 1 : y + 2, x - 1 : x + 2, :3].reshape(-1, 3).mean(axis=0)
    assert np.abs(patch - 128).max() < 10


@both
def test_backdrop_fills_what_looks_over_the_horizon(engine):
    camera = Camera(eye=(0.0, -300.0, 40.0), target=(0.0, 0.0, 40.0), fov_deg=60.0)
    light = presets()["bench"]
    out = shown(engine, scenes.pedal(light), camera=camera, quality="draft").pixels
    assert out[2, 48, :3] == pytest.approx(light.backdrop, abs=0.01)
    assert (out[..., 3] == 1.0).all()


@both
def test_a_mirror_shows_the_dark_card_in_place_of_the_ground(engine):
    """Seen level, a mirror that leans forward by 15 degrees shows what lies 30 degrees down: the law of reflection."""
    lean = np.radians(15.0)
    flat = scenes.quad(40.0, 30.0)
    turn = np.array([(1.0, 0.0, 0.0), (0.0, -np.sin(lean), -np.cos(lean)), (0.0, np.cos(lean), -np.sin(lean))])
    mesh = replace(flat, vertices=flat.vertices @ turn.T + (0.0, 0.0, 20.0), normals=flat.normals @ turn.T, uv=None)
    mirror = Material(name="mirror", base_color=(0.9, 0.9, 0.9), metallic=1.0, roughness=0.05)
    light = scenes.flat_lighting(ground=(0.8, 0.8, 0.8))
    card = DarkCard(middle=(0.0, -250.0), half=(300.0, 250.0), reflectance=0.2)
    camera = Camera(eye=(0.0, -300.0, 20.0), target=(0.0, 0.0, 20.0), ortho_mm=60.0)
    seen = []
    for lighting in (light, replace(light, dark_card=card), replace(light, dark_card=replace(card, middle=(0, 250.0)))):
        scene = Scene(bodies=(Body(name="mirror", mesh=mesh, material=mirror, group="lid"),), lighting=lighting)
        seen.append(shown(engine, scene, camera=camera).pixels[40:56, 40:56, :3].mean())
    assert seen[1] / seen[0] == pytest.approx(0.2 / 0.8, rel=0.1)
    assert seen[2] == pytest.approx(seen[0], rel=0.02)  # it lies behind


@both
def test_a_closed_session_says_so(engine):
    session = engine.open(plate(np.zeros((4, 4, 3), np.uint8)))
    session.close()
    session.close()
    with pytest.raises(EngineError, match="closed"):
        session.render(scenes.shot())


def _at(camera, point, width=96, height=96):
    """Return the (row, column) of the pixel that a point falls on."""
    pose = camera.basis()
    x, y, z = pose[:3, :3].T @ (np.array(point) - pose[:3, 3])
    scale = height / 2 / np.tan(np.radians(camera.fov_deg) / 2)
    return int(height / 2 - y / -z * scale), int(width / 2 + x / -z * scale)


@pytest.mark.gl
def test_both_engines_show_the_same_dents():
    skin = Material(
        name="hammered", base_color=(0.2, 0.4, 0.3), roughness=0.45, coat=1.0, coat_roughness=0.1, hammer=1.0
    )
    board = Body(name="board", mesh=replace(scenes.quad(60.0, 60.0, z=5.0), uv=None), material=skin, group="box")
    scene = Scene(bodies=(board,), lighting=presets()["bench"])
    camera = Camera(eye=(0.0, -150.0, 260.0), target=(0.0, 0.0, 5.0), fov_deg=6.0)
    seen = []
    for engine, quality in ((raster, "normal"), (traced, "final")):
        with engine.open(scene) as session:
            light = session.render(scenes.shot(camera, 96, 96, quality=quality)).pixels[..., :3].mean(axis=2)
        seen.append(np.log(light) - np.log(light).mean())
    assert min(part.std() for part in seen) > 0.02, "there are dents"
    # the same dents in the same places: other dents would not hang together at all
    assert np.corrcoef(seen[0].ravel(), seen[1].ravel())[0, 1] > 0.6
