"""Lengths: text and numbers to millimetres and back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.model.units import format_length, parse_length, px_per_mm

# Expected values by hand: 1 in = 25.4 mm exactly.
LENGTHS = [
    (19, "mm", 19.0),
    (19.5, "mm", 19.5),
    (2, "in", 50.8),
    (-3, "mm", -3.0),
    ("19", "mm", 19.0),
    ("19", "in", 482.6),
    ("19 mm", "in", 19.0),
    ("19mm", "in", 19.0),
    ("1.9 cm", "mm", 19.0),
    (".5 mm", "mm", 0.5),
    ("5. mm", "mm", 5.0),
    ("+5 mm", "mm", 5.0),
    ("0.75 in", "mm", 19.05),
    ("3/4 in", "mm", 19.05),
    ("3/4 inch", "mm", 19.05),
    ('3/4"', "mm", 19.05),
    ("3/4", "in", 19.05),
    ("1 1/2 in", "mm", 38.1),
    ("  1 1/2  in ", "mm", 38.1),
    ("-1 1/2 in", "mm", -38.1),
    ("-1/2 in", "mm", -12.7),
    ("15/64 in", "mm", 5.953125),
    ("12 1/2 mm", "in", 12.5),
]

REFUSED = [
    (True, "expected a length"),
    (None, "expected a length"),
    ([1], "expected a length"),
    (math.nan, "finite"),
    (math.inf, "finite"),
    (10**400, "finite"),
    ("nan", "not a length"),
    ("", "not a length"),
    ("mm", "not a length"),
    ("1,5 mm", "not a length"),
    ("1e3 mm", "not a length"),
    ("3 mm 4", "not a length"),
    ("9" * 5000 + "/3", "not a length"),
    ("3 furlong", 'unknown unit \'furlong\' in \'3 furlong\'; use "mm", "cm" or "in"'),
    ("3 m", "unknown unit"),
    ("1/0 in", "divides by zero"),
    ("1 1/0 in", "divides by zero"),
]


@pytest.mark.parametrize(("value", "unit", "mm"), LENGTHS)
def test_lengths_in_every_notation_come_out_in_millimetres(value, unit, mm):
    assert parse_length(value, unit) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(("value", "sentence"), REFUSED)
def test_what_is_no_length_is_refused_in_one_short_line(value, sentence):
    with pytest.raises(ValueError) as caught:
        parse_length(value, "mm")
    text = str(caught.value)
    assert sentence in text
    assert "\n" not in text and len(text) < 200


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (19.0, "mm", "19 mm"),
        (19.05, "mm", "19.05 mm"),
        (19.004, "mm", "19 mm"),
        (100.0, "mm", "100 mm"),
        (-0.001, "mm", "0 mm"),
        (19.05, "in", "0.75 in"),
        (25.4, "in", "1 in"),
        (254.0, "in", "10 in"),
        (1.0, "in", "0.039 in"),
    ],
)
def test_lengths_are_written_short(mm, unit, text):
    assert format_length(mm, unit) == text


@given(st.floats(-1000, 1000), st.sampled_from(["mm", "in"]))
def test_a_written_length_reads_back_within_its_last_place(mm, unit):
    half_a_place = 0.005 if unit == "mm" else 0.0005 * 25.4
    assert parse_length(format_length(mm, unit), "mm") == pytest.approx(mm, abs=half_a_place + 1e-9)


@given(st.floats(-1000, 1000), st.sampled_from(["mm", "in"]))
def test_a_number_means_the_same_with_its_unit_written_out(number, unit):
    assert parse_length(f"{number:.9f} {unit}", "mm") == pytest.approx(parse_length(number, unit), abs=1e-7)


@given(st.integers(0, 40), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_whole_and_fraction_add_up(whole, numerator, denominator):
    expected = (whole + numerator / denominator) * 25.4
    assert parse_length(f"{whole} {numerator}/{denominator} in", "mm") == pytest.approx(expected, abs=1e-9)


def test_pixels_per_millimetre_at_600_dpi():
    assert px_per_mm(600) == pytest.approx(23.62204724, abs=1e-8)  # 600 / 25.4
