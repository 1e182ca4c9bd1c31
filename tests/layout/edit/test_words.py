"""Words written, looking alike or not, and labels that stand on another side, in layouts as a hand writes them."""

from __future__ import annotations

import tomllib
from typing import Any

from mockup.enclosure.sizes import SIZES
from mockup.layout.edit import words
from mockup.layout.edit.apply import apply
from mockup.model.edit import Edit
from mockup.model.enclosure import faces

TOP = faces(SIZES["112x60x31"])["top"]
BARE = '# mine\n[box]\nsize = "112x60x31"\n\n[[part]]\nname = "FLOW"   # the left one\nkind = "pot-16"\n'
TEXT = (
    BARE
    + """
[[part]]
name = "BANK"
kind = "pot-16"
left = 45

[lettering]
font = "AmaticSC-Bold.ttf"
size = 3             # capitals

[[label]]
part = "FLOW"
size = 4             # larger once

[[label]]
part = "BANK"

[[label]]
text = "CHALK RIVER"
top = 80
"""
)


def raw(text: str = TEXT) -> dict[str, Any]:
    return tomllib.loads(text)


def edited(edits: tuple[Edit, ...], text: str = TEXT) -> dict[str, Any]:
    after = apply(text, edits, "layout.toml")
    assert "# mine" in after
    assert "# the left one" in after
    return raw(after)


def test_the_first_label_brings_the_font() -> None:
    after = edited(words.labelled(raw(BARE), "FLOW", "Plain.ttf"), BARE)
    assert after["lettering"] == {"font": "Plain.ttf"}
    assert after["label"] == [{"part": "FLOW"}]


def test_a_part_is_lettered_once_and_in_the_font_that_is_there() -> None:
    assert words.labelled(raw(), "FLOW", "Plain.ttf") == ()
    text = TEXT.replace('[[label]]\npart = "BANK"\n', "")
    after = edited(words.labelled(raw(text), "BANK", "Plain.ttf"), text)
    assert after["lettering"]["font"] == "AmaticSC-Bold.ttf"
    assert after["label"][-1] == {"part": "BANK"}


def test_a_word_on_a_face() -> None:
    after = edited(words.written(raw(), "NIGHT", TOP, "Plain.ttf", at=(12.34, 20.0)))
    assert after["label"][-1] == {"text": "NIGHT", "top": 20, "left": 12.3}
    assert edited(words.written(raw(), "NIGHT", TOP, "Plain.ttf"))["label"][-1] == {"text": "NIGHT"}


def test_the_same_for_all_labels() -> None:
    after = edited(words.looking(raw(), 0, "size", 2.2, is_for_all=True))
    assert after["lettering"]["size"] == 2.2
    assert after["label"][:2] == [{"part": "FLOW"}, {"part": "BANK"}]
    assert after["label"][2]["size"] == 3  # a word of no part keeps what it looked like


def test_only_this_one() -> None:
    after = edited(words.looking(raw(), 1, "colour", "#ff0000"))
    assert after["label"][1] == {"part": "BANK", "colour": "#ff0000"}
    assert "colour" not in after["lettering"]


def test_all_alike_where_nothing_was_said_before() -> None:
    after = edited(words.looking(raw(), 0, "spacing", 0.2, is_for_all=True))
    assert after["lettering"]["spacing"] == 0.2
    assert "spacing" not in after["label"][2]  # nothing stood there that it could keep


def test_another_side_of_its_part() -> None:
    after = edited(words.beside(raw(), 0, "right", 2.5))["label"][0]
    assert (after["side"], after["gap"]) == ("right", 2.5)
    text = TEXT.replace('part = "BANK"\n', 'part = "BANK"\nside = "above"\n')
    assert edited(words.beside(raw(text), 1, "below", 1.0), text)["label"][1] == {"part": "BANK", "gap": 1}


def test_a_length_is_written_as_the_layout_writes_its_own() -> None:
    """Whatever unit the window shows: 2.54 mm is 0.1 in a layout of inches, and text keeps its own unit."""
    inches = TEXT.replace("# mine", '# mine\nunits = "in"')
    assert words.length(raw(), 0, "size", 2.54) == 2.54
    assert words.length(raw(inches), 0, "size", 2.54) == 0.1
    assert words.length(raw(inches), 1, "gap", 3.175) == 0.125  # said nowhere before
    assert words.length(raw(inches.replace("size = 4 ", 'size = "4 mm" ')), 0, "size", 5.0) == "5 mm"
    assert words.length(raw(TEXT.replace("size = 4 ", 'size = "9 pt" ')), 0, "size", 5.0) == 5.0
    assert words.length(raw(TEXT.replace("size = 3 ", 'size = "1/8 in" ')), 1, "size", 6.35) == "1/4 in"
