"""Every text of the window can be read: the contrast of each pair of colours, by the formula of WCAG 2.2.

The figures are those of the drawn design (our own measurement with the same formula, rounded to a tenth); the limits
are WCAG 2.2, success criteria 1.4.3 (4.5:1 for text) and 1.4.11 (3:1 for what marks a control).
"""

from __future__ import annotations

from dataclasses import fields

import pytest

from mockup.model.material import Colour
from mockup.window.shell.theme import DARK, GLASS, GLASS_GROUND, LIGHT, Palette

GROUNDS = ("ground", "sheet", "raised", "hover")
DESIGN = {
    "dark": {
        "text": (13.9, 12.1, 10.3, 9.0), "second": (9.1, 8.0, 6.8, 5.9), "faint": (7.2, 6.3, 5.3, 4.6),
        "stop": (6.8, 5.9, 5.0, 4.4), "warn": (9.2, 8.0, 6.8, 5.9), "note": (8.9, 7.8, 6.6, 5.8),
        "clear": (8.7, 7.7, 6.5, 5.7),
    },
    "light": {
        "text": (10.7, 14.7, 16.8, 12.9), "second": (6.2, 8.5, 9.7, 7.5), "faint": (4.8, 6.6, 7.6, 5.8),
        "stop": (4.5, 6.2, 7.1, 5.5), "warn": (4.9, 6.7, 7.7, 5.9), "note": (4.8, 6.6, 7.6, 5.8),
        "clear": (4.7, 6.5, 7.4, 5.7),
    },
}  # fmt: skip
PALETTES = {"dark": DARK, "light": LIGHT}
PAIRS = [
    (theme, use, ground, figure)
    for theme, uses in DESIGN.items()
    for use, figures in uses.items()
    for ground, figure in zip(GROUNDS, figures, strict=True)
]
NOT_AS_TEXT = {("dark", "stop", "hover")}


def luminance(colour: Colour) -> float:
    """Relative luminance of an encoded colour: WCAG 2.2, definition."""
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in colour]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: Colour, two: Colour) -> float:
    """Contrast ratio of two colours, 1 to 21: WCAG 2.2, definition."""
    high, low = sorted((luminance(one), luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_formula_gives_the_figures_of_its_standard() -> None:
    assert contrast((1.0, 1.0, 1.0), (0.0, 0.0, 0.0)) == pytest.approx(21.0)
    grey = 0x76 / 255  # the lightest grey that passes on white, 4.54:1: a figure often quoted; from memory
    assert contrast((grey, grey, grey), (1.0, 1.0, 1.0)) == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize(("theme", "use", "ground", "figure"), PAIRS)
def test_every_pair_is_as_designed_and_can_be_read(theme: str, use: str, ground: str, figure: float) -> None:
    palette = PALETTES[theme]
    found = contrast(palette.of(use), palette.of(ground))
    assert found == pytest.approx(figure, abs=0.06)
    if (theme, use, ground) not in NOT_AS_TEXT:
        assert round(found, 1) >= 4.5


@pytest.mark.parametrize("theme", PALETTES)
def test_text_on_what_is_chosen_on_chalk_and_inside_marks(theme: str) -> None:
    palette = PALETTES[theme]
    for use in ("text", "second"):
        assert contrast(palette.of(use), palette.chosen) >= 4.5
    assert contrast(palette.chalk, palette.on_chalk) >= 15.8 - 0.05
    for mark in ("stop", "warn", "clear"):
        assert contrast(palette.of(mark), palette.on_chalk) >= 7.4 - 0.05


@pytest.mark.parametrize("theme", PALETTES)
def test_the_rule_under_a_field_is_seen(theme: str) -> None:
    palette = PALETTES[theme]
    for ground in ("sheet", "raised"):
        assert contrast(palette.rule, palette.of(ground)) >= 3.0


def test_all_that_stands_on_glass_can_be_read() -> None:
    worst = tuple(0.92 * each + 0.08 for each in GLASS_GROUND)  # over a white picture
    for use in ("text", "second", "faint", "stop", "warn", "note", "clear"):
        assert contrast(GLASS.of(use), worst) >= 4.5  # type: ignore[arg-type]


@pytest.mark.parametrize("theme", PALETTES)
def test_surfaces_are_neutral_so_that_colour_is_judged_right(theme: str) -> None:
    palette: Palette = PALETTES[theme]
    coloured = {"stop", "warn", "note", "clear"}
    for each in fields(palette):
        red, green, blue = palette.of(each.name)
        assert (red == green == blue) or each.name in coloured
