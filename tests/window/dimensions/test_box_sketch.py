"""The box on drawings: every measure once, where a ruler would take it."""

from __future__ import annotations

import pytest

from mockup.enclosure.sizes import SIZES
from mockup.layout.edit.box import MEASURES
from mockup.window.dimensions.arrangement import arrange
from mockup.window.dimensions.box_sketch import plan_sketch, section_sketch

BOX = SIZES["121x66x39"]


def test_every_measure_stands_on_one_of_both_drawings() -> None:
    named = [each.name for sketch in (plan_sketch(BOX, ()), section_sketch(BOX, ())) for each in sketch.dimensions]
    assert sorted(named) == sorted(MEASURES)


def test_lines_are_as_long_as_their_numbers() -> None:
    for sketch in (plan_sketch(BOX, ()), section_sketch(BOX, ())):
        for each in sketch.dimensions:
            if each.start is not None and each.end is not None:
                axis = 1 if each.is_upright else 0
                assert abs(each.end[axis] - each.start[axis]) == pytest.approx(each.value), each.name


def test_what_the_layout_says_is_kept_and_the_rest_follows() -> None:
    assert {each.name for each in plan_sketch(BOX, {"width"}).dimensions if each.is_kept} == {"width"}


@pytest.mark.parametrize("size", SIZES)
def test_it_has_room_in_a_sheet(size: str) -> None:
    for sketch in (plan_sketch(SIZES[size], ()), section_sketch(SIZES[size], ())):
        plan = arrange(sketch, 288, 128)
        assert all(field.box[0] >= 0 and field.box[0] + field.box[2] <= 288 for field in plan.fields)
        assert plan.frame[2] - plan.frame[0] > 30
