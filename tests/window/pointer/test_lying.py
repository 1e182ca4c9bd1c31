"""Rectangles on a face, dragged by their corners, turned and held: all worked out by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.enclosure.sizes import SIZES
from mockup.model.enclosure import faces
from mockup.window.pointer.lying import Laid, Lying, Neighbour, laid, scaled, turned_by

TOP = faces(SIZES["112x60x31"])["top"]
MIDDLE = (TOP.width_mm / 2, TOP.height_mm / 2)
BOX = Lying(u_mm=20.0, v_mm=30.0, width_mm=10.0, height_mm=6.0)


def test_corners_run_clockwise_from_its_own_top_left() -> None:
    assert BOX.corners == ((15.0, 27.0), (25.0, 27.0), (25.0, 33.0), (15.0, 33.0))
    turned = Lying(u_mm=20.0, v_mm=30.0, width_mm=10.0, height_mm=6.0, rotation_deg=90.0)
    assert turned.corners[0] == (pytest.approx(23.0), pytest.approx(25.0))  # its top edge looks to the right
    assert turned.reach == (pytest.approx(6.0), pytest.approx(10.0))


def test_what_lies_on_it() -> None:
    assert BOX.holds((24.9, 32.9))
    assert not BOX.holds((25.1, 30.0))
    assert BOX.holds((25.1, 30.0), 0.2)
    turned = Lying(u_mm=20.0, v_mm=30.0, width_mm=10.0, height_mm=6.0, rotation_deg=90.0)
    assert turned.holds((20.0, 34.9))
    assert not turned.holds((24.0, 30.0))


def test_a_corner_dragged_keeps_the_one_across() -> None:
    found = scaled(BOX, 2, (35.0, 39.0))  # from (25, 33): twice the diagonal from (15, 27)
    assert (found.width_mm, found.height_mm) == (pytest.approx(20.0), pytest.approx(12.0))
    assert found.corners[0] == (pytest.approx(15.0), pytest.approx(27.0))


def test_what_is_centred_grows_both_ways() -> None:
    found = scaled(BOX, 2, (30.0, 36.0), (True, True))
    assert (found.u_mm, found.v_mm) == (20.0, 30.0)
    assert found.width_mm == pytest.approx(20.0)  # from 5, 3 beside the middle to 10, 6
    across = scaled(BOX, 2, (30.0, 39.0), (True, False))
    assert across.u_mm == 20.0
    assert across.corners[0][1] == pytest.approx(27.0)


@given(
    corner=st.integers(0, 3), turn=st.floats(-180, 180), u=st.floats(-50, 80), v=st.floats(-50, 80),
    is_centred=st.tuples(st.booleans(), st.booleans()),
)  # fmt: skip
def test_proportions_are_kept_however_it_is_dragged(corner, turn, u, v, is_centred) -> None:
    thing = Lying(u_mm=20.0, v_mm=30.0, width_mm=10.0, height_mm=6.0, rotation_deg=turn)
    found = scaled(thing, corner, (u, v), is_centred)
    assert found.width_mm / found.height_mm == pytest.approx(10 / 6)
    assert max(found.width_mm, found.height_mm) >= 1.0 - 1e-9
    assert found.rotation_deg == turn


def test_turning_goes_in_steps_about_the_middle() -> None:
    start = (20.0, 20.0)  # straight above the middle
    assert turned_by(BOX, start, (30.0, 30.0), 5.0).rotation_deg == 90.0  # to the right of it: a quarter clockwise
    seventeen = (20 + 10 * math.sin(math.radians(17)), 30 - 10 * math.cos(math.radians(17)))
    assert turned_by(BOX, start, seventeen, 5.0).rotation_deg == 15.0
    assert turned_by(BOX, start, seventeen, 15.0).rotation_deg == 15.0
    assert turned_by(BOX, start, seventeen).rotation_deg == 17.0
    assert turned_by(BOX, start, (20.0, 40.0), 5.0).rotation_deg == 180.0


def held(u: float, v: float, **more: object) -> Laid:
    return laid(TOP, Lying(u_mm=u, v_mm=v, width_mm=10.0, height_mm=6.0), **more)  # type: ignore[arg-type]


def test_the_middle_of_the_flat_holds() -> None:
    found = held(MIDDLE[0] + 0.7, MIDDLE[1] - 0.7)
    assert found.is_centred == (True, True)
    assert (found.thing.u_mm, found.thing.v_mm) == (pytest.approx(MIDDLE[0]), pytest.approx(MIDDLE[1]))
    assert [guide.why for guide in found.guides] == ["centre line", "centre line"]
    assert not held(MIDDLE[0] + 1.2, 10.0).guides


def test_a_neighbour_holds_but_does_not_centre() -> None:
    found = held(12.4, 50.0, others=[Neighbour(name="FLOW", at=(12.0, 20.0))])
    assert found.thing.u_mm == 12.0
    assert found.is_centred == (False, False)
    assert [guide.why for guide in found.guides] == ["in line with FLOW"]


def test_edges_go_onto_the_grid_where_nothing_holds() -> None:
    found = held(12.37, 41.2, grid_mm=0.5)
    assert (found.thing.u_mm - 5.0) % 0.5 == pytest.approx(0.0, abs=1e-9)
    assert (found.thing.v_mm - 3.0) % 0.5 == pytest.approx(0.0, abs=1e-9)
    assert abs(found.thing.u_mm - 12.37) <= 0.25
    free = held(12.37, 41.2, grid_mm=0.5, is_on=False)
    assert (free.thing.u_mm, free.thing.v_mm) == (12.37, 41.2)


def test_its_middle_stays_on_the_face() -> None:
    found = held(-40.0, 900.0, is_on=False)
    assert (found.thing.u_mm, found.thing.v_mm) == (0.0, TOP.height_mm)
