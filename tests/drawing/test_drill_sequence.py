"""Which drills, in which order: rules of the trade, checked on every size."""

from __future__ import annotations

import itertools
from fractions import Fraction
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.drawing.drills import drill, drill_sequence, inch_drill, is_own, number
from mockup.drawing.holes import guides, size_words
from mockup.model.shape import Outline


@pytest.mark.parametrize(
    ("diameter", "drills"),
    [  # pilot 2 or 3 mm, then 3 mm steps: common practice, no source
        (2.0, (2.0,)),
        (3.2, (2.0, 3.2)),
        (5.0, (3.0, 5.0)),
        (7.0, (3.0, 6.0, 7.0)),
        (9.5, (3.0, 6.0, 9.0, 9.5)),
        (12.2, (3.0, 6.0, 9.0, 12.2)),
        (12.5, (3.0, 6.0, 9.0, 12.0, 12.5)),
    ],
)
def test_by_hand(diameter: float, drills: tuple[float, ...]) -> None:
    assert drill_sequence(diameter) == pytest.approx(drills)


def test_inches_go_by_eighths() -> None:
    words = [drill(each, "in") for each in drill_sequence(12.7, "in")]
    assert words == ["1/8", "1/4", "3/8", "1/2"]


@given(diameter=st.floats(1.0, 40.0), units=st.sampled_from(["mm", "in"]))
def test_every_sequence(diameter: float, units: Literal["mm", "in"]) -> None:
    drills = drill_sequence(diameter, units)
    assert drills[-1] == diameter
    steps = [later - earlier for earlier, later in itertools.pairwise(drills)]
    assert all(0.39 < step <= 3.6 for step in steps)  # never a scrape, never a bite that grabs thin metal
    assert drills[0] <= 3.6


def test_figures() -> None:
    assert number(14.85, "mm") == "14.85"
    assert number(13.0, "mm") == "13"
    assert number(12.7, "in") == "0.500"
    assert drill(25.4 * 9 / 32, "in") == "9/32"
    assert drill(7.0, "in") == "9/32"  # 7.144; 17/64 is 6.747
    assert size_words(Outline(kind="slot", width_mm=15, height_mm=6.6), "mm") == "slot 15 × 6.6"


@pytest.mark.parametrize(
    ("mm", "name"),
    [  # sixty-fourths are 0.396875 mm: arithmetic. Hole sizes of the trade: common practice, no source
        (9.5, "3/8"),  # 9.525
        (12.7, "1/2"),
        (7.5, "19/64"),  # 7.541
        (12.5, "1/2"),  # 31/64 is 12.303, too small by 0.197
        (12.0, "15/32"),  # 11.906, smaller by no more than a coat of paint
        (3.2, "1/8"),  # 3.175
        (25.4 + 3.175, "1 1/8"),
    ],
)
def test_inch_drills_go_by_name(mm: float, name: str) -> None:
    assert inch_drill(mm) == name


@given(mm=st.floats(1.0, 40.0))
def test_an_inch_drill_is_never_much_smaller(mm: float) -> None:
    made = 25.4 * float(sum(map(Fraction, inch_drill(mm).split())))
    assert -0.1 - 1e-9 <= made - mm <= 0.396875


@pytest.mark.parametrize(
    ("diameter", "own", "drills"),
    [  # by hand: the pilot nearest to 3 (or 2), then steps of 3 mm at most where there are such
        (9.5, (3, 5, 6, 8, 9.5), (3, 6, 8, 9.5)),
        (9.525, (3.2, 6.4, 9.5), (3.2, 6.4, 9.5)),  # 0.025 off: the same hole
        (12.2, (3, 6, 9, 12), (3, 6, 9, 12.2)),  # none of them makes it
        (12.0, (3, 12), (3, 12)),  # nothing between
        (3.2, (2, 3.2), (2, 3.2)),
        (8.0, (10,), (3, 8.0)),  # no use at all: the usual ones
    ],
)
def test_own_drills(diameter: float, own: tuple[float, ...], drills: tuple[float, ...]) -> None:
    assert drill_sequence(diameter, "mm", own) == pytest.approx(drills)
    assert is_own(drills[-1], own) == (diameter not in (12.2, 8.0))


@given(diameter=st.floats(1.0, 30.0), own=st.lists(st.floats(0.5, 30.0), max_size=12))
def test_every_sequence_of_own_drills_rises_to_the_hole(diameter: float, own: list[float]) -> None:
    drills = drill_sequence(diameter, "mm", own)
    assert abs(drills[-1] - diameter) <= 0.05
    assert all(later - earlier > 0.39 for earlier, later in itertools.pairwise(drills))


def test_guides_stand_where_a_pilot_belongs() -> None:
    assert guides(Outline(kind="circle", width_mm=7)) == ((0.0, 0.0),)
    assert guides(Outline(kind="slot", width_mm=15, height_mm=6)) == ((-4.5, 0.0), (4.5, 0.0))
    assert guides(Outline(kind="d", width_mm=9, height_mm=8)) == ((0.0, -0.5),)  # the 8 mm circle under the flat
    corners = guides(Outline(kind="rectangle", width_mm=12, height_mm=8))
    assert corners == ((-4.0, -2.0), (4.0, -2.0), (4.0, 2.0), (-4.0, 2.0))
