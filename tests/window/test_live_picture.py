"""The live picture against the still one: same passes, same colours, and only what is new goes to the GPU."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import mockup
from mockup.colour.rgb import encode
from mockup.colour.view import view as encoded
from mockup.engines.appearance.bloom import with_bloom
from mockup.engines.gl.context import make_current
from mockup.model.material import Material, Texture
from mockup.model.mesh import Mesh
from mockup.model.scene import Body, Camera, Lighting, Scene, Shot
from mockup.picture.options import PictureRequest
from mockup.scene.assemble import assemble
from mockup.scene.cameras import frame
from mockup.scene.views import VIEWS

pytestmark = [pytest.mark.gl, pytest.mark.slow]

SIZE = (120, 90)
ABOVE = Camera(eye=(0.0, 0.0, 200.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=45.0)
STEP = 1 / 255


@pytest.fixture(scope="module")
def live():
    """The modules that need a context, once there is one."""
    make_current()
    from mockup.engines.gl import progressive as live
    from mockup.engines.gl import screen, session

    class Both:
        Pane, Rect, Screen, RasterSession = live.Pane, live.Rect, screen.Screen, session.RasterSession
        programs = live.Programs()

    return Both


@pytest.fixture(scope="module")
def moth():
    """The scene of an example, and a shot of it."""
    root = Path(__file__).parent.parent.parent
    scene = assemble(mockup.load(root / "examples" / "lantern_moth" / "layout.toml"), PictureRequest().lighting)
    points = np.concatenate([body.mesh.vertices for body in scene.bodies])
    camera = frame(VIEWS["three-quarter"], points, SIZE[0] / SIZE[1])
    return scene, Shot(camera=camera, width_px=SIZE[0], height_px=SIZE[1])


def square(colour, texture=None, side=30.0):
    """A level square of a linear colour, its picture over all of it."""
    half = side / 2
    corners = np.array([(-half, -half, 0.0), (half, -half, 0.0), (half, half, 0.0), (-half, half, 0.0)])
    uv = np.array([(0.0, side), (side, side), (side, 0.0), (0.0, 0.0)])
    mesh = Mesh(
        vertices=corners, normals=np.tile((0.0, 0.0, 1.0), (4, 1)), faces=np.array([(0, 1, 2), (0, 2, 3)]), uv=uv
    )
    return Body(name="square", mesh=mesh, material=Material(name="m", base_color=colour, texture=texture), group="box")


def dark():
    """No light at all."""
    return Lighting(
        name="none", about="", boxes=(), surround=(0, 0, 0), horizon=(0, 0, 0), ground=None, backdrop=(0, 0, 0)
    )


def presented(live, pane, size=SIZE, behind=(0.5, 0.5, 0.5)):
    """What a pane puts on the screen, (h, w, 3) codes."""
    screen = live.Screen(*size)
    screen.clear((0.0, 0.0, 0.0))
    pane.present(screen.fb, live.Rect(x=0, y=0, width=size[0], height=size[1]), behind)
    seen = screen.read()[..., :3]
    screen.delete()
    return seen


def test_a_flat_colour_comes_out_as_its_own_code(live):
    for linear in ((0.0, 0.0, 0.0), (0.001, 0.002, 0.0031308), (0.18, 0.05, 0.9), (0.6, 0.7, 0.75), (1.0, 0.4, 0.2)):
        with live.RasterSession(Scene(bodies=(square(linear),), lighting=dark()), live.programs) as session:
            pane = live.Pane(live.programs)
            pane.draft(session, Shot(camera=ABOVE, width_px=SIZE[0], height_px=SIZE[1], look="proof"))
            seen = presented(live, pane)[SIZE[1] // 2, SIZE[0] // 2] / 255
            assert seen == pytest.approx(encode(linear), abs=STEP)
            pane.delete()


def test_every_code_of_art_stays_itself_in_a_proof(live):
    codes = np.arange(256, dtype=np.uint8).reshape(16, 16)
    pixels = np.repeat(np.repeat(np.stack([codes, codes[::-1], codes.T], axis=-1), 8, axis=0), 8, axis=1)
    picture = Texture(pixels=pixels, u_mm=0.0, v_mm=0.0, width_mm=30.0, height_mm=30.0)
    camera = replace(ABOVE, ortho_mm=30.0)
    with live.RasterSession(Scene(bodies=(square((1, 1, 1), picture),), lighting=dark()), live.programs) as session:
        pane = live.Pane(live.programs)
        pane.draft(session, Shot(camera=camera, width_px=128, height_px=128, look="proof"))
        seen = presented(live, pane, (128, 128))
        assert np.abs(seen[4::8, 4::8].astype(int) - pixels[4::8, 4::8]).max() <= 1
        pane.delete()


@pytest.mark.parametrize("light", ["bench", "stage", "cutout"])
def test_the_screen_shows_what_the_view_transform_makes_of_the_same_pixels(live, moth, light):
    scene, shot = moth
    with live.RasterSession(replace(scene, lighting=PictureRequest(light=light).lighting), live.programs) as session:
        pane = live.Pane(live.programs)
        pane.draft(session, shot)
        wanted = encoded(with_bloom(pane.read()), "photo").astype(float)
        alpha = wanted[..., 3:] / 255
        over = wanted[..., :3] * alpha + 127.5 * (1 - alpha)
        gap = np.abs(presented(live, pane) - over)
        pane.delete()
    assert gap.max() <= 1.0 + 1.0 * (light == "cutout")  # alpha itself is rounded in the file
    assert np.ptp(over) > 150  # it is a picture


def test_a_picture_that_got_better_piece_by_piece_is_the_still(live, moth):
    scene, shot = moth
    with live.RasterSession(scene, live.programs) as session:
        still = session.render(shot).pixels
        pane = live.Pane(live.programs)
        steps = 0
        for _ in pane.refine(session, shot, bands=lambda: 3):
            steps += 1
        assert steps > 9 * 3  # it was in pieces
        assert pane.read() == pytest.approx(still, abs=2e-3)
        pane.delete()


def test_drawing_elsewhere_between_two_pieces_does_no_harm(live, moth):
    scene, shot = moth
    other = replace(shot, camera=ABOVE, quality="draft", width_px=64, height_px=64)
    with (
        live.RasterSession(scene, live.programs) as session,
        live.RasterSession(
            Scene(bodies=(square((0.5, 0.1, 0.1)),), lighting=PictureRequest(light="stage").lighting), live.programs
        ) as by,
    ):
        pane, beside = live.Pane(live.programs), live.Pane(live.programs)
        for _ in pane.refine(session, shot):
            pass
        alone = pane.read()
        for _ in pane.refine(session, shot):
            beside.draft(by, other)
            presented(live, beside, (64, 64))
        assert np.abs(pane.read() - alone).max() == 0.0
        pane.delete()
        beside.delete()


def test_new_art_takes_the_texture_of_the_old_and_nothing_else(live, moth):
    scene, shot = moth
    body = next(body for body in scene.bodies if body.material.texture is not None)
    art = np.ascontiguousarray(255 - body.material.texture.pixels)
    changed = replace(body, material=replace(body.material, texture=replace(body.material.texture, pixels=art)))
    other = replace(scene, bodies=tuple(changed if each is body else each for each in scene.bodies))
    shot = replace(shot, quality="draft")
    with live.RasterSession(scene, live.programs) as session:
        before_picture = session.render(shot).pixels
        store = session._store
        solids = {key: solid for key, (_, solid) in store._solids.items()}
        casts = {key: solid for key, (_, solid) in store._casts.items()}
        textures = {picture.id for _, picture in store._pictures.values()}
        session.update(other)
        after = session.render(shot).pixels
        assert {key: solid for key, (_, solid) in store._solids.items()} == solids
        assert {key: solid for key, (_, solid) in store._casts.items()} == casts
        assert {picture.id for _, picture in store._pictures.values()} == textures
    with live.RasterSession(other, live.programs) as fresh:
        assert fresh.render(shot).pixels == pytest.approx(after, abs=1e-6)
    assert np.abs(after - before_picture).max() > 0.1


def test_a_scene_without_a_part_frees_what_the_part_took(live, moth):
    scene, shot = moth
    shot = replace(shot, quality="draft")
    fewer = replace(scene, bodies=tuple(body for body in scene.bodies if body.part != "BYPASS"))
    with live.RasterSession(scene, live.programs) as session, live.RasterSession(fewer, live.programs) as fresh:
        session.render(shot)
        session.update(fewer)
        seen = session.render(shot).pixels
        session._lay()  # what no picture asked for since is swept
        session.render(shot)
        session._lay()
        assert set(session._store._solids) == set(fresh._store._solids)
        assert seen == pytest.approx(fresh.render(shot).pixels, abs=1e-6)


def test_a_carried_part_is_drawn_where_it_is_carried_to(live, moth):
    scene, shot = moth
    part, way = "BYPASS", np.array([0.0, 9.0, 0.0])
    pose = np.eye(4)
    pose[:3, 3] = way

    def moved(body):
        return replace(body, mesh=body.mesh.moved(pose)) if body.part == part and body.group != "box" else body

    there = replace(scene, bodies=tuple(moved(body) for body in scene.bodies))
    quick = replace(shot, quality="draft")
    with live.RasterSession(scene, live.programs) as session, live.RasterSession(there, live.programs) as fresh:
        here = session.render(quick).pixels
        session.lift(part)
        # its shadow on the ground and the box's are laid one after the other, not as one: that may be seen a little
        assert np.abs(session.render(quick).pixels - here).max() < 0.03
        session.carry(pose)
        carried, wanted = session.render(quick).pixels, fresh.render(quick).pixels
        assert np.abs(carried - here).max() > 0.1
        assert np.mean(np.abs(carried - wanted)) < 2e-3
        session.lift(None)
        assert session.render(quick).pixels == pytest.approx(here, abs=1e-6)


def test_a_see_through_box_shows_what_it_holds_and_keeps_a_share_of_itself(live):
    inside = replace(square((0.0, 0.5, 0.0), side=10.0), group="inside", name="held")
    below = replace(inside, mesh=replace(inside.mesh, vertices=inside.mesh.vertices - (0.0, 0.0, 5.0)))
    scene = Scene(bodies=(square((0.8, 0.0, 0.0)), below), lighting=dark())
    shot = Shot(camera=ABOVE, width_px=SIZE[0], height_px=SIZE[1], look="proof", quality="draft")
    with live.RasterSession(scene, live.programs) as session:
        pane = live.Pane(live.programs)
        pane.draft(session, shot)
        middle = (SIZE[1] // 2, SIZE[0] // 2)
        assert pane.read()[middle][:3] == pytest.approx((0.8, 0.0, 0.0), abs=1e-3)
        pane.draft(session, replace(shot, see_through=frozenset({"box", "lid"})))
        red, green, blue = pane.read()[middle][:3]
        assert red / 0.8 + green / 0.5 == pytest.approx(1.0, abs=1e-3)  # shares of what is over and under it
        assert 0.1 < red / 0.8 < 0.4
        assert blue == 0.0
        pane.delete()
