"""Proposals in the paint that is chosen: their words stay, and are read on it."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

import pytest

from mockup import api
from mockup.model.material import Colour
from mockup.window.work.arranging import dressed, has_white_under

ONLY = ("contrast", "swallowed-colour", "unread-lettering", "white-ink")
TEXT = """name = "A"
[box]
size = "112x60x31"
[finish]
paint = "#a5d2c8"
[lettering]
font = "words.ttf"
size = 2.6
colour = "#10283a"
[[part]]
name = "TONE"
kind = "pot-16"
top = 22
[[label]]
part = "TONE"
[[scale]]
"""


@pytest.mark.parametrize(
    ("paint", "is_white"), [((0.65, 0.82, 0.78), False), ((0.02, 0.03, 0.05), True), ((0.3, 0.05, 0.07), True)]
)
def test_words_stay_and_are_read_on_any_paint(tmp_path: Path, paint: Colour, is_white: bool) -> None:
    """Nothing is said of their contrast; ink alone would be swallowed by dark paint."""
    text = dressed(TEXT, "Mine", paint)
    (tmp_path / "layout.toml").write_text(text)
    (tmp_path / "words.ttf").write_bytes((resources.files("font_manrope") / "files" / "Manrope-Bold.ttf").read_bytes())
    design = api.load(tmp_path / "layout.toml")
    assert [each.text for each in design.labels] == ["TONE"]
    assert has_white_under(text) == is_white
    assert list(api.check(design, ONLY)) == []
