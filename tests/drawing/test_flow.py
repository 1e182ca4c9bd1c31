"""Text on a page: lines that fit and lose nothing, rows that flow down pages under their heads."""

from __future__ import annotations

import math
from io import BytesIO

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from mockup import fonts
from mockup.drawing import flow
from mockup.drawing.lettering import spread, width_mm, wrapped
from mockup.model.sheet import Line, Text


@settings(max_examples=60)
@given(st.lists(st.text(st.characters(codec="ascii", min_codepoint=32), max_size=300), max_size=40))
def test_rows_flow_down_pages_with_their_head_and_never_below_the_floor(texts: list[str]) -> None:
    rows = [[flow.Cell(text=str(number)), flow.Cell(text=text)] for number, text in enumerate(texts)]
    blocks = [flow.heading("Heading", 3.5, 190.0), *flow.table(("No.", "What"), rows, (20.0, 170.0), 2.7)]
    pages, end = flow.flowed(blocks, 10.0, 30.0, 200.0, 280.0)
    assert end <= 280.0
    seen = []
    for number, marks in enumerate(pages):
        words = [mark for mark in marks if isinstance(mark, Text)]
        assert all((200.0 if number == 0 else 30.0) <= mark.y_mm <= 280.0 for mark in words)
        if number:
            assert [word.text for word in words[:2]] == ["No.", "What"]  # the head comes again
        assert all(mark.y1_mm <= 280.0 for mark in marks if isinstance(mark, Line))
        seen += [word.text for word in words if word.x_mm == 10.0 and word.text.isdigit()]
    assert seen == [str(number) for number in range(len(texts))]


@given(st.text(max_size=200), st.floats(8.0, 100.0))
def test_lines_fit_and_lose_no_letter(text: str, room: float) -> None:
    lines = wrapped(text, 2.7, room)
    assert "".join("".join(lines).split()) == "".join(text.split())
    for line in lines:
        assert len(line) <= 1 or width_mm(line, 2.7) <= room + 1e-9


def test_a_heading_goes_with_what_follows_it() -> None:
    tall = flow.Block(height_mm=50.0, marks=(Text(x_mm=0.0, y_mm=40.0, text="body", size_mm=3.0),))
    pages, _ = flow.flowed([flow.heading("Heading", 3.5, 190.0), tall], 10.0, 30.0, 240.0, 280.0)
    assert pages[0] == []
    assert [mark.text for mark in pages[1] if isinstance(mark, Text)] == ["Heading", "body"]
    assert math.isclose(min(mark.y_mm for mark in pages[1] if isinstance(mark, Text)), 30.0 + 3.6 * 3.5)


def test_a_figure_keeps_its_unit() -> None:
    text = "word " * 40 + "0.93 mm and 226 mm³. " * 20
    said = wrapped(text.strip(), 17.0, 604.0)
    assert " ".join(said) == text.strip()
    assert len(said) > 1
    for line in said:
        assert not line.startswith("mm")


def test_a_figure_too_wide_with_its_unit_is_broken_before_it() -> None:
    assert wrapped("1234 mm", 10.0, width_mm("1234", 10.0) + 1.0) == ["1234", "mm"]


@pytest.mark.parametrize("text", ["Ø 12.2 mm, 4 holes", "MMWW", "illicit"])
def test_text_is_as_wide_as_the_fonts_own_table_says(text: str) -> None:
    """The advance widths of the bold file's hmtx table, read by fontTools."""
    font = TTFont(BytesIO(fonts.data(is_bold=True)))
    names, advances = font.getBestCmap(), font["hmtx"]
    ems = sum(advances[names[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm
    assert width_mm(text, 10.0) == pytest.approx(10.0 * ems, rel=2e-3)


def test_places_of_different_heights_stand_close_and_in_order() -> None:
    """By hand: 10 and 12 want to be 4 apart; about their mean that is 9 and 13. 30 has room and stays."""
    assert spread([10.0, 12.0, 30.0], [4.0, 5.0, 6.0]) == pytest.approx([9.0, 13.0, 30.0])
    assert spread([10.0, 12.0, 30.0], 4.0) == pytest.approx([9.0, 13.0, 30.0])
