"""Dents and flakes as pictures, and their place on the body."""

from pathlib import Path

import numpy as np
import pytest
import scenes

import mockup.engines.gl as _gl
from mockup.enclosure.shell import build
from mockup.engines.appearance import grain as _grain
from mockup.engines.appearance.content import coarse
from mockup.engines.appearance.lens import BODY, CORE, MEAN_SHINE, RIM, axis, in_table, shine, table
from mockup.engines.appearance.samples import cells
from mockup.engines.tracing.grain import seen_flakes
from mockup.engines.tracing.materials import coordinates
from mockup.model.enclosure import Enclosure
from mockup.model.material import DENT_MM, FilmLayer, FilmPatch, Material, Texture
from mockup.model.scene import Body
from mockup.scene.assemble import LAMP_RADIANCE


def test_a_box_has_a_side_for_each_way_it_faces():
    side, top = scenes.rounded_box()
    pieces = _grain.sides(side)
    assert sum(len(piece.mesh.faces) for piece in pieces) == len(side.faces)
    # the rounded flank of a box without lid faces four ways and, on its rounding, up
    assert len(pieces) == 5
    (level,) = _grain.sides(top)
    assert level.along == (0, 1)
    assert level.depth_mm == pytest.approx(scenes.TOP)
    assert np.ptp(level.at(), axis=0).tolist() == pytest.approx([1.0, 1.0])


def test_dents_are_as_deep_and_as_far_apart_as_said():
    (level,) = _grain.sides(scenes.quad(40.0, 30.0, z=7.0))
    height = _grain.dents(level)[..., 0]
    # where two dents coincide, their brims' softness puts the floor log(2) / BRIM of a cell lower: by hand
    assert height.min() >= -_grain.DENT_DEPTH * DENT_MM * np.log(2.0) / _grain.BRIM
    assert height.max() <= _grain.DENT_DEPTH * DENT_MM + 1e-6
    # one lowest spot a cell of the lattice at the most: count the local minima of a plane's cut
    inner = height[1:-1, 1:-1]
    rows, columns = inner.shape
    around = [height[y : y + rows, x : x + columns] for y in range(3) for x in range(3)]
    lowest = (inner <= np.min(around, axis=0)).sum()
    cells = 40.0 * 30.0 / DENT_MM**2
    assert 0.4 * cells < lowest < 2.0 * cells


def test_dents_lean_as_bowls_of_their_size_do():
    """A bowl of height DEPTH r^2 in cells leans by 2 DEPTH r; no place is further than 1 from a dent."""
    (level,) = _grain.sides(scenes.quad(40.0, 30.0, z=7.0))
    normals = 2.0 * _grain.dent_normals(level).astype(np.float64) - 1.0
    lean = np.arccos(np.clip(normals[..., 2], -1, 1))
    assert lean.max() < np.arctan(2.0 * _grain.DENT_DEPTH)
    # half of a cell lies further than 0.4 from a middle (a disc of that radius is half a cell)
    assert np.median(lean) > 0.5 * np.arctan(2.0 * _grain.DENT_DEPTH * 0.4)


def test_flakes_lean_every_way_alike():
    (level,) = _grain.sides(scenes.quad(60.0, 60.0))
    normal = 2.0 * _grain.flakes(level, 0.3) - 1.0
    assert np.linalg.norm(normal, axis=-1) == pytest.approx(1.0, abs=1e-5)
    assert normal.shape[:2] == (240, 240)  # 60 mm of flakes of 0.25 mm
    slope = normal[..., :2] / normal[..., 2:]
    # even over -0.3 to 0.3: mean 0, standard deviation 0.3 / sqrt(3), of 57 600 flakes
    assert np.abs(slope.mean(axis=(0, 1))).max() < 0.01
    assert slope.std(axis=(0, 1)) == pytest.approx(0.3 / np.sqrt(3.0), rel=0.03)


def test_the_denoiser_is_led_by_no_flake_under_white_film():
    """White of 20 x 10 mm lies right of the middle and above it, on the face's u and v: at x 10 to 30, y 10 to 20."""
    film = np.ones((20, 40), np.float32)
    patch = FilmPatch(u_mm=60.0, v_mm=15.0, width_mm=20.0, height_mm=10.0, rotation_deg=0.0, inside_mm=film,
                      hides=film, shine=0.0 * film)  # fmt: skip
    layer = FilmLayer(patches=(patch,), roughness=0.1, step_mm=0.0, run_mm=0.1)
    picture = Texture(
        pixels=np.zeros((60, 80, 3), np.uint8), u_mm=0.0, v_mm=0.0, width_mm=80.0, height_mm=60.0, film=layer
    )
    paint = Material(name="paint", base_color=(1.0, 0.0, 0.0), flake=1.0, texture=picture)
    (top,) = _grain.sides(scenes.quad(80.0, 60.0))
    led, lying = seen_flakes(top, paint), _grain.flakes(top, 1.0, paint.flake_mm)
    x, y, _ = np.moveaxis(top.points(paint.flake_mm), 2, 0)
    off = np.maximum(np.abs(x - 20.0) - 10.0, np.abs(y - 15.0) - 5.0)  # mm from the white's edge
    assert led[off < -0.5] == pytest.approx(np.tile((0.5, 0.5, 1.0), ((off < -0.5).sum(), 1)), abs=1e-6)
    assert (led[off > 0.5] == lying[off > 0.5]).all()


def test_a_coarse_caster_keeps_its_outline_within_a_cell():
    knob = scenes.knob(0.0, 0.0)
    few = coarse(knob, 1.0)
    assert len(few.faces) < 0.6 * len(knob.faces)
    assert np.abs(np.array(few.bounds()) - np.array(knob.bounds())).max() <= 1.0
    assert few.area() == pytest.approx(knob.area(), rel=0.15)
    assert few.faces.max() < len(few.vertices)


def lens(tilt=None):
    mesh = scenes.dome(0.0, 0.0, z=38.0)
    if tilt is not None:
        mesh = mesh.moved(tilt)
    return Body(name="lens", mesh=mesh, material=Material(name="lens", base_color=(1.0, 0.0, 0.0)), group="hardware")


def test_a_lens_points_away_from_the_pedal():
    assert axis(lens(), np.array((0.0, 0.0, 19.0))) == pytest.approx((0.0, 0.0, 1.0), abs=1e-3)
    over = np.array([[0, 0, 1, 0], [0, 1, 0, 0], [-1, 0, 0, 0], [0, 0, 0, 1.0]])  # z becomes x
    assert axis(lens(over), np.array((0.0, 0.0, 0.0))) == pytest.approx((1.0, 0.0, 0.0), abs=1e-3)


def test_a_lit_lens_is_white_hot_where_it_faces_the_eye_and_of_its_own_colour_at_its_rim():
    red = (LAMP_RADIANCE, 0.1 * LAMP_RADIANCE, 0.0)
    rim, side, core = shine(np.array([0.0, 0.0, 1.0]), np.array([0.0, 0.7, 1.0]), red)
    assert rim.max() < side.max() < 1.0  # below white: the resin's colour is seen, and that it is round
    assert core.min() / core.max() > 0.5 > rim.min() / rim.max() + 0.1
    # the raster engine's shader has the same figures
    text = (Path(_gl.__file__).parent / "shaders" / "surface.frag").read_text()
    assert f"({RIM:.2f} + {1.0 - RIM:.2f} * crown2 * crown2 * crown2 + {BODY:.2f} * facing2)" in text
    assert f"(uEmission + {CORE:.2f} * white * facing2 * facing2)" in text


def test_the_grain_of_a_face_with_a_picture_runs_as_the_picture_does_over_the_rounded_edge_too():
    """A grid that crosses the picture's own gave a torn dark line along the edge, in path traced pictures."""
    top = build(Enclosure(width_mm=66.0, length_mm=121.0, height_mm=39.5), ()).body["top"]
    art = Texture(pixels=np.zeros((8, 8, 3), np.uint8), u_mm=2.0, v_mm=2.0, width_mm=50.0, height_mm=80.0)
    (piece,) = _grain.sides(top, is_one=True)
    at = coordinates(Material(name="paint", base_color=(0.5, 0.5, 0.5), texture=art), piece.mesh, piece)
    source = np.column_stack([at, np.ones(len(at))])
    way = np.linalg.lstsq(source, piece.at() * piece.size, rcond=None)[0][:2]
    # a picture of 8 x 8 px has a rim of one more: 62.5 x 100 mm, along the grid's axes, counted down the face
    assert way == pytest.approx(np.array([[62.5, 0.0], [0.0, -100.0]]), abs=1.0)


def test_a_lens_is_looked_up_where_its_normals_say_and_sheds_the_mean_of_its_curve():
    body = lens()
    up = np.array((0.0, 0.0, 1.0))
    aside = in_table(body.mesh, up, np.array((1.0, 0.0, 0.0, 0.0)))  # an eye far off to the right
    near = in_table(body.mesh, up, np.array((0.0, 0.0, 1e7, 1.0)))  # one high above, as good as far off
    shade = table((4.0, 1.0, 0.0))
    cells = len(shade)
    crown = body.mesh.normals @ up > 0.999
    assert np.floor(near[crown] * cells) == pytest.approx(np.full((crown.sum(), 2), cells - 1))
    assert np.floor(aside[crown] * cells)[:, 1] == pytest.approx(0.0, abs=3.0)
    assert shade[0, 0] == pytest.approx((4.0 * RIM, RIM, 0.0), rel=1e-5)
    # the mean of RIM + (1 - RIM) c^6 over c from 0 to 1, by hand, seen from nowhere
    even = (np.arange(4000) + 0.5) / 4000
    assert shine(even, np.zeros(4000), (1.0, 0.0, 0.0))[:, 0].mean() == pytest.approx(MEAN_SHINE, rel=1e-3)


def test_a_surface_that_faces_no_side_of_the_mesh_still_has_flakes_of_their_width():
    corner, layer = _grain.flake_grid(_grain.sides(scenes.quad(20.0, 10.1, z=3.1)), 0.25)
    assert corner == pytest.approx(np.tile((-10.0, -5.05, 0.25, 10.1 / 41), (6, 1)))  # 41 flakes fill 10.1 mm
    assert layer.ravel().tolist() == [12.0] * 6  # 3.1 / 0.25 = 12.4
    side, _ = scenes.rounded_box()
    corner, _ = _grain.flake_grid(_grain.sides(side), 0.25)
    assert corner[4] == pytest.approx((0.0, 0.0, 0.25, 0.25))  # nothing of it faces down
    assert corner[:, 2:].min() > 0.2


def test_nine_looks_lie_in_the_ninths_of_a_pixel():
    third = 1.0 / 3.0
    assert cells(9) == pytest.approx(np.array([(x, y) for y in (-third, 0.0, third) for x in (-third, 0.0, third)]))
    assert cells(1) == pytest.approx(np.zeros((1, 2)))
