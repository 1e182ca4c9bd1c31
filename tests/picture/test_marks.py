"""Marks on a view: numbers that do not cover each other nor lettering, arrows that can be seen."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.model.enclosure import Enclosure, faces
from mockup.model.finding import Mark as Place
from mockup.model.scene import Camera
from mockup.model.sheet import Circle, Line, Path, Text
from mockup.picture.marks import CIRCLE, PlacedView, around, arrow, numbers

TOP = faces(Enclosure(width_mm=100, length_mm=120, height_mm=50, draft_deg=0.0, corner_mm=6))["top"]
ABOVE = Camera(eye=(0, 0, 500), target=(0, 0, 0), up=(0, 1, 0), ortho_mm=150)
AREA = (30.0, 40.0, 500.0, 600.0)
RED = (0.8, 0.1, 0.1)
RADIUS = 13.0


def view(pixels: np.ndarray | None = None) -> PlacedView:
    return PlacedView(camera=ABOVE, area=AREA, pixels=pixels)


def test_a_place_lies_on_the_page_where_a_ruler_puts_it() -> None:
    """600 px show 150 mm: 4 px/mm. The middle of the top is the picture's; 10 mm and 2 mm round it are 48 px."""
    ring = view().outline(TOP, Place(face="top", u_mm=50, v_mm=60, radius_mm=10), CIRCLE * 12.0)
    assert ring is not None
    assert ring.mean(axis=0) == pytest.approx([30 + 250, 40 + 300])
    assert np.linalg.norm(ring - [280, 340], axis=1) == pytest.approx(np.full(48, 48.0))


def test_lettering_gets_its_box_turned_as_it_is() -> None:
    """By hand: 20 by 4 mm with 0.9 mm of air is 21.8 by 5.8 mm; a quarter turn clockwise stands it upright."""
    label = Place(face="top", u_mm=50, v_mm=60, radius_mm=10.2, box_mm=(20.0, 4.0))
    assert np.abs(around(label)).max(axis=0) == pytest.approx([10.9, 2.9])
    assert np.abs(around(replace(label, rotation_deg=90.0))).max(axis=0) == pytest.approx([2.9, 10.9])
    assert all(abs(x) == pytest.approx(10.9) or abs(y) == pytest.approx(2.9) for x, y in around(label).tolist())
    slanted = around(replace(label, rotation_deg=30.0))
    along = slanted[1] - slanted[0]  # its upper edge runs down to the right, as v grows downwards
    assert math.degrees(math.atan2(along[1], along[0])) == pytest.approx(30.0)


def test_a_face_that_is_turned_away_has_no_outline() -> None:
    below = Camera(eye=(0, 0, -500), target=(0, 0, 0), up=(0, 1, 0), ortho_mm=150)
    place = Place(face="top", u_mm=50, v_mm=60)
    assert PlacedView(camera=below, area=AREA).outline(TOP, place, around(place)) is None


def test_numbers_that_share_a_place_go_round_it() -> None:
    spots = view().spots([CIRCLE * 20.0 + (280, 340)] * 5, RADIUS)
    assert all(math.dist(one, other) >= 2 * RADIUS for one, other in combinations(spots, 2))


@settings(max_examples=60)
@given(st.lists(st.tuples(st.floats(30, 530), st.floats(40, 640), st.floats(4, 200)), min_size=1, max_size=8))
def test_numbers_stay_in_the_picture(rings: list[tuple[float, float, float]]) -> None:
    for x, y in view().spots([CIRCLE * radius + (x, y) for x, y, radius in rings], RADIUS):
        assert 30 + RADIUS <= x <= 530 - RADIUS
        assert 40 + RADIUS <= y <= 640 - RADIUS


def test_grain_of_the_paint_is_no_lettering() -> None:
    """A speckled pedal before a plain ground: the number stays on its ring, where it would stand on gloss."""
    pixels = np.full((600, 500, 3), 128, np.uint8)
    speckles = np.random.default_rng(5).integers(0, 2, (120, 120, 1)) * np.uint8(160)
    pixels[240:360, 190:310] = speckles
    ring = CIRCLE * 20.0 + (280, 340)
    (spot,), (plain,) = view(pixels).spots([ring], RADIUS), view().spots([ring], RADIUS)
    assert np.linalg.norm(ring - spot, axis=1).min() < RADIUS
    assert math.dist(plain, (280, 340)) == pytest.approx(math.dist(spot, (280, 340)), abs=1.0)


@pytest.mark.parametrize("side", [-1, 1])
def test_a_number_keeps_off_lettering(side: int) -> None:
    """Stripes of 4 px, as of letters, to one side of a ring: the number stands on the other, where it is plain."""
    pixels = np.full((600, 500, 3), 200, np.uint8)
    half = slice(0, 250) if side < 0 else slice(250, 500)
    stripes = np.where(np.arange(250) // 4 % 2, 20, 200).astype(np.uint8)
    pixels[:, half] = stripes[None, :, None]
    ((x, _),) = view(pixels).spots([CIRCLE * 40.0 + (280, 340)], RADIUS)
    assert (x - 280) * side < 0
    assert abs(x - 280) >= RADIUS


def test_a_number_off_its_ring_is_tied_to_it() -> None:
    ring = CIRCLE * 20.0 + (100.0, 100.0)
    on, off = (120.0, 100.0), (160.0, 100.0)
    assert [type(mark) for mark in numbers([(7, RED, ring)], [on], RADIUS, 1.6)] == [Circle, Text]
    halo, tie, disc, figure = numbers([(7, RED, ring)], [off], RADIUS, 1.6)
    assert isinstance(halo, Line) and isinstance(tie, Line) and isinstance(disc, Circle) and isinstance(figure, Text)
    assert (tie.x1_mm, tie.y1_mm, tie.x2_mm, tie.y2_mm) == pytest.approx((120, 100, 160, 100))
    assert (disc.x_mm, disc.y_mm, figure.text, tie.colour) == (*off, "7", RED)


def test_a_short_way_gets_an_arrow_that_can_be_seen() -> None:
    start, end = np.array([10.0, 10.0]), np.array([10.5, 10.0])
    *_, shaft, head = arrow(start, end, RED, 1.0, head=4.0, least=12.0)
    assert isinstance(shaft, Line) and isinstance(head, Path)
    assert head.points[0] == pytest.approx((22.0, 10.0))  # 12 from the start, along the way
    assert shaft.x2_mm == pytest.approx(18.0)
    assert arrow(start, start, RED, 1.0, head=4.0, least=12.0) == []
