"""The raster engine's light against textbook form factors, and its keeping of GPU memory."""

import math
from dataclasses import replace

import numpy as np
import pytest
import scenes

from mockup.engines import raster
from mockup.engines.appearance.samples import square
from mockup.geometry.irradiance import form_factor, radiance, soft_box
from mockup.lights import presets
from mockup.model.material import Material
from mockup.model.scene import Body, Camera, Cavity, Scene, SoftBox

pytestmark = [pytest.mark.gl, pytest.mark.slow]

LAMP = SoftBox(centre=(30.0, -20.0, 150.0), right=(60.0, 0.0, 0.0), up=(0.0, 40.0, 0.0), radiance=(2.0, 2.0, 2.0))
CHALK = Material(name="chalk", base_color=(0.8,) * 3, roughness=1.0)


def diffuse_light(mesh, lamp, camera, gloss=0.0):
    """Light (irradiance / pi) that a surface answers with its own colour: white minus black paint.

    Paint without gloss scatters evenly (Lambert).
    """
    dark = replace(scenes.flat_lighting(0.0), boxes=(lamp,))
    seen = []
    for white in (1.0, 0.0):
        material = Material(name="chalk", base_color=(white,) * 3, roughness=1.0, gloss=gloss)
        body = Body(name="wall", mesh=replace(mesh, uv=None), material=material, group="box")
        with raster.open(Scene(bodies=(body,), lighting=dark)) as session:
            seen.append(session.render(scenes.shot(camera, quality="draft")).pixels[..., 0])
    return seen[0] - seen[1]


def corner(a, b, c):
    """Element parallel to an a by b rectangle, c under its corner: Howell, factor B-3."""
    x, y = a / c, b / c
    p, q = math.sqrt(1 + x * x), math.sqrt(1 + y * y)
    return (x / p * math.atan(y / p) + y / q * math.atan(x / q)) / (2 * math.pi)


def over(x, y):
    """Form factor from (x, y) on the floor to LAMP, four corners added with their signs."""
    x0, x1, y0, y1 = -30.0 - x, 90.0 - x, -60.0 - y, 20.0 - y
    signed = [(sx, sy, a, b) for sx, a in ((1, x1), (-1, x0)) for sy, b in ((1, y1), (-1, y0))]
    return sum(
        sx * sy * math.copysign(1, a) * math.copysign(1, b) * corner(abs(a), abs(b), 150.0) for sx, sy, a, b in signed
    )


def test_level_surface_gets_the_textbook_light():
    camera = Camera(eye=(0.0, 0.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=96.0)
    light = diffuse_light(scenes.quad(90.0, 90.0), LAMP, camera)
    base = light[48, 48] / over(0.5, -0.5)
    # what a rough plastic's interface holds back is the same everywhere for a straight view
    assert 0.90 < base / 2.0 < 1.0
    for row, column in ((10, 10), (20, 80), (85, 40), (48, 88), (70, 70)):
        assert light[row, column] / base == pytest.approx(over(column + 0.5 - 48, 48 - row - 0.5), rel=0.005)


def test_wall_gets_only_the_part_of_a_lamp_above_its_own_horizon():
    # a wall that faces the player, under a lamp that hangs half in front of it and half behind
    turn = np.array([[1, 0, 0, 0], [0, 0, -1, 0], [0, 1, 0, 0], [0, 0, 0, 1.0]])
    wall = scenes.quad(90.0, 90.0).moved(turn)
    assert wall.normals[0].tolist() == [0.0, -1.0, 0.0]
    camera = Camera(eye=(0.0, -300.0, 0.0), target=(0.0, 0.0, 0.0), ortho_mm=96.0)
    light = diffuse_light(wall, LAMP, camera)
    facing = np.array((0.0, -1.0, 0.0))
    cut = [
        form_factor(LAMP, np.array((c + 0.5 - 48, 0.0, 48 - r - 0.5)), facing)
        for r, c in ((30, 30), (60, 70), (12, 50))
    ]
    got = [light[r, c] for r, c in ((30, 30), (60, 70), (12, 50))]
    assert np.array(got) / got[0] == pytest.approx(np.array(cut) / cut[0], rel=0.01)


@pytest.mark.parametrize("deg, share", [(0.0, 0.0400), (45.0, 0.0502), (60.0, 0.0892), (75.0, 0.2531)])
def test_smooth_black_paint_mirrors_a_white_room_as_glass_does(deg, share):
    """Fresnel's equations for unpolarised light and index 1.5, in tables of optics."""
    away = math.radians(deg)
    camera = Camera(eye=(0.0, -300.0 * math.sin(away), 300.0 * math.cos(away)), target=(0.0, 0.0, 0.0),
                    up=(0.0, 1.0, 0.0), ortho_mm=24.0)  # fmt: skip
    black = Material(name="black", base_color=(0.0, 0.0, 0.0), roughness=0.05)
    body = Body(name="plate", mesh=replace(scenes.quad(150.0, 150.0), uv=None), material=black, group="box")
    with raster.open(Scene(bodies=(body,), lighting=scenes.flat_lighting(1.0))) as session:
        seen = session.render(scenes.shot(camera, 16, 16, quality="draft")).pixels[8, 8, :3]
    assert seen == pytest.approx(np.full(3, share), rel=0.02)


def test_paint_scatters_more_where_light_and_eye_are_both_flat():
    """Burley 2012, "Physically-Based Shading at Disney", section 5.3, worked out here for one lamp that is small."""
    found = []
    for tilt in (15.0, 75.0):
        a, eye = math.radians(tilt), math.radians(70.0)
        lamp = soft_box((-900.0 * math.sin(a), 0.0, 900.0 * math.cos(a)), 20.0, 20.0, (2.0,) * 3, aim=(0.0, 0.0, 0.0))
        camera = Camera(eye=(-300.0 * math.sin(eye), 0.0, 300.0 * math.cos(eye)), target=(0.0, 0.0, 0.0), ortho_mm=20.0)
        even, paint = (diffuse_light(scenes.quad(90.0, 90.0), lamp, camera, gloss)[48, 48] for gloss in (0.0, 1.0))
        most = 0.5 + 2.0 * math.cos(0.5 * (eye - a)) ** 2  # of roughness 1; lamp and eye are on one side
        exact = math.prod(1.0 + (most - 1.0) * (1.0 - math.cos(each)) ** 5 for each in (a, eye))
        assert paint / even == pytest.approx(exact, rel=0.02)
        found.append(exact)
    assert found[1] > 1.3 * found[0]


def test_mirror_shows_the_room_by_its_own_reflectance():
    metal = Material(name="mirror", base_color=(0.9, 0.6, 0.3), metallic=1.0, roughness=0.05)
    body = Body(name="plate", mesh=replace(scenes.quad(90.0, 90.0), uv=None), material=metal, group="box")
    camera = Camera(eye=(0.0, 0.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=96.0)
    with raster.open(Scene(bodies=(body,), lighting=scenes.flat_lighting(0.7))) as session:
        seen = session.render(scenes.shot(camera, quality="normal")).pixels[48, 48, :3]
    assert seen == pytest.approx(np.array((0.9, 0.6, 0.3)) * 0.7, rel=0.03)  # Fresnel at normal incidence is F0


def test_rough_metal_seen_aslant_mirrors_a_lamp_as_ggx_says():
    """Walter et al. 2007: facets by their distribution (eq. 35), Smith's masking (eq. 34), weight eq. 41."""
    alpha, slant = 0.5**2, math.radians(55.0)
    eye = np.array((0.0, -math.sin(slant), math.cos(slant)))
    lamp = soft_box((0.0, 600.0, 420.0), 300.0, 200.0, (1.0, 1.0, 1.0), aim=(0.0, 0.0, 0.0))
    u = square(20000)
    lean, round_ = alpha * np.sqrt(u[:, 0] / (1.0 - u[:, 0])), 2.0 * np.pi * u[:, 1]
    facet = np.column_stack([lean * np.cos(round_), lean * np.sin(round_), np.ones(len(u))])
    facet /= np.linalg.norm(facet, axis=1, keepdims=True)
    faced = facet @ eye
    out = 2.0 * faced[:, None] * facet - eye
    real = (faced > 0.0) & (out[:, 2] > 1e-3)

    def hidden(cosine):
        return 0.5 * (np.sqrt(1.0 + alpha**2 * (1.0 / cosine**2 - 1.0)) - 1.0)

    high = np.where(real, out[:, 2], 1.0)
    weight = real * faced / (eye[2] * facet[:, 2]) / (1.0 + hidden(high) + hidden(eye[2]))
    dark = replace(scenes.flat_lighting(0.0), boxes=(lamp,))
    exact = float((radiance(dark, (0.0, 0.0, 0.0), out)[:, 0] * weight).mean())
    metal = Material(name="metal", base_color=(1.0, 1.0, 1.0), metallic=1.0, roughness=0.5)
    body = Body(name="plate", mesh=replace(scenes.quad(60.0, 60.0), uv=None), material=metal, group="box")
    camera = Camera(eye=tuple(400.0 * eye), target=(0.0, 0.0, 0.0), ortho_mm=40.0)
    with raster.open(Scene(bodies=(body,), lighting=dark)) as session:
        seen = session.render(scenes.shot(camera, 32, 32, quality="draft")).pixels[16, 16, 0]
    assert seen == pytest.approx(exact, rel=0.08)  # 20 % darker with a lobe as wide across as along


def board_and_plate(on):
    """A small lamp straight above a plate 20 mm up over a board of a material."""
    lamp = SoftBox(centre=(0.0, 0.0, 220.0), right=(1.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), radiance=(4e4,) * 3)
    board = Body(name="board", mesh=replace(scenes.quad(94.0, 94.0), uv=None), material=on, group="box")
    plate = Body(name="plate", mesh=replace(scenes.quad(20.0, 20.0, z=20.0), uv=None), material=CHALK, group="lid")
    return Scene(bodies=(board, plate), lighting=replace(scenes.flat_lighting(0.0), boxes=(lamp,)))


def test_a_shadow_in_a_draft_fades_without_flat_steps():
    # 8 px a millimetre, middle of the plate's left edge: the shadow fades over 7 mm, twice the reach of its reads
    camera = Camera(eye=(-11.0, -200.0, 200.0), target=(-11.0, 0.0, 0.0), ortho_mm=12.0)
    with raster.open(board_and_plate(CHALK)) as session:
        row = session.render(scenes.shot(camera, 96, 96, quality="draft")).pixels[48, :, 0]
    changes = np.flatnonzero(np.abs(np.diff(row)) > 1e-3 * row.max())
    assert changes[-1] - changes[0] > 40
    assert np.diff(changes).max() <= 6  # 0.75 mm; six reads alone make a step of 15


@pytest.mark.parametrize("board_is", ["chalk", "bare casting"])
def test_a_lamp_overhead_throws_the_shadow_where_a_ruler_does(board_is):
    # its shadow on the board is the plate, grown by 220/200
    casting = Material(name="casting", base_color=(0.7,) * 3, metallic=1.0, roughness=0.7)
    scene = board_and_plate(CHALK if board_is == "chalk" else casting)
    camera = Camera(eye=(0.0, -200.0, 200.0), target=(0.0, 0.0, 0.0), ortho_mm=96.0)
    with raster.open(scene) as session:
        seen = session.render(scenes.shot(camera, 192, 192, quality="normal")).pixels[..., 0]
    # along x at y = 0 the board shows through: row of world (x, 0, 0) is the middle, 2 px a millimetre,
    # and the plate (z 20) is drawn 14 mm higher up in the picture
    row = seen[96]
    bright = row[150]
    left, right = 6 + np.flatnonzero(row[6:186] < bright / 2)[[0, -1]]
    middle = slice(left, right + 1)
    assert (96 - left) / 2 == pytest.approx(11.0, abs=1.6)
    assert (right + 1 - 96) / 2 == pytest.approx(11.0, abs=1.6)
    assert row[middle].max() < bright


def test_five_sessions_one_after_another_leave_nothing_on_the_gpu():
    scene = scenes.pedal(presets()["bench"])
    with raster.open(scene):
        pass  # makes the context, before anything else loads GL
    from OpenGL import GL

    kinds = (
        GL.glIsTexture,
        GL.glIsBuffer,
        GL.glIsFramebuffer,
        GL.glIsRenderbuffer,
        GL.glIsVertexArray,
        GL.glIsProgram,
    )

    def there() -> list[int]:
        return [sum(bool(alive(name)) for name in range(1, 600)) for alive in kinds]

    before, left = there(), []
    for _ in range(5):
        with raster.open(scene) as session:
            list(session.pictures(scenes.shot(quality=each, width=48, height=40) for each in ("draft", "normal")))
            next(session.pictures([scenes.shot(quality="draft")] * 3))  # left early
        left.append(there())
    assert left == [before] * 5


def test_pictures_do_not_change_from_session_to_session():
    scene = scenes.pedal(presets()["stage"])
    pictures = []
    for _ in range(2):
        with raster.open(scene) as session:
            pictures.append(session.render(scenes.shot(quality="draft")).pixels)
    assert np.array_equal(*pictures)


def test_a_still_patch_does_not_flicker_on_a_turntable():
    with raster.open(scenes.pedal(presets()["bench"])) as session:
        camera = Camera(eye=(0.0, -330.0, 300.0), target=(0.0, 0.0, 18.0), fov_deg=34.0)
        turns = [session.render(scenes.shot(camera, quality="draft", turn_deg=float(t))).pixels for t in range(6)]
    patch = np.array([p[88:94, 4:12, :3].mean(axis=(0, 1)) for p in turns])  # open ground in a near corner
    # the shadow moves on evenly; what is left after its even motion is flicker: half a code at this brightness
    assert np.abs(np.diff(patch, n=2, axis=0)).max() < 0.002


def test_four_lamps_are_four_lamps():
    # four vectors of four numbers were once taken for a matrix
    chalk = Material(name="chalk", base_color=(0.8,) * 3, roughness=1.0)
    board = Body(name="board", mesh=replace(scenes.quad(90.0, 90.0), uv=None), material=chalk, group="box")
    places = [(-25.0, 20.0), (25.0, 20.0), (-25.0, -20.0), (25.0, -20.0)]
    lamp = Material(name="lamp", base_color=(0.5, 0.5, 0.5), emission=(8.0, 8.0, 8.0))
    lamps = [
        Body(name="lamp", mesh=scenes.dome(x, y, z=0.0), material=lamp, group="hardware", part=f"{x} {y}")
        for x, y in places
    ]
    scene = Scene(bodies=(board, *lamps), lighting=scenes.flat_lighting(0.0))
    camera = Camera(eye=(0.0, 0.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=96.0)
    with raster.open(scene) as session:
        light = session.render(scenes.shot(camera, quality="draft")).pixels[..., 0]
    beside = [light[48 - int(y), 48 + int(x) + 6] for x, y in places]
    assert min(beside) > 0.05
    assert max(beside) < 1.2 * min(beside)
    assert light[48, 48] < 0.5 * min(beside)


def test_a_patch_that_nothing_moves_on_is_the_same_in_every_frame():
    """Flicker: the standard deviation over a turn of far ground, where the pedal's shadow does not come."""
    with raster.open(scenes.pedal(presets()["white"])) as session:
        camera = Camera(eye=(0.0, -330.0, 300.0), target=(0.0, 0.0, 18.0), fov_deg=60.0)
        turns = [session.render(scenes.shot(camera, quality="draft", turn_deg=40.0 * t)).pixels for t in range(9)]
    patch = np.array([p[2:10, :, :3].mean(axis=(0, 1)) for p in turns])
    assert patch.std(axis=0).max() < 0.0005  # an eighth of a code at white
    whole = np.array([p[..., :3] for p in turns])
    still = whole.std(axis=0).max(axis=2) < 0.002
    assert still.mean() > 0.3, "the ground round the pedal keeps still"


def test_flakes_melt_into_the_paint_where_pixels_are_larger_than_they():
    skin = Material(name="flake", base_color=(0.5, 0.3, 0.2), metallic=0.5, roughness=0.4, coat=1.0, flake=1.0)
    board = Body(name="board", mesh=replace(scenes.quad(90.0, 90.0), uv=None), material=skin, group="box")
    scene = Scene(bodies=(board,), lighting=presets()["bench"])
    rough = []
    with raster.open(scene) as session:
        for across in (12.0, 40.0, 80.0):
            camera = Camera(eye=(0.0, -1.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=across)
            out = session.render(scenes.shot(camera, quality="draft")).pixels[8:88, 8:88, :3].mean(axis=2)
            rough.append(float(np.std(out - out.mean())) / float(out.mean()))
    assert rough[0] > 1.3 * rough[1] > 1.3 * 1.3 * rough[2]


@pytest.mark.parametrize("quality", ["draft", "normal"])
def test_the_floor_of_a_hole_gets_the_light_that_its_mouth_lets_in(quality):
    """Mouth of radius R at a height of 2 R: R^2 / (R^2 + d^2) = 1/5 (Howell, catalogue of configuration factors)."""
    chalk = Material(name="chalk", base_color=(0.8,) * 3, roughness=1.0)
    floor = Body(name="floor", mesh=replace(scenes.quad(90.0, 90.0), uv=None), material=chalk, group="hardware")
    hole = Cavity(mouth=(0.0, 0.0, 20.0), way_out=(0.0, 0.0, 1.0), radius_mm=10.0, depth_mm=20.5)
    camera = Camera(eye=(0.0, 0.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=96.0)
    scene = Scene(bodies=(floor,), lighting=scenes.flat_lighting(0.7), cavities=(hole,))
    with raster.open(scene) as session:
        seen = session.render(scenes.shot(camera, quality=quality)).pixels[..., 0]
    assert seen[48, 48] / seen[48, 80] == pytest.approx(0.2, abs=0.02)  # what little chalk mirrors is left over
    assert np.ptp(seen[30:66, 70:90]) < 1e-3  # beside the hole nothing changes


def test_a_draft_knows_the_colour_of_the_panel_that_a_part_stands_on():
    """White room, red panel: the flank of a grey post above it gets half its light from the panel, in every quality."""
    red = Material(name="paint", base_color=(0.8, 0.1, 0.1), roughness=1.0)
    grey = Material(name="post", base_color=(0.5,) * 3, roughness=1.0)
    post = scenes.lathe([(4.0, 0.0), (4.0, 60.0), (0.0, 60.0)], 48)
    scene = Scene(
        bodies=(
            Body(name="top", mesh=replace(scenes.quad(200.0, 200.0), uv=None), material=red, group="box"),
            Body(name="post", mesh=post, material=grey, group="hardware"),
        ),
        lighting=scenes.flat_lighting(1.0, ground=(0.1, 0.1, 0.1)),
    )
    camera = Camera(eye=(0.0, -300.0, 30.0), target=(0.0, 0.0, 30.0), ortho_mm=64.0)
    with raster.open(scene) as session:
        flank = session.render(scenes.shot(camera, quality="draft")).pixels[40:56, 47:49, :3].mean(axis=(0, 1))
    # 0.5 of white room above and 0.5 of red panel (0.8, 0.1 of the room's light): (0.9, 0.55) in red and green
    assert flank[1] / flank[0] == pytest.approx(0.55 / 0.9, abs=0.06)


def test_a_uniform_that_no_shader_declares_is_an_error():
    from mockup.engines.gl.context import make_current

    make_current()
    from mockup.engines.gl.resources import Programs

    programs = Programs()
    program = programs.use("surface.vert", "depth.frag")
    program.set(uModel=np.eye(4))
    with pytest.raises(KeyError, match="declares no uniform uModle"):
        program.set(uModle=np.eye(4))
    # declared, but dropped by the compiler in this variant: passed over
    programs.use("surface.vert", "proof.frag", HAS_PICTURE=0).set(uPicture=0)
    programs.clear()
