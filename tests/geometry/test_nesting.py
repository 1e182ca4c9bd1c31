"""Nesting: nothing overlaps or leaves the page, whatever is nested."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup.geometry.nesting import more, nested

SIZES = st.lists(st.tuples(st.integers(1, 60), st.integers(1, 60)), min_size=1, max_size=14)


@settings(max_examples=60)
@given(sizes=SIZES, gap=st.integers(0, 9), page=st.tuples(st.integers(60, 150), st.integers(60, 150)))
def test_slots_stay_on_the_page_and_apart(sizes: list[tuple[int, int]], gap: int, page: tuple[int, int]) -> None:
    slots = nested(sizes, *page, gap)
    boxes = []
    for (width, height), slot in zip(sizes, slots, strict=True):
        across, down = (height, width) if slot.is_turned else (width, height)
        assert slot.x >= 0 and slot.y >= 0
        assert slot.x + across <= page[0]
        assert slot.y + down <= page[1]
        boxes.append((slot.page, slot.x, slot.y, slot.x + across, slot.y + down))
    for i, one in enumerate(boxes):
        for other in boxes[:i]:
            apart = max(other[1] - one[3], one[1] - other[3], other[2] - one[4], one[2] - other[4])
            assert one[0] != other[0] or apart >= gap


def test_counts_by_hand() -> None:
    """On 100 x 100, 30 wide with gaps of 5: 3 across (100 of 100) and 3 down, so 9; one is there, 8 more fit."""
    assert more([(30, 30)], 1, 100, 100, 5, 50) == 8
    assert more([(30, 30)], 9, 100, 100, 5, 50) == 0
    assert more([(51, 100)], 1, 100, 100, 0, 50) == 0
    assert {slot.page for slot in nested([(51, 100)] * 2, 100, 100, 0)} == {0, 1}
    assert nested([(80, 40)], 50, 90, 0)[0].is_turned
    with pytest.raises(ValueError, match="larger"):
        nested([(120, 20)], 100, 100, 0)


def test_a_page_that_was_cut_apart_is_put_together_again() -> None:
    """Cut a page across and across again, turn every second piece, take 7 % off: nine sets in ten go on one page.

    The 60 sets are cut by dice; 24 of them need a second page where only the largest go first.
    """
    dice = random.Random(3)
    pages = [max(slot.page for slot in nested(_cut_apart(dice), 186, 265, 6)) + 1 for _ in range(60)]
    assert pages.count(1) >= 51
    assert max(pages) <= 2


def _cut_apart(dice: random.Random) -> list[tuple[int, int]]:
    pieces, gap = [(186, 265)], 6
    for _ in range(dice.choice([2, 3, 4, 5])):
        across, down = pieces.pop(max(range(len(pieces)), key=lambda each: pieces[each][0] * pieces[each][1]))
        share = dice.uniform(0.35, 0.65)
        if across > down:
            first = int((across - gap) * share)
            pieces += [(first, down), (across - gap - first, down)]
        else:
            first = int((down - gap) * share)
            pieces += [(across, first), (across, down - gap - first)]
    smaller = [(int(across * 0.93), int(down * 0.93)) for across, down in pieces]
    return [each[::-1] if dice.random() < 0.5 else each for each in smaller]
