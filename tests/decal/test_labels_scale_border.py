"""Scale marks by hand trigonometry, borders measured in pixels."""

from __future__ import annotations

import math

import numpy as np
import pytest

from mockup.decal import border, scale_marks
from mockup.decal.lettering import printed
from mockup.films import films
from mockup.model.finish import Artwork, Decal

PER_MM = 20.0  # pixels; 508 dpi
BLACK = (0.0, 0.0, 0.0)


def scale(**changes):
    """Return eleven marks round (20, 20), from 8 to 10 mm away, the minor ones to 9 mm."""
    usual = {
        "u_mm": 20.0,
        "v_mm": 20.0,
        "inner_mm": 8.0,
        "marks": 11,
        "travel_deg": 300.0,
        "rotation_deg": 0.0,
        "major_every": 5,
        "major_mm": 2.0,
        "minor_mm": 1.0,
        "line_mm": 0.4,
    }
    return scale_marks.Scale(**{**usual, **changes})


def cover(*marks):
    """Return how far each pixel of a 40 mm square is covered by ink, 0 to 1."""
    side = round(40 * PER_MM)
    art = Artwork(name="art", pixels=np.zeros((side, side, 4), np.uint8))
    film = Decal(art=art, face="top", u_mm=20.0, v_mm=20.0, width_mm=40.0, height_mm=40.0, film=films()["clear"])
    return printed(film, marks).art.pixels[..., 3] / 255.0


def at(picture, u, v):
    """Return the pixel at a place in millimetres."""
    return picture[int(v * PER_MM), int(u * PER_MM)]


def test_marks_run_clockwise_from_seven_to_five_o_clock():
    ways = scale_marks.directions(scale())
    root = math.sqrt(3) / 2
    np.testing.assert_allclose(ways[0], [-0.5, root], atol=1e-12)  # -150 degrees: left and down
    np.testing.assert_allclose(ways[1], [-root, 0.5], atol=1e-12)  # -120
    np.testing.assert_allclose(ways[5], [0, -1], atol=1e-12)  # 12 o'clock
    np.testing.assert_allclose(ways[8], [1, 0], atol=1e-12)  # 90
    np.testing.assert_allclose(ways[10], [0.5, root], atol=1e-12)


def test_ends_lie_where_trigonometry_says():
    ends = scale_marks.segments(scale())
    np.testing.assert_allclose(ends[0], [[16, 20 + 4 * math.sqrt(3)], [15, 20 + 5 * math.sqrt(3)]], atol=1e-12)
    np.testing.assert_allclose(ends[2], [[12, 20], [11, 20]], atol=1e-12)  # nine o'clock, a minor one
    np.testing.assert_allclose(ends[5], [[20, 12], [20, 10]], atol=1e-12)
    assert scale_marks.majors(scale()) == (0, 5, 10)


def test_a_turned_part_turns_its_scale_clockwise():
    ends = scale_marks.segments(scale(rotation_deg=90.0))
    np.testing.assert_allclose(ends[5], [[28, 20], [30, 20]], atol=1e-12)


def test_marks_without_length_are_left_out():
    assert len(scale_marks.segments(scale(minor_mm=0.0))) == 3


def test_the_ink_begins_and_ends_where_it_should():
    picture = cover(scale_marks.inked(scale(), BLACK))
    column = picture[:, int(20 * PER_MM)]
    upper = column[: int(20 * PER_MM)]
    assert upper.sum() / PER_MM == pytest.approx(2.0, abs=0.05)
    row = picture[int(11 * PER_MM)]
    assert row[int(19 * PER_MM) : int(21 * PER_MM)].sum() / PER_MM == pytest.approx(0.4, abs=0.01)
    for number in range(11):
        toward = np.array([math.sin(math.radians(30 * number - 150)), -math.cos(math.radians(30 * number - 150))])
        long = number % 5 == 0
        assert at(picture, *(20 + 8.5 * toward)) == 1
        assert at(picture, *(20 + 7.9 * toward)) == 0
        assert at(picture, *(20 + 9.5 * toward)) == (1 if long else 0)
        assert at(picture, *(20 + 10.1 * toward)) == 0


def test_a_mark_shorter_than_its_line_is_a_dot():
    picture = cover(scale_marks.inked(scale(minor_mm=0.1, major_mm=0.1, line_mm=1.0), BLACK))
    # Eleven discs of diameter 1 round radius 8.05; drawn with chords up to a quarter of a pixel inside the circle.
    assert 11 * math.pi * 0.4875**2 <= picture.sum() / PER_MM**2 <= 11 * math.pi / 4
    assert at(picture, 20, 20 - 8.05) == 1


def test_numbers_stand_on_one_circle_beyond_the_longer_marks():
    first, upper, last = scale_marks.number_centres(scale(), 0.5, [(1.0, 1.0), (1.0, 1.0), (2.0, 1.0)])
    # The last is the widest: at 150 degrees its ellipse, 2 by 1, reaches hypot(0.5 * 1, 0.866 * 0.5) towards the knob.
    away = 10.5 + math.hypot(0.5 * 1.0, math.sqrt(3) / 2 * 0.5)
    assert upper == pytest.approx((20, 20 - away))
    assert last == pytest.approx((20 + away / 2, 20 + away * math.sqrt(3) / 2))
    assert first == pytest.approx((20 - away / 2, 20 + away * math.sqrt(3) / 2))


def test_a_border_has_its_inset_width_and_corners():
    picture = cover(border.inked((2.0, 3.0, 38.0, 37.0), 5.0, 0.6, BLACK))
    middle = picture[int(20 * PER_MM)]
    assert np.flatnonzero(middle)[0] == 2 * PER_MM
    assert middle[: int(20 * PER_MM)].sum() == pytest.approx(0.6 * PER_MM, abs=0.05)
    column = picture[:, int(20 * PER_MM)]
    assert np.flatnonzero(column)[0] == 3 * PER_MM
    assert np.flatnonzero(column)[-1] == 37 * PER_MM - 1
    # Along the diagonal from the corner (2, 3) a circle of radius r about (7, 8) is met 5 sqrt 2 - r away.
    for u_sign, v_sign, corner in ((1, 1, (2, 3)), (-1, 1, (38, 3)), (-1, -1, (38, 37)), (1, -1, (2, 37))):
        for distance, inked in ((-0.08, 0), (0.08, 1), (0.52, 1), (0.68, 0)):
            step = (5 * math.sqrt(2) - 5.0 + distance) / math.sqrt(2)
            assert at(picture, corner[0] + u_sign * step, corner[1] + v_sign * step) == inked
    straight = 2 * (36 + 34) - 8 * 5.0
    area = 0.6 * straight + math.pi * (5.0**2 - 4.4**2)
    assert picture.sum() / PER_MM**2 == pytest.approx(area, rel=1e-3)


def test_a_border_may_have_sharp_corners():
    picture = cover(border.inked((2.0, 2.0, 38.0, 38.0), 0.0, 1.0, BLACK))
    assert at(picture, 2.02, 2.02) == 1
    assert at(picture, 2.98, 2.98) == 1
    assert at(picture, 3.02, 3.02) == 0
    assert picture.sum() / PER_MM**2 == pytest.approx(36**2 - 34**2, rel=1e-6)
