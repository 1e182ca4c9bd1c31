"""Where columns stand: never over each other, never off the page, whatever the page, count and crops."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from mockup.comparison.sheet.grid import LEAST, MOST, PictureCell, SheetStyle, cells, shape

STYLE = SheetStyle(
    text_mm=2.7, margin_mm=10.0, caption_mm=15.0, gap_mm=6.5, view_gap_mm=2.2, least_mm=38.0
)  # as on paper
ROOM = st.tuples(st.floats(120.0, 1000.0), st.floats(100.0, 1000.0))  # what is left of the smallest page and more
RATIOS = st.lists(st.floats(0.5, 2.4), min_size=1, max_size=3)
COUNTS = st.integers(LEAST, MOST)
ORIGIN = (10.0, 26.0)


def overlap(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> float:
    wide = min(one[0] + one[2], other[0] + other[2]) - max(one[0], other[0])
    tall = min(one[1] + one[3], other[1] + other[3]) - max(one[1], other[1])
    return max(0.0, wide) * max(0.0, tall)


def area(cell: PictureCell) -> tuple[float, float, float, float]:
    return cell.x_mm, cell.y_mm, cell.width_mm, cell.height_mm


@settings(max_examples=200)
@given(COUNTS, RATIOS, ROOM)
@example(12, [0.5, 0.5, 0.5], (120.0, 100.0))
@example(2, [1.0], (190.0, 240.0))
def test_columns_never_overlap_and_stay_on_the_page(count: int, ratios: list[float], room: tuple[float, float]) -> None:
    chosen = shape(count, ratios, room, STYLE)
    placed = cells(count, ratios, chosen, ORIGIN, STYLE)
    assert [cell.index for cell in placed] == list(range(count))
    assert {cell.page for cell in placed} == set(range(chosen.pages))
    if chosen.width_mm <= 0.0:  # three views of a crop twice as high as wide, captions and gaps: no room for one
        assert room[1] <= STYLE.caption_mm + (len(ratios) - 1) * STYLE.view_gap_mm
        return
    for cell in placed:
        assert cell.x_mm >= ORIGIN[0] - 1e-6
        assert cell.x_mm + cell.width_mm <= ORIGIN[0] + room[0] + 1e-6
        assert cell.y_mm >= ORIGIN[1] - 1e-6
        assert cell.y_mm + cell.height_mm <= ORIGIN[1] + room[1] + 1e-6
        for (x, y, wide, tall), ratio in zip(cell.pictures, ratios, strict=True):
            assert wide == pytest.approx(chosen.width_mm)
            assert wide / tall == pytest.approx(ratio)
            assert x == cell.x_mm
            assert cell.y_mm - 1e-6 <= y
            assert y + tall <= cell.y_mm + cell.height_mm - STYLE.caption_mm + 1e-6
        for one, other in combinations(cell.pictures, 2):
            assert overlap(one, other) < 1e-6
    for one, other in combinations(placed, 2):
        if one.page == other.page:
            assert overlap(area(one), area(other)) < 1e-6


@pytest.mark.parametrize("count", range(LEAST, MOST + 1))
def test_pictures_on_a_lying_page_are_wide_enough_to_see(count: int) -> None:
    # A4 lying, 10 mm margins, a head of 17 mm and a foot of 6 mm; one crop of 4 by 3.
    chosen = shape(count, [4 / 3], (277.0, 167.0), STYLE)
    assert chosen.pages == 1
    assert chosen.width_mm >= STYLE.least_mm
    empty = -count % chosen.across
    assert empty <= 2


def test_three_stand_in_one_row_and_four_in_two_or_one() -> None:
    assert shape(3, [1.0], (277.0, 167.0), STYLE).across == 3
    assert shape(4, [1.0], (277.0, 167.0), STYLE).across in (2, 4)
    # Two upright crops on an upright page: side by side, (190 - 6.5) / 2 = 91.75 mm wide.
    chosen = shape(2, [0.6], (190.0, 250.0), STYLE)
    assert (chosen.across, chosen.width_mm) == (2, pytest.approx(91.75))


def test_many_high_crops_go_to_more_pages_rather_than_shrink() -> None:
    chosen = shape(12, [0.6, 0.6], (190.0, 250.0), STYLE)
    assert chosen.pages > 1
    assert chosen.width_mm >= STYLE.least_mm
