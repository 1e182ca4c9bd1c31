"""Ruler arithmetic by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.layout import ruler
from mockup.layout.ruler import reach, size_on_film
from mockup.model.enclosure import Enclosure, Face, faces
from mockup.model.shape import Outline, turned

# A trapezoid 100 mm wide at the top, 30 high, each end 0.1 mm further out per millimetre down:
# at v = 10 it runs from u = -1 to u = 101.
SIDE = Face(
    name="near",
    origin=np.zeros(3),
    right=np.array([1.0, 0, 0]),
    down=np.array([0, 0, -1.0]),
    out=np.array([0, -1.0, 0]),
    width_mm=100.0,
    height_mm=30.0,
    taper=0.1,
    flat=(4.0, 2.0, 96.0, 30.0),
)


@pytest.mark.parametrize(
    ("sides", "centre"),
    [
        ({}, (50, 15)),
        ({"left": 5.0, "top": 10.0}, (4, 10)),
        ({"right": 5.0, "top": 10.0}, (96, 10)),
        ({"left": 5.0, "bottom": 20.0}, (4, 10)),
        ({"left": 5.0}, (3.5, 15)),
        ({"top": 3.0}, (50, 3)),
    ],
)
def test_a_part_lies_where_the_ruler_says_at_its_own_height(sides, centre):
    assert ruler.centre(SIDE, **sides) == pytest.approx(centre)


@pytest.mark.parametrize(
    ("sides", "centre"),
    [
        ({}, (50, 16)),  # middle of the flat: (4 + 96) / 2, (2 + 30) / 2
        ({"left": 5.0, "top": 6.0}, (14, 10)),  # 20 x 8: edge at -1 + 5, middle 10 further
        ({"right": 5.0, "bottom": 16.0}, (86, 10)),  # 101 - 5 - 10, 30 - 16 - 4
    ],
)
def test_a_decal_is_placed_by_its_own_edges(sides, centre):
    assert ruler.centre(SIDE, (20.0, 8.0), **sides) == pytest.approx(centre)


@given(st.floats(0, 6), st.floats(1, 28), st.floats(0, 50), st.sampled_from(["left", "right"]))
def test_the_ruler_touches_the_box_where_its_wall_really_is(draft, top, reading, side):
    box = Enclosure(width_mm=60, length_mm=112, height_mm=31, draft_deg=draft, corner_mm=8)
    near = faces(box)["near"]
    x, _, z = near.to_world(np.array(ruler.centre(near, top=top, **{side: reading})))
    wall = 30 - box.inset_mm(z)  # half the width of the box at that height
    assert x == pytest.approx(reading - wall if side == "left" else wall - reading, abs=1e-9)


def test_a_turned_rectangle_reaches_as_far_as_its_corners():
    assert turned(20, 8, 0) == pytest.approx((20, 8))
    assert turned(20, 8, 90) == pytest.approx((8, 20))
    assert turned(30, 40, 45) == pytest.approx((49.4974746831, 49.4974746831))  # 70 / sqrt 2


def test_a_slot_reaches_less_far_across_when_turned_than_its_rectangle():
    slot = Outline(kind="slot", width_mm=12, height_mm=4)
    assert reach(slot, 0) == pytest.approx((12, 4))
    assert reach(slot, 90) == pytest.approx((4, 12))
    assert reach(slot, 45) == pytest.approx((9.6568542495, 9.6568542495))  # 8 / sqrt 2 + 4
    assert reach(Outline(kind="circle", width_mm=7), 30) == (7, 7)
    assert reach(Outline(kind="rectangle", width_mm=12, height_mm=4), 90) == pytest.approx((4, 12))
    assert reach(Outline(kind="d", width_mm=12, height_mm=10), 0) == (10, 10)


@pytest.mark.parametrize(
    ("width", "height", "mm_per_px", "size"),
    [
        (50.0, 20.0, (1.0, 1.0), (50, 20)),
        (50.0, None, (1.0, 1.0), (50, 100)),
        (None, 50.0, (1.0, 1.0), (25, 50)),
        (None, None, (0.1, 0.2), (30, 120)),
        (None, None, None, None),
    ],
)
def test_a_decal_of_300_by_600_pixels(width, height, mm_per_px, size):
    assert size_on_film((300, 600), width, height, mm_per_px) == size
