"""The eye goes round, sideways and nearer exactly as the pointer does; figures by hand where given."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.model.enclosure import FACES, Enclosure, faces
from mockup.model.scene import Camera
from mockup.scene.cameras import frame
from mockup.scene.projection import projected, turned
from mockup.scene.views import VIEWS
from mockup.window.pointer.orbit import Orbit
from mockup.window.pointer.rays import on_face, ray

SIZE = (1280, 800)
BOX = Enclosure(width_mm=60.0, length_mm=112.0, height_mm=31.0, draft_deg=1.5)


def pixel(camera: Camera, point: np.ndarray, size: tuple[float, float]) -> np.ndarray:
    """Where a point (3,) is seen."""
    return projected(camera, size, point[None])[0]


CORNERS = np.array([[x, y, z] for x in (-30.0, 30.0) for y in (-56.0, 56.0) for z in (0.0, 31.0)])

mm = st.floats(-80, 80)
orbits = st.builds(
    Orbit,
    target=st.tuples(mm, mm, mm),
    azimuth_deg=st.floats(-180, 180),
    elevation_deg=st.one_of(st.floats(-90, 90), st.sampled_from([90.0, -90.0, 0.0])),
    distance_mm=st.floats(150, 1500),
    ortho_mm=st.one_of(st.none(), st.floats(30, 400)),
)
pixels = st.tuples(st.floats(0, SIZE[0]), st.floats(0, SIZE[1]))


def at_target_depth(orbit: Orbit, at: tuple[float, float]) -> np.ndarray:
    """The point under a pixel in the plane through the target that faces the eye."""
    camera = orbit.camera()
    line, back = ray(camera, at, SIZE), camera.basis()[:3, 2]
    distance = float((np.asarray(orbit.target) - line.origin) @ back) / float(line.way @ back)
    return line.at(distance)


def test_standing_at_the_near_side_level_the_eye_looks_along_plus_y() -> None:
    camera = Orbit(target=(0, 0, 10), azimuth_deg=0, elevation_deg=0, distance_mm=100).camera()
    assert camera.eye == pytest.approx((0, -100, 10))
    assert camera.up == pytest.approx((0, 0, 1))


def test_a_quarter_round_the_eye_stands_at_the_right_side() -> None:
    camera = Orbit(elevation_deg=0, distance_mm=100).orbited(90, 0).camera()
    assert camera.eye == pytest.approx((100, 0, 0), abs=1e-9)


def test_straight_above_away_from_the_player_is_up() -> None:
    camera = Orbit(elevation_deg=90, distance_mm=100).camera()
    assert camera.eye == pytest.approx((0, 0, 100), abs=1e-9)
    assert camera.up == pytest.approx((0, 1, 0))
    assert camera.basis()[:3, 0] == pytest.approx((1, 0, 0))


def test_the_eye_goes_no_further_than_straight_above_and_below() -> None:
    assert Orbit(elevation_deg=80).orbited(0, 30).elevation_deg == 90
    assert Orbit(elevation_deg=-80).orbited(0, -30).elevation_deg == -90


@given(orbits, st.floats(-720, 720), st.floats(-200, 200))
def test_it_never_rolls(orbit: Orbit, across: float, up: float) -> None:
    """The picture's right stays level, and up never points down."""
    pose = orbit.orbited(across, up).camera().basis()
    assert pose[2, 0] == pytest.approx(0, abs=1e-9)
    assert pose[2, 1] >= -1e-9
    assert np.linalg.det(pose[:3, :3]) == pytest.approx(1)


def test_a_pixel_is_as_wide_as_the_picture_is_high_by_its_pixels() -> None:
    """Orthographic 160 mm over 800 px: 0.2 mm; in perspective 2 tan(10 degrees) 500 mm over 800 px, by hand."""
    assert Orbit(ortho_mm=160).mm_per_px(800) == pytest.approx(0.2)
    assert Orbit(distance_mm=500, fov_deg=20).mm_per_px(800) == pytest.approx(0.220409, abs=1e-6)


@given(orbits, pixels, st.floats(-300, 300), st.floats(-300, 300))
def test_what_is_dragged_stays_under_the_pointer(orbit: Orbit, at: tuple[float, float], dx: float, dy: float) -> None:
    point = at_target_depth(orbit, at)
    seen = pixel(orbit.panned(dx, dy, SIZE).camera(), point, SIZE)
    assert seen == pytest.approx((at[0] + dx, at[1] + dy), abs=1e-5)


@given(orbits, pixels, st.floats(0.2, 5))
def test_what_is_zoomed_into_stays_under_the_pointer(orbit: Orbit, at: tuple[float, float], factor: float) -> None:
    point = at_target_depth(orbit, at)
    seen = pixel(orbit.zoomed(factor, at, SIZE).camera(), point, SIZE)
    assert seen == pytest.approx(at, abs=1e-5)


def test_zooming_by_two_doubles_what_is_at_the_target() -> None:
    for orbit in (Orbit(distance_mm=500), Orbit(ortho_mm=200)):
        nearer = orbit.zoomed(2, (640, 400), SIZE)
        assert nearer.mm_per_px(800) == pytest.approx(orbit.mm_per_px(800) / 2)


@given(orbits, st.lists(st.floats(0.1, 10), max_size=30))
def test_zooming_ends_somewhere(orbit: Orbit, factors: list[float]) -> None:
    for factor in factors:
        orbit = orbit.zoomed(factor, (0, 0), SIZE)
        span = orbit.mm_per_px(1)
        assert 1 < span < 5000
        assert all(math.isfinite(value) for value in orbit.target)


@pytest.mark.parametrize("name", [name for name in VIEWS if name != "player"])
def test_a_named_view_shows_what_the_still_shows(name: str) -> None:
    """Every corner of the box falls on the pixel that the still's own camera puts it on."""
    view = VIEWS[name]
    orbit = Orbit.from_view(view, CORNERS, SIZE[0] / SIZE[1])
    wanted = frame(view, CORNERS, SIZE[0] / SIZE[1])
    for corner in CORNERS:
        assert pixel(orbit.camera(), corner, SIZE) == pytest.approx(pixel(wanted, corner, SIZE), abs=1e-6)


def test_the_players_view_shows_what_the_still_shows() -> None:
    orbit = Orbit.from_view(VIEWS["player"], CORNERS, 1.6)
    wanted = frame(VIEWS["player"], CORNERS, 1.6)
    for corner in CORNERS:
        assert pixel(orbit.camera(), corner, SIZE) == pytest.approx(pixel(wanted, corner, SIZE), abs=1e-6)


@given(orbits)
def test_what_is_fitted_is_all_in_the_picture_and_touches_its_margin(orbit: Orbit) -> None:
    camera = orbit.fitted(CORNERS, SIZE[0] / SIZE[1]).camera()
    seen = np.array([pixel(camera, corner, SIZE) for corner in CORNERS])
    share = np.abs(seen / SIZE - 0.5).max(axis=0) * 2
    assert share.max() == pytest.approx(0.84, abs=1e-6)  # 8 % free on each side
    before, after = orbit.camera().basis(), camera.basis()
    assert after[:3, :3] == pytest.approx(before[:3, :3], abs=1e-9)


@given(orbits)
def test_perspective_and_back_keeps_the_size_at_the_target(orbit: Orbit) -> None:
    flat = orbit.orthographic()
    assert flat.mm_per_px(800) == pytest.approx(orbit.mm_per_px(800))
    assert flat.perspective().mm_per_px(800) == pytest.approx(flat.mm_per_px(800))


@pytest.mark.parametrize("face", FACES)
def test_true_size_lays_a_millimetre_over_so_many_pixels(face: str) -> None:
    """At 4 px/mm, (u, v) = (10, 7) lies 40 px right and 28 px below (0, 0), right and down as on the page."""
    side = faces(BOX)[face]  # type: ignore[index]
    camera = Orbit.true_size(side, 4.0, SIZE).camera()
    corner = pixel(camera, side.to_world(np.array([0.0, 0.0])), SIZE)
    point = pixel(camera, side.to_world(np.array([10.0, 7.0])), SIZE)
    assert corner is not None
    assert point is not None
    assert np.subtract(point, corner) == pytest.approx((40, 28), abs=1e-6)
    middle = pixel(camera, side.to_world(np.array([side.width_mm / 2, side.height_mm / 2])), SIZE)
    assert middle == pytest.approx((640, 400), abs=1e-6)


def test_a_pixel_becomes_a_place_on_a_face() -> None:
    """Straight above at 4 px/mm the middle of the picture is the middle of the face; 40 px right are 10 mm."""
    top = faces(BOX)["top"]
    camera = Orbit.true_size(top, 4.0, SIZE).camera()
    middle = (top.width_mm / 2, top.height_mm / 2)
    assert on_face(ray(camera, (640, 400), SIZE), top) == pytest.approx(middle)
    assert on_face(ray(camera, (680, 380), SIZE), top) == pytest.approx((middle[0] + 10, middle[1] - 5))


@given(orbits, pixels, st.sampled_from(FACES))
def test_a_place_on_a_face_is_seen_where_it_was_pointed_at(orbit: Orbit, at: tuple[float, float], name: str) -> None:
    side = faces(BOX)[name]  # type: ignore[index]
    camera = orbit.camera()
    line = ray(camera, at, SIZE)
    place = on_face(line, side)
    if place is None or abs(float(line.way @ side.out)) < 0.01 or np.linalg.norm(place) > 5000:
        return  # seen edge on
    assert pixel(camera, side.to_world(np.array(place)), SIZE) == pytest.approx(at, abs=1e-4)


def test_a_turntable_turns_the_pedal_and_not_the_eye() -> None:
    """After a quarter turn anticlockwise, what was at +x is at +y: the eye at the near side sees it behind."""
    camera = Orbit(elevation_deg=0, distance_mm=500).camera()
    assert turned(np.array([[1.0, 0, 0]]), 90)[0] == pytest.approx((0, 1, 0), abs=1e-12)
    assert pixel(camera, turned(np.array([[30.0, 0, 0]]), 90)[0], SIZE) == pytest.approx((640, 400), abs=1e-9)
    assert pixel(camera, turned(np.array([[0.0, 30, 0]]), 90)[0], SIZE)[0] < 640


def test_behind_the_eye_nothing_is_seen_and_no_face_is_met() -> None:
    camera = Orbit(elevation_deg=90, distance_mm=100).camera()
    assert np.isnan(pixel(camera, np.array([0.0, 0, 200]), SIZE)).all()
    away = ray(Orbit(elevation_deg=-90, distance_mm=100).camera(), (640, 400), SIZE)
    high = faces(Enclosure(width_mm=60, length_mm=112, height_mm=31))["top"]
    assert on_face(away, high) is not None  # from below the ray goes up through it
    level = ray(Orbit(elevation_deg=0).camera(), (640, 400), SIZE)
    assert on_face(level, high) is None
