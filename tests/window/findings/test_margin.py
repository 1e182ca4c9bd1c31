"""Marks in the margin: apart from each other, in the picture, and no two leaders crossing."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from mockup.window.findings.margin import is_crossing, margin_marks

AREA = (76.0, 68.0, 944.0, 604.0)
BODY = (350.0, 670.0)
RINGS = st.lists(st.tuples(st.floats(355, 665), st.floats(60, 740)), max_size=20)


def test_one_mark_stands_at_the_height_of_its_ring_half_way_to_the_edge() -> None:
    (mark,) = margin_marks([(400.0, 300.0)], AREA, BODY, 40.0)
    assert mark.at == ((76.0 + 350.0) / 2, 300.0)
    (mark,) = margin_marks([(600.0, 300.0)], AREA, BODY, 40.0)
    assert mark.at == ((944.0 + 670.0) / 2, 300.0)


def test_marks_of_one_place_stand_apart() -> None:
    found = margin_marks([(400.0, 300.0)] * 3, AREA, BODY, 40.0)
    heights = sorted(each.at[1] for each in found)
    assert [b - a for a, b in itertools.pairwise(heights)] == [40.0, 40.0]


@given(RINGS)
def test_they_never_overlap_leave_the_picture_or_cross(rings: list[tuple[float, float]]) -> None:
    found = margin_marks(rings, AREA, BODY, 40.0)
    assert [each.ring for each in found] == list(range(len(rings)))
    for one, two in itertools.combinations(found, 2):
        if one.at[0] == two.at[0]:
            assert abs(one.at[1] - two.at[1]) >= 40.0 - 1e-6
        assert not is_crossing(rings[one.ring], one.at, rings[two.ring], two.at)
    for each in found:
        assert AREA[0] <= each.at[0] <= AREA[2]
        assert AREA[1] - 1e-6 <= each.at[1] <= AREA[3] + 1e-6
