"""A millimetre on the screen: known resolutions and cards, by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.model.errors import InputError
from mockup.window.shell import screen_scale


def test_ninety_six_dots_an_inch_are_three_and_three_quarter_a_millimetre() -> None:
    assert screen_scale.from_dpi(96.0) == pytest.approx(96 / 25.4)


def test_a_card_that_covers_856_pixels_means_ten_a_millimetre() -> None:
    """ISO/IEC 7810 ID-1 is 85.60 mm wide and 53.98 mm high."""
    assert screen_scale.from_card(856.0) == pytest.approx(10.0)
    assert screen_scale.card_px(10.0) == pytest.approx((856.0, 539.8))


@pytest.mark.parametrize("dpi", [0.0, -96.0, 39.0, 801.0, float("nan"), float("inf")])
def test_no_screen_has_that_resolution(dpi: float) -> None:
    with pytest.raises(InputError, match="expected 40 to 800"):
        screen_scale.from_dpi(dpi)


def test_what_was_measured_is_kept_by_the_screens_name() -> None:
    assert screen_scale.measured("left one") is None
    screen_scale.keep("left one", 3.9)
    screen_scale.keep("the other", 7.5)
    screen_scale.keep("left one", 4.0)
    assert screen_scale.measured("left one") == pytest.approx(4.0)
    assert screen_scale.measured("the other") == pytest.approx(7.5)
    assert screen_scale.measured("a third") is None


@given(st.dictionaries(st.text(max_size=20), st.floats(2, 31), max_size=4))
def test_settings_read_as_they_were_written(screens: dict[str, float]) -> None:
    assert screen_scale.read(screen_scale.written(screens), "screens.json") == pytest.approx(screens)


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "{}", '{"screens": 3}', '{"screens": {"a": {}}}', '{"screens": {"a": {"px_per_mm": "x"}}}']
    + ['{"screens": {"a": {"px_per_mm": 9000}}}', "[" * 100_000],
)
def test_broken_settings_are_told_in_one_line(text: str, desk_settings: Path) -> None:
    (desk_settings / "screens.json").write_text(text)
    with pytest.raises(InputError) as caught:
        screen_scale.measured("any")
    assert "\n" not in str(caught.value)
