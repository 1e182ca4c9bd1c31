"""A measured drawing laid out: fields at their lines, none over another, true in proportion."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.window.dimensions.arrangement import FIELD, arrange, levels
from mockup.window.dimensions.rows import spread
from mockup.window.dimensions.sketch import Dimension, Hole, Sketch, line, rectangle


def place(u: float, v: float, wide: float = 60.0, tall: float = 110.0) -> Sketch:
    """A face with one hole, measured from all four edges."""
    return Sketch(
        strokes=(rectangle(0, 0, wide, tall), line((wide / 2, 0), (wide / 2, tall), "chain")),
        holes=(Hole(at=(u, v), radius_mm=4.0, is_picked=True),),
        dimensions=(
            Dimension(name="left", side="left", value=u, start=(0, v), end=(u, v), is_kept=False),
            Dimension(name="right", side="right", value=wide - u, start=(u, v), end=(wide, v)),
            Dimension(name="top", side="top", value=v, start=(u, 0), end=(u, v)),
            Dimension(name="bottom", side="bottom", value=tall - v, start=(u, v), end=(u, tall), is_kept=False),
            Dimension(name="drill", side="left", value=7.5, caption="Drill"),
            Dimension(name="turn", side="right", value=0.0, quantity="angle", caption="Turned"),
        ),
    )


def covers(one: tuple[float, float, float, float], two: tuple[float, float, float, float]) -> bool:
    """True where two boxes (left, top, width, height) overlap."""
    return all(one[a] < two[a] + two[a + 2] - 1e-6 and two[a] < one[a] + one[a + 2] - 1e-6 for a in (0, 1))


@given(st.floats(0, 60), st.floats(0, 110))
def test_no_field_covers_another_and_all_are_inside(u: float, v: float) -> None:
    plan = arrange(place(u, v), 288, 142)
    left, top, right, bottom = plan.frame
    drawn = (left, top, right - left, bottom - top)
    boxes = [field.box for field in plan.fields]
    assert not any(covers(one, two) for one, two in itertools.combinations(boxes, 2))
    for x, y, wide, tall in boxes:
        assert x >= -1e-6
        assert y >= -1e-6
        assert x + wide <= plan.size[0] + 1e-6
        assert y + tall <= plan.size[1] + 1e-6
        assert not covers((x, y, wide, tall), drawn)


def test_fields_stand_in_the_order_of_the_list() -> None:
    plan = arrange(place(20, 30), 288, 142)
    assert [field.dimension.name for field in plan.fields] == ["left", "right", "top", "bottom", "drill", "turn"]


def test_the_drawing_keeps_its_proportion_and_height() -> None:
    plan = arrange(place(20, 30), 288, 142)
    left, top, right, bottom = plan.frame
    assert (right - left) / (bottom - top) == pytest.approx(60 / 110)
    assert bottom - top <= 142 + 1e-9
    assert plan.at((20, 30)) == pytest.approx((left + 20 * plan.scale, top + 30 * plan.scale))


def test_a_line_towards_its_field_stays_where_it_is_measured() -> None:
    plan = arrange(place(20, 30), 288, 142)
    right = plan.fields[1]
    assert right.line == (plan.at((20, 30)), plan.at((60, 30)))
    assert right.leader[0] == plan.at((60, 30))  # from the edge on to the field
    x, y, _, tall = right.box
    assert right.leader[1] == (x, y + tall / 2)


def test_a_height_is_drawn_beside_the_drawing_with_extensions() -> None:
    sketch = Sketch(
        strokes=(rectangle(0, 0, 17, 14),),
        dimensions=(
            Dimension(name="height", side="left", value=14.0, start=(0, 0), end=(0, 14)),
            Dimension(name="width", side="bottom", value=17.0, start=(0, 14), end=(17, 14)),
        ),
    )
    plan = arrange(sketch, 200, 60)
    height, width = plan.fields
    assert {x for x, _ in height.line} == {plan.frame[0] - 12}
    assert {y for _, y in width.line} == {plan.frame[3] + 12}
    assert height.extensions[0][0] == plan.at((0, 0))
    assert height.box[0] + FIELD[0] < height.line[0][0]


def test_short_lines_stand_inside_long_ones() -> None:
    spans = {"all": (0, 100), "first": (0, 40), "second": (40, 70), "over": (30, 80)}
    out = levels(
        [
            Dimension(name=name, side="bottom", value=0.0, start=(low, 0), end=(high, 0))
            for name, (low, high) in spans.items()
        ]
    )
    assert out == {"second": 0, "first": 0, "over": 1, "all": 2}


@given(st.lists(st.tuples(st.floats(-50, 350), st.floats(5, 60)), min_size=1, max_size=8))
def test_a_row_is_pushed_apart(wishes: list[tuple[float, float]]) -> None:
    wanted, sizes = [at for at, _ in wishes], [size for _, size in wishes]
    middles = spread(wanted, sizes, 0.0, 600.0, gap=6.0)
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    for one, two in itertools.pairwise(order):
        assert middles[two] - middles[one] >= (sizes[one] + sizes[two]) / 2 + 6.0 - 1e-6
    for middle, size in zip(middles, sizes, strict=True):
        assert middle - size / 2 >= -1e-6
        assert middle + size / 2 <= 600.0 + 1e-6


def test_what_has_room_stays_where_it_wants() -> None:
    assert spread([20.0, 100.0], [10.0, 10.0], 0.0, 200.0, gap=6.0) == [20.0, 100.0]


def test_two_at_one_place_part_to_both_sides_alike() -> None:
    assert spread([100.0, 100.0], [20.0, 20.0], 0.0, 200.0, gap=6.0) == pytest.approx([87.0, 113.0])


def test_a_row_too_long_starts_at_the_low_end() -> None:
    assert spread([10.0, 10.0, 10.0], [20.0] * 3, 0.0, 50.0, gap=5.0) == pytest.approx([10.0, 35.0, 60.0])
