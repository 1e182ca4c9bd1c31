"""Text from outside is shown as it is, but for what cannot be shown or upsets what shows it."""

from __future__ import annotations

import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from mockup.model.text import printable


def test_words_of_every_alphabet_stay_as_they_are() -> None:
    for text in ("BASS/TREBLE", "Größe ½ 日本語 עברית", "a\N{NO-BREAK SPACE}b", "👩\N{ZERO WIDTH JOINER}🚀", ""):
        assert printable(text) == text


def test_each_character_that_cannot_be_shown_is_one_mark() -> None:
    assert printable("a\x1b[31mb\x07\n\t\x85\x7f") == "a?[31mb?????"
    assert printable("caf\udce9") == "caf?"
    assert printable("\N{RIGHT-TO-LEFT OVERRIDE}gnp.exe\N{LINE SEPARATOR}\uffff") == "?gnp.exe??"


@given(st.text(st.characters(codec=None)))
def test_what_comes_out_fits_a_line_a_terminal_and_xml(text: str) -> None:
    """XML 1.0 2.2 says which characters it takes; UTF-8 holds no half of a pair."""
    shown = printable(text)
    shown.encode()
    assert len(shown) == len(text)
    assert len(shown.splitlines()) <= 1
    assert not any(unicodedata.category(each) == "Cc" for each in shown)
