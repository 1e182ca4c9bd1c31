"""A length is written as the one that it replaces: unit, decimals, fractions; figures by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.layout.edit.lengths import like
from mockup.model.units import parse_length


@pytest.mark.parametrize(
    ("before", "mm", "unit", "after"),
    [
        (14.94, 15.94, "mm", 15.94),
        (18, 19.0, "mm", 19.0),
        (18, 19.006, "mm", 19.01),
        (0.62, 16.7488, "in", 0.6594),  # 16.7488 / 25.4 = 0.659402
        ("1 1/16 in", 28.575, "mm", "1 1/8 in"),  # 28.575 / 25.4 = 1.125
        ("1/2 in", 25.4, "mm", "1 in"),
        ("3/4 in", 20.0, "mm", "0.7874 in"),  # 20 / 25.4 = 0.787402
        ("19 mm", 20.5, "in", "20.5 mm"),
        ("19mm", 20.0, "in", "20mm"),
        ("1.90 cm", 20.0, "in", "2.00 cm"),
        ("0.75 in", 20.6375, "mm", "0.8125 in"),
        ('3/8"', 12.7, "mm", '1/2"'),
        ("0.5", 12.7, "in", "0.5"),
        (0.0, -0.0, "mm", 0.0),
        (3.12345, 4.0, "mm", 4.0),
        (3.12345, 4.123456, "mm", 4.12346),
    ],
)
def test_a_length_is_written_as_the_one_before(before: object, mm: float, unit: str, after: object) -> None:
    assert like(before, mm, unit) == after  # type: ignore[arg-type]
    assert str(like(before, mm, unit)) == str(after)  # type: ignore[arg-type]


@given(
    st.sampled_from([1, 1.5, "1 in", "3/4 in", "19 mm", "1.9 cm", '1/2"', " 7  mm "]),
    st.floats(0, 900),
    st.sampled_from(["mm", "in"]),
)
def test_a_written_length_reads_as_meant(before: object, mm: float, unit: str) -> None:
    """To 0.005 mm, or 0.00005 in in inches."""
    assert parse_length(like(before, mm, unit), unit) == pytest.approx(mm, abs=0.0051)  # type: ignore[arg-type]
