"""Where a dragged part comes to lie, on a face measured by hand: 60 x 112 mm, flat 2 mm inside its edges."""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup import api
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face, faces
from mockup.model.part import Kind
from mockup.window.pointer.snapping import GRIDS, neighbours, snapped

TOP = Face(
    name="top",
    origin=np.array([-30.0, 56.0, 31.0]),
    right=np.array([1.0, 0.0, 0.0]),
    down=np.array([0.0, -1.0, 0.0]),
    out=np.array([0.0, 0.0, 1.0]),
    width_mm=60.0,
    height_mm=112.0,
    taper=0.0,
    flat=(2.0, 2.0, 58.0, 110.0),
)
KIND = Kind(name="lamp", family="lamp", about="")
Neighbour = partial(Placement, kind=KIND, face="top")
TONE = Neighbour(name="TONE", u_mm=14.3, v_mm=20.2)
GAIN = Neighbour(name="GAIN", u_mm=44.7, v_mm=20.2)


def test_with_nothing_near_and_no_grid_it_stays_where_it_is() -> None:
    found = snapped(TOP, (11.11, 77.77), (TONE, GAIN))
    assert (found.u_mm, found.v_mm, found.guides) == (11.11, 77.77, ())


@pytest.mark.parametrize(
    ("grid", "wanted", "there"),
    [
        ("0.5 mm", (11.13, 77.77), (11.0, 78.0)),
        ("1 mm", (11.51, 77.49), (12.0, 77.0)),
        ("1/16 in", (11.0, 76.9), (11.1125, 76.2)),  # 7 and 48 sixteenths
    ],
)
def test_the_grid_counts_from_the_edges(grid: str, wanted: tuple[float, float], there: tuple[float, float]) -> None:
    found = snapped(TOP, wanted, grid_mm=GRIDS[grid], reach_mm=0.1)
    assert (found.u_mm, found.v_mm) == pytest.approx(there)


def test_the_grid_counts_from_the_edges_that_the_layout_measures_from() -> None:
    """60.3 mm wide: 7 mm from the right edge is u = 53.3."""
    face = Face(**{**vars(TOP), "width_mm": 60.3, "flat": (2.0, 2.0, 58.3, 110.0)})
    found = snapped(face, (53.4, 90.2), grid_mm=1.0, reach_mm=0.1, across="right", down="bottom")
    assert (found.u_mm, found.v_mm) == pytest.approx((53.3, 90.0))


def test_on_a_drafted_side_the_grid_follows_the_leaning_edge() -> None:
    """With a taper of 0.1 the left edge at v = 10 lies at u = -1: readings of 5 mm there are u = 4."""
    face = Face(**{**vars(TOP), "taper": 0.1})
    found = snapped(face, (4.2, 10.1), grid_mm=1.0, reach_mm=0.05)
    assert (found.u_mm, found.v_mm) == pytest.approx((4.0, 10.0))


def test_the_centre_line_attracts_and_shows() -> None:
    found = snapped(TOP, (30.7, 77.0), grid_mm=1.0, reach_mm=1.0)
    assert found.u_mm == 30.0
    (guide,) = found.guides
    assert (guide.why, guide.start, guide.end) == ("centre line", (30.0, 2.0), (30.0, 110.0))


def test_out_of_reach_nothing_attracts() -> None:
    assert snapped(TOP, (31.1, 77.0), reach_mm=1.0).u_mm == 31.1


def test_another_part_attracts_along_each_axis_by_itself() -> None:
    found = snapped(TOP, (14.9, 60.0), (TONE,), reach_mm=1.0)
    assert (found.u_mm, found.v_mm) == (14.3, 60.0)
    assert [(guide.why, guide.start, guide.end) for guide in found.guides] == [
        ("in line with TONE", (14.3, 20.2), (14.3, 60.0))
    ]
    level = snapped(TOP, (50.0, 20.6), (TONE,), reach_mm=1.0)
    assert (level.u_mm, level.v_mm) == (50.0, 20.2)
    assert level.guides[0].why == "level with TONE"


def test_equal_gaps_between_two_neighbours_in_the_row() -> None:
    """Half-way between 10 and 44 is 27."""
    row = (Neighbour(name="A", u_mm=10.0, v_mm=20.0), Neighbour(name="B", u_mm=44.0, v_mm=20.0))
    found = snapped(TOP, (27.4, 20.3), row, reach_mm=1.0)
    assert (found.u_mm, found.v_mm) == (27.0, 20.0)
    gaps = [guide for guide in found.guides if guide.why == "equal gaps"]
    assert {guide.start for guide in gaps} == {(10.0, 20.0), (44.0, 20.0)}
    assert {guide.end for guide in gaps} == {(27.0, 20.0)}


def test_equal_gaps_down_a_column() -> None:
    column = (Neighbour(name="A", u_mm=12.0, v_mm=20.0), Neighbour(name="B", u_mm=12.0, v_mm=62.0))
    found = snapped(TOP, (12.4, 41.4), column, reach_mm=1.0)
    assert (found.u_mm, found.v_mm) == (12.0, 41.0)


def test_neighbours_in_another_row_make_no_gaps() -> None:
    row = (Neighbour(name="A", u_mm=10.0, v_mm=20.0), Neighbour(name="B", u_mm=44.0, v_mm=40.0))
    assert snapped(TOP, (27.4, 30.0), row, reach_mm=1.0).u_mm == 27.4


def test_of_two_the_nearer_attracts_and_the_centre_line_where_both_are_one() -> None:
    here = (Neighbour(name="A", u_mm=29.2, v_mm=90.0),)
    assert snapped(TOP, (29.5, 50.0), here, reach_mm=1.0).u_mm == 29.2
    same = (Neighbour(name="A", u_mm=30.0, v_mm=90.0),)
    assert snapped(TOP, (29.5, 50.0), same, reach_mm=1.0).guides[0].why == "centre line"


def test_switched_off_it_is_only_kept_on_the_flat() -> None:
    found = snapped(TOP, (30.2, 200.0), (TONE,), grid_mm=1.0, is_on=False)
    assert (found.u_mm, found.v_mm, found.guides) == (30.2, 110.0, ())


@given(
    st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
    st.lists(st.builds(Neighbour, name=st.just("N"), u_mm=st.floats(-10, 70), v_mm=st.floats(-10, 120)), max_size=5),
    st.sampled_from(list(GRIDS.values())),
    st.floats(0, 20),
    st.sampled_from(["left", "right"]),
    st.sampled_from(["top", "bottom"]),
)
def test_the_centre_always_stays_on_the_flat_and_near(
    wanted: tuple[float, float], others: list[Placement], grid: float | None, reach: float, across: str, down: str
) -> None:
    found = snapped(TOP, wanted, others, grid_mm=grid, reach_mm=reach, across=across, down=down)  # type: ignore[arg-type]
    assert 2.0 <= found.u_mm <= 58.0
    assert 2.0 <= found.v_mm <= 110.0
    flat = min(max(wanted[0], 2.0), 58.0), min(max(wanted[1], 2.0), 110.0)
    furthest = max(2 * reach, (grid or 0.0)) + 1e-9
    assert abs(found.u_mm - flat[0]) <= furthest
    assert abs(found.v_mm - flat[1]) <= furthest
    for guide in found.guides:
        assert guide.why


def test_only_parts_on_the_same_face_are_neighbours() -> None:
    design = api.loads(
        '[box]\nsize = "112x60x31"\n'
        '[[part]]\nname = "A"\nkind = "pot-16"\nleft = 15\ntop = 20\n'
        '[[part]]\nname = "B"\nkind = "pot-16"\nright = 15\ntop = 20\n'
        '[[part]]\nname = "P"\nkind = "dc-socket"\nface = "far"\n'
    )
    assert [each.name for each in neighbours(design, "A")] == ["B"]
    assert neighbours(design, "P") == ()
    box = design.enclosure
    assert neighbours(design, "A")[0].u_mm == pytest.approx(faces(box)["top"].width_mm - 15)
    assert isinstance(box, Enclosure)
