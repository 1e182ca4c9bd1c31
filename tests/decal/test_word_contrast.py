"""Ratios of words over paint by hand, and carets where the lettering's own advances have them."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

import mockup
from mockup.decal import typeface
from mockup.decal.shipped_faces import data, path, shipped
from mockup.decal.word_contrast import word_contrast, worst_word

LAYOUT = """\
[box]
size = "112x60x31"
[finish]
paint = "#ffffff"
sheen = "gloss"
[lettering]
font = "face.ttf"
[[label]]
text = "DARK"
top = 20
colour = "#000000"
[[label]]
text = "GREY"
top = 40
colour = "#767676"
[[label]]
text = "HELD"
drawn = false
height = 3
top = 60
"""


def test_on_white_paint_a_word_has_the_ratio_of_its_ink() -> None:
    # WCAG 2.2, worked by hand in test_reading: #767676 on white is 4.5422, black 21.
    design = mockup.loads(LAYOUT, {"face.ttf": data(shipped("Plain"))})
    dark, grey, held = sorted(design.labels, key=lambda label: label.v_mm)
    assert word_contrast(design, dark) == pytest.approx(21.0, rel=0.02)
    assert word_contrast(design, grey) == pytest.approx(4.5422, rel=0.02)
    assert word_contrast(design, held) is None
    worst = worst_word(design)
    assert worst is not None
    assert worst[0].text == "GREY"


def test_dark_paint_takes_the_contrast_away() -> None:
    text = LAYOUT.replace('paint = "#ffffff"', 'paint = "#101010"')
    design = mockup.loads(text, {"face.ttf": data(shipped("Plain"))})
    dark = next(label for label in design.labels if label.text == "DARK")
    ratio = word_contrast(design, dark)
    assert ratio is not None
    assert ratio < 1.5


def test_carets_stand_at_the_fonts_own_advances() -> None:
    # A typewriter's letters are all equally wide: the font's own table of advances says how wide.
    face = shipped("Typewriter")
    font = typeface.read(data(face), "face.ttf")
    with path(face) as file:
        wide = TTFont(file)["hmtx"]["H"][0] * 4.0 / font.cap_height
    places = typeface.carets(font, "HHH", 4.0)
    assert len(places) == 4
    assert [places[i + 1] - places[i] for i in range(3)] == pytest.approx([wide] * 3, abs=1e-6)
    drawn = typeface.line(font, "HHH", 4.0)
    side = (wide * 3 - drawn.width_mm) / 2  # an H stands in the middle of its cell
    assert places[0] == pytest.approx(-side, abs=0.02)
    spaced = typeface.carets(font, "HHH", 4.0, 0.5)
    assert spaced[2] - places[2] == pytest.approx(1.0, abs=1e-6)  # two gaps before the third letter


def test_a_word_of_nothing_has_one_caret() -> None:
    font = typeface.read(data(shipped("Plain")), "face.ttf")
    assert typeface.carets(font, "", 3.0) == (0.0,)
