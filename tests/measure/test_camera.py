"""A camera solved from points in pictures whose camera is known, and one by hand."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from mockup.measure.camera import Camera, solved

SIZE = (4000, 3000)
FACE = np.array([(x, y, 0.0) for x in (-40, 0, 40) for y in (-65, -20, 30, 65)])
BOX = np.array([(x, y, z) for x in (-30, 30) for y in (-55, 55) for z in (0, 31)] + [(0, -55, 0), (0, 55, 31)], float)
KNOBS = np.array([(0.0, 0, -15), (10, 20, -15), (-20, -30, -15)])


def _camera(seed: int) -> Camera:
    """Return a camera as one is held: 0 to 35 degrees off the upright, any way round, a lens that bends."""
    chance = np.random.default_rng(seed)
    angles = [chance.uniform(0, 360), chance.uniform(0, 35), chance.uniform(0, 360)]
    focal = chance.uniform(2400, 5000)
    return Camera(
        size_px=SIZE,
        focal=focal,
        lens=(chance.uniform(-0.1, 0.1), chance.uniform(-0.05, 0.05)),
        turn=Rotation.from_euler("zxz", angles, degrees=True).as_matrix(),
        shift=np.array([3.0, -4.0, focal / 9.5]),
        left_px=np.zeros((1, 2)),
    )


def test_straight_down_by_hand() -> None:
    """500 mm away with a focal length of 3000 px: 6 px a millimetre in the plane, 6000 / 980 at knobs 10 mm up."""
    camera = Camera(
        size_px=SIZE, focal=3000.0, lens=(0.0, 0.0), turn=np.eye(3), shift=np.array([0.0, 0, 500]), left_px=np.zeros(2)
    )
    assert camera.pixels((10.0, 20.0)) == pytest.approx((2060.0, 1620.0))
    assert camera.pixels((10.0, 20.0, -10.0)) == pytest.approx((2000 + 30000 / 490, 1500 + 60000 / 490))
    assert camera.places((2060.0, 1620.0)) == pytest.approx((10.0, 20.0))
    assert camera.places((2000 + 30000 / 490, 1500.0), -10.0) == pytest.approx((10.0, 0.0))
    assert camera.eye == pytest.approx((0, 0, -500)) and camera.per_mm((0.0, 0.0)) == pytest.approx(6.0)
    assert camera.fov_deg == pytest.approx(np.degrees(2 * np.arctan(0.5)))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_marks_in_a_plane_say_where_things_in_it_lie(seed: int) -> None:
    """Marks read to 0.2 px of about 9 px a millimetre: places in the plane to 0.05 mm, whatever the lens."""
    camera, noise = _camera(seed), np.random.default_rng(seed).normal(size=(len(FACE), 2)) * 0.2
    found = solved(FACE[:, :2], camera.pixels(FACE) + noise, SIZE)
    holes = np.array([(x, y) for x in (-25.0, 0, 25) for y in (-50.0, 0, 50)])
    assert np.abs(found.places(camera.pixels(holes)) - holes).max() < 0.05
    assert 0.05 < found.rms_px < 0.25
    assert found.focal == pytest.approx(camera.focal, rel=0.1)


@pytest.mark.parametrize("seed", [4, 5])
def test_corners_of_a_box_say_where_what_stands_on_it_is_seen(seed: int) -> None:
    """Ten corners to 0.2 px: the caps of knobs 15 mm above them are seen within a pixel or two."""
    camera, noise = _camera(seed), np.random.default_rng(seed).normal(size=(len(BOX), 2)) * 0.2
    found = solved(BOX, camera.pixels(BOX) + noise, SIZE)
    assert np.abs(found.pixels(KNOBS) - camera.pixels(KNOBS)).max() < 2.0
    assert found.eye == pytest.approx(camera.eye, abs=15.0)


def test_one_stray_point_is_outvoted() -> None:
    camera = _camera(6)
    pixels = camera.pixels(FACE)
    pixels[5] += (14.0, -9.0)
    found = solved(FACE, pixels, SIZE)
    assert np.abs(found.places(camera.pixels(FACE)) - FACE[:, :2]).max() < 0.25
    assert int(np.hypot(*found.left_px.T).argmax()) == 5


def test_what_cannot_be_solved_is_said() -> None:
    with pytest.raises(ValueError, match="needs 6 points"):
        solved(FACE[:4], FACE[:4, :2], SIZE)
    with pytest.raises(ValueError, match="in a line"):
        solved([(each, 0.0) for each in range(8)], [(each, 1.0) for each in range(8)], SIZE)
