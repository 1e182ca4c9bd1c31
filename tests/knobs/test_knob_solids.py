"""Knobs keep the size they are asked for, in every style."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from mockup import knobs
from mockup.knobs._turning import CLEARANCE_MM, ROOF_MM, bead_mm
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Extruded, Solid, Turned

SHAFT = Shaft(diameter_mm=6.0, top_mm=13.0)
SIZES = [(14.0, 12.0), (16.0, 15.0), (20.0, 16.0), (25.0, 18.0), (32.0, 20.0), (40.0, 25.0)]  # diameter, height
STYLES = knobs.styles()


def _points(solid: Solid) -> NDArray[np.float64]:
    """Return (n, 3) points of a solid's surface, its extremes along x, y and z among them."""
    if isinstance(solid, Turned):
        turn = np.radians(np.arange(0, 360, 3))
        r, z = np.array(solid.profile).T
        x, y = np.outer(r, np.cos(turn)), np.outer(r, np.sin(turn))
        lean = math.radians(solid.tilt_deg)
        up = np.broadcast_to((z - solid.pivot_z_mm)[:, None], x.shape)
        leaned = (x, y * math.cos(lean) + up * math.sin(lean), up * math.cos(lean) - y * math.sin(lean))
        shift = (*solid.at, solid.pivot_z_mm)
        return np.stack([each.ravel() + by for each, by in zip(leaned, shift, strict=True)], axis=1)
    outline = solid.outline
    if outline.kind == "rectangle":
        half = (outline.width_mm / 2, outline.height_mm / 2)
        flat = np.array([(sx * half[0], sy * half[1]) for sx in (-1, 0, 1) for sy in (-1, 0, 1)])
    else:
        assert outline.kind == "slot"
        end = (outline.width_mm - outline.height_mm) / 2
        turn = np.radians(np.arange(0, 360, 3))
        flat = np.stack([outline.height_mm / 2 * np.cos(turn), outline.height_mm / 2 * np.sin(turn)], axis=1)
        flat[:, 0] += np.where(np.cos(turn) >= 0, end, -end)
    clockwise = math.radians(solid.rotation_deg)
    c, s = math.cos(clockwise), math.sin(clockwise)
    flat = flat @ np.array([[c, -s], [s, c]]) + solid.at
    return np.concatenate([np.c_[flat, np.full(len(flat), z)] for z in (solid.bottom_mm, solid.top_mm)])


def _cloud(knob: Knob, shaft: Shaft = SHAFT) -> NDArray[np.float64]:
    return np.concatenate([_points(solid) for solid in knobs.solids(knob, shaft)])


def _sized(style: str, diameter: float, height: float) -> Knob:
    return replace(knobs.default(style), diameter_mm=diameter, height_mm=height)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize(("diameter", "height"), SIZES)
class TestSize:
    def test_diameter_and_height_are_exact(self, style: str, diameter: float, height: float) -> None:
        cloud = _cloud(_sized(style, diameter, height))
        assert np.hypot(cloud[:, 0], cloud[:, 1]).max() == pytest.approx(diameter / 2, abs=1e-9)
        assert np.ptp(cloud[:, 2]) == pytest.approx(height, abs=1e-9)

    def test_profiles_are_simple(self, style: str, diameter: float, height: float) -> None:
        for solid in knobs.solids(_sized(style, diameter, height), SHAFT):
            if isinstance(solid, Turned):
                area = 0.0
                profile = solid.profile
                for index, a in enumerate(profile):
                    b = profile[(index + 1) % len(profile)]
                    assert math.dist(a, b) > 1e-6
                    area += a[0] * b[1] - b[0] * a[1]
                    for other in range(index + 2, len(profile)):
                        c, d = profile[other], profile[(other + 1) % len(profile)]
                        assert d == a or not _crosses(a, b, c, d)
                assert area > 0
            else:
                assert solid.top_mm > solid.bottom_mm
                assert min(solid.outline.width_mm, solid.outline.height_mm) > 2 * solid.bevel_mm

    def test_pointer_is_at_twelve_oclock(self, style: str, diameter: float, height: float) -> None:
        knob = _sized(style, diameter, height)
        marks = [s for s in knobs.solids(knob, SHAFT) if s.material.base_color == knob.pointer_colour]
        assert marks
        points = np.concatenate([_points(mark) for mark in marks])
        assert np.abs(points[:, 0].min() + points[:, 0].max()) < 1e-9  # symmetric about the y axis
        assert points[:, 1].max() > 0.6 * diameter / 2  # it reaches well out
        assert points[:, 1].min() > -0.25 * diameter / 2  # and does not run over to 6 o'clock

    def test_pointer_shows_from_above_and_from_the_side(self, style: str, diameter: float, height: float) -> None:
        """In the cut x = 0 the line stands out by 0.04 mm or more, looking down and looking from 12 o'clock."""
        knob = _sized(style, diameter, height)
        solids = knobs.solids(knob, SHAFT)
        marks = [cut for s in solids if s.material.base_color == knob.pointer_colour for cut in _section(s)]
        body = [cut for s in solids if s.material.base_color != knob.pointer_colour for cut in _section(s)]
        seat = float(_cloud(knob)[:, 2].min())
        across = np.linspace(0.02, 0.99, 98) * diameter / 2
        up = seat + np.linspace(0.02, 0.98, 97) * height
        from_above = [_farthest(marks, y, along=0) - _farthest(body, y, along=0) for y in across]
        from_side = [_farthest(marks, z, along=1) - _farthest(body, z, along=1) for z in up]
        assert sum(gain > 0.04 for gain in from_above) >= 10  # a tenth of the radius or more
        assert sum(gain > 0.04 for gain in from_side) >= 7  # a fourteenth of the height or more


def _section(solid: Solid) -> list[list[tuple[float, float]]]:
    """Return the cut of a solid with the plane x = 0 as polygons (y, z), one on each side; bevels left out."""
    if isinstance(solid, Extruded):
        ys = _points(solid)[:, 1]
        low, high = float(ys.min()), float(ys.max())
        return [[(low, solid.bottom_mm), (high, solid.bottom_mm), (high, solid.top_mm), (low, solid.top_mm)]]
    lean, pivot = math.radians(solid.tilt_deg), solid.pivot_z_mm
    c, s = math.cos(lean), math.sin(lean)
    return [
        [
            (solid.at[1] + side * r * c + (z - pivot) * s, pivot + (z - pivot) * c - side * r * s)
            for r, z in solid.profile
        ]
        for side in (1, -1)
    ]


def _farthest(polygons: list[list[tuple[float, float]]], at: float, *, along: int) -> float:
    """Return the greatest other coordinate where the line `coordinate[along] = at` meets any polygon's edge."""
    found = [-1e9]
    for polygon in polygons:
        for a, b in pairwise((*polygon, polygon[0])):
            if (a[along] - at) * (b[along] - at) < 0:
                share = (at - a[along]) / (b[along] - a[along])
                found.append(a[1 - along] + share * (b[1 - along] - a[1 - along]))
    return max(found)


def _crosses(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]) -> bool:
    def side(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


@pytest.mark.parametrize("style", STYLES)
class TestSeat:
    def test_wide_knob_hides_the_nut(self, style: str) -> None:
        knob = _sized(style, 32.0, 20.0)
        assert _cloud(knob)[:, 2].min() == pytest.approx(CLEARANCE_MM)

    def test_narrow_knob_stays_above_the_nut(self, style: str) -> None:
        knob = _sized(style, 12.0, 16.0)  # narrower than a 12.7 mm nut is across its corners, 14.66 mm
        assert _cloud(knob)[:, 2].min() >= SHAFT.nut_top_mm - 1e-9

    def test_long_shaft_holds_the_knob_up(self, style: str) -> None:
        knob = _sized(style, 32.0, 15.0)
        top = _cloud(knob, Shaft(diameter_mm=6.0, top_mm=25.0))[:, 2].max()
        assert top == pytest.approx(25.0 + ROOF_MM)

    def test_pointer_position_is_left_to_the_assembler(self, style: str) -> None:
        knob = knobs.default(style)
        turned = _cloud(replace(knob, pointer=0.9))
        assert np.array_equal(turned, _cloud(knob))

    def test_colours_are_the_knobs_own(self, style: str) -> None:
        knob = replace(knobs.default(style), colour=(0.3, 0.1, 0.2), pointer_colour=(0.7, 0.6, 0.5))
        colours = {solid.material.base_color for solid in knobs.solids(knob, SHAFT)}
        assert {(0.3, 0.1, 0.2), (0.7, 0.6, 0.5)} <= colours


def test_nut_is_a_half_inch_one_across_its_corners() -> None:
    """12.7 / cos 30 degrees = 14.664 mm, by hand."""
    assert pytest.approx(14.664, abs=0.15) == SHAFT.nut_mm


def test_bead_shows_as_wide_as_asked() -> None:
    """A bead of radius r that stands out by h shows 2 sqrt(2 r h - h^2): r 2.5 and h 1 give 4."""
    assert bead_mm(4.0, 1.0) == pytest.approx(2.5)


def test_unknown_style_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        knobs.default("no-such-style")
