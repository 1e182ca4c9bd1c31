"""Numbers of a drawing: what a builder types, in either unit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.window.dimensions.number import dragged, read, shown
from mockup.window.dimensions.sketch import Dimension

LENGTH = Dimension(name="left", side="left", value=0.0)


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("35", 35.0),
        ("35mm", 35.0),
        (" 35 mm ", 35.0),
        ("3,5", 3.5),
        (",5", 0.5),
        ("3.5 cm", 35.0),
        ("1 3/8 in", 34.925),  # 1.375 x 25.4
        ('1-3/8"', 34.925),
        ("3/4 in", 19.05),
    ],
)
def test_lengths_in_either_unit(typed: str, mm: float) -> None:
    assert read(typed, LENGTH, "mm") == pytest.approx(mm)


def test_a_plain_number_counts_in_the_layouts_unit() -> None:
    assert read("2", LENGTH, "in") == pytest.approx(50.8)
    assert read("2 mm", LENGTH, "in") == pytest.approx(2.0)


@pytest.mark.parametrize("typed", ["", "wide", "1/0", "12 furlongs", "1e999", "nan", "--3"])
def test_what_is_no_length_gets_one_sentence(typed: str) -> None:
    with pytest.raises(ValueError, match=r"\S") as caught:
        read(typed, LENGTH, "mm")
    assert "\n" not in str(caught.value)


def test_bounds_are_said_in_the_layouts_unit() -> None:
    bounded = Dimension(name="wall", side="left", value=2.0, least=0.8, most=6.0)
    assert read("0.8", bounded, "mm") == 0.8
    with pytest.raises(ValueError, match=r"0\.5 mm is not possible here; at least 0\.8 mm"):
        read("0.5", bounded, "mm")
    with pytest.raises(ValueError, match=r"1 in is not possible here; at most 0\.236 in"):
        read("1", bounded, "in")


def test_angles_and_shares() -> None:
    turn = Dimension(name="turn", side="left", value=0.0, quantity="angle", most=180.0)
    assert read("90°", turn, "mm") == 90.0
    assert read("-45 degrees", turn, "in") == -45.0
    with pytest.raises(ValueError, match="write for example 90"):
        read("quarter", turn, "mm")
    with pytest.raises(ValueError, match="at most 180 degrees"):
        read("400", turn, "mm")


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (20.0, "mm", "20.0"),
        (47.66, "mm", "47.66"),
        (-0.001, "mm", "0.0"),
        (34.925, "in", "1.375"),
        (25.4, "in", "1.00"),
    ],
)
def test_lengths_as_shown(value: float, unit: str, text: str) -> None:
    assert shown(value, "length", unit) == text  # type: ignore[arg-type]


def test_angles_and_unlike_values_as_shown() -> None:
    assert shown(90.0, "angle", "mm") == "90"
    assert shown(0.5, "number", "mm") == "0.5"
    assert shown(None, "length", "mm") == "several"


@given(st.floats(-2000, 2000), st.sampled_from(["mm", "in"]))
def test_what_is_shown_reads_as_what_it_was(value: float, unit: str) -> None:
    back = read(shown(value, "length", unit), LENGTH, unit)  # type: ignore[arg-type]
    assert back == pytest.approx(value, abs=0.0051 if unit == "mm" else 0.0005 * 25.4 + 1e-9)


def test_a_drag_changes_a_number_in_whole_steps() -> None:
    assert dragged(LENGTH, 24.5, 20.0, "mm") == 25.5  # 0.1 mm for each 2 units
    assert dragged(LENGTH, 24.53, -3.0, "mm") == 24.3  # from between two steps onto one
    assert dragged(LENGTH, 25.4, 4.0, "in") == pytest.approx(25.654)  # 0.005 in = 0.127 mm for each 2 units
    turn = Dimension(name="turn", side="right", value=0.0, quantity="angle")
    assert dragged(turn, 0.0, 90.0, "mm") == 45.0
    marks = Dimension(name="marks", side="right", value=11.0, quantity="number", least=2.0, most=12.0)
    assert dragged(marks, 11.0, 80.0, "mm") == 12.0
    assert dragged(marks, 11.0, -800.0, "mm") == 2.0
