"""Light of soft boxes and a room: closed forms against handbook factors and plain sums."""

import math

import numpy as np
import pytest

from mockup.geometry.irradiance import form_factor, irradiance, sky_irradiance, soft_box
from mockup.model.scene import Lighting, SoftBox

UP = np.array((0.0, 0.0, 1.0))


def parallel_corner(a, b, c):
    """Element parallel to an a by b rectangle at distance c under its corner: Howell, factor B-3."""
    x, y = a / c, b / c
    p, q = math.sqrt(1 + x * x), math.sqrt(1 + y * y)
    return (x / p * math.atan(y / p) + y / q * math.atan(x / q)) / (2 * math.pi)


def perpendicular_corner(wide, high, away):
    """Element in the floor before the lower corner of a wall: Howell, factor B-4."""
    x, y = high / wide, away / wide
    s = math.sqrt(x * x + y * y)
    return (math.atan(1 / y) - y / s * math.atan(1 / s)) / (2 * math.pi)


def ceiling(x0, x1, y0, y1, z):
    return SoftBox(
        centre=((x0 + x1) / 2, (y0 + y1) / 2, z),
        right=((x1 - x0) / 2, 0.0, 0.0),
        up=(0.0, (y1 - y0) / 2, 0.0),
        radiance=(1.0, 1.0, 1.0),
    )


@pytest.mark.parametrize(("a", "b", "c"), [(100, 100, 100), (300, 50, 120), (20, 400, 30)])
def test_form_factor_of_a_ceiling_above_its_corner(a, b, c):
    assert form_factor(ceiling(0, a, 0, b, c), np.zeros(3), UP) == pytest.approx(parallel_corner(a, b, c), rel=1e-9)


@pytest.mark.parametrize(("wide", "high", "away"), [(100, 100, 100), (30, 200, 50)])
def test_form_factor_of_a_wall_cut_by_the_floor(wide, high, away):
    wall = SoftBox(  # reaches as far below the floor as above it: only the upper half may count
        centre=(away, wide / 2, 0.0), right=(0.0, wide / 2, 0.0), up=(0.0, 0.0, high), radiance=(1.0, 1.0, 1.0)
    )
    facing = np.cross(wall.up, wall.right)
    assert facing[0] < 0  # shines back towards the element
    expected = perpendicular_corner(wide, high, away)
    assert form_factor(wall, np.zeros(3), UP) == pytest.approx(expected, rel=1e-6)


def test_a_soft_box_shines_from_one_side():
    assert form_factor(ceiling(-50, 50, -50, 50, 100), np.array((0.0, 0.0, 200.0)), -UP) == 0.0


def test_a_soft_box_faces_what_it_aims_at():
    box = soft_box((-300.0, 200.0, 400.0), 100.0, 50.0, (1.0, 1.0, 1.0), aim=(0.0, 0.0, 0.0))
    shines = np.cross(box.up, box.right)
    assert np.dot(shines / np.linalg.norm(shines), box.centre) == pytest.approx(-np.linalg.norm(box.centre))
    assert box.right[2] == pytest.approx(0.0)
    assert np.linalg.norm(box.right) == pytest.approx(100.0)


@pytest.mark.parametrize("up", [1.0, 0.6, 0.0, -0.3, -1.0])
@pytest.mark.parametrize("ground", [None, (0.5, 0.5, 0.5)])
def test_room_light_against_a_sum_over_directions(up, ground):
    light = Lighting(
        name="",
        about="",
        boxes=(),
        surround=(0.9, 0.5, 0.1),
        horizon=(0.2, 0.3, 0.4),
        ground=ground,
        backdrop=(0, 0, 0),
    )
    z = (np.arange(400) + 0.5) / 400 * 2 - 1
    a = (np.arange(800) + 0.5) / 800 * 2 * np.pi
    ring = np.sqrt(1 - z * z)[:, None]
    facing = np.maximum(up * z[:, None] + math.sqrt(1 - up * up) * ring * np.cos(a), 0.0)
    weight = facing.sum(axis=1) * (2 / 400) * (2 * np.pi / 800)
    seen = np.where(z[:, None] > 0, 1.0, 0.0 if ground else 1.0) * (
        np.array(light.horizon) + (np.array(light.surround) - light.horizon) * np.maximum(z, 0)[:, None]
    )
    assert sky_irradiance(light, up) == pytest.approx(tuple(weight @ seen), rel=2e-3, abs=2e-4)


def test_a_fading_box_gives_the_light_of_its_own_gradient() -> None:
    """Far off and small: its mean radiance times its form factor, pi x area x cosines / (pi d^2), by hand."""
    box = soft_box((0.0, 0.0, 5000.0), 100.0, 100.0, (4.0, 2.0, 1.0), aim=(0.0, 0.0, 0.0), fade=1.0)
    dark = Lighting(about="", boxes=(box,), surround=(0, 0, 0), horizon=(0, 0, 0), ground=None, backdrop=(0, 0, 0))
    light = irradiance(dark, (0.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    assert light == pytest.approx(tuple(0.5 * r * 200.0**2 / 5000.0**2 for r in (4.0, 2.0, 1.0)), rel=2e-3)
