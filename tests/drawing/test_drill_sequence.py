"""Which drills, in which order: rules of the trade, checked on every size."""

from __future__ import annotations

import itertools
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
    assert drill(7.0, "in") == "0.276"
    assert size_words(Outline(kind="slot", width_mm=15, height_mm=6.6), "mm") == "slot 15 × 6.6"


def test_guides_stand_where_a_pilot_belongs() -> None:
    assert guides(Outline(kind="circle", width_mm=7)) == ((0.0, 0.0),)
    assert guides(Outline(kind="slot", width_mm=15, height_mm=6)) == ((-4.5, 0.0), (4.5, 0.0))
    assert guides(Outline(kind="d", width_mm=9, height_mm=8)) == ((0.0, -0.5),)  # the 8 mm circle under the flat
    corners = guides(Outline(kind="rectangle", width_mm=12, height_mm=8))
    assert corners == ((-4.0, -2.0), (4.0, -2.0), (4.0, 2.0), (-4.0, 2.0))
