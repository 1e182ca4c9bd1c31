"""The station Letters in a real window: words typed on the pedal, faces, looks, places, scales, a border."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import driver
import pytest

from mockup.decal.shipped_faces import data, shipped
from mockup.enclosure.sizes import SIZES
from mockup.model.enclosure import faces

pytestmark = [pytest.mark.gl, pytest.mark.slow]

TOP = faces(SIZES["121x66x39"])["top"]
LAYOUT = """\
name = "Chalk River"
# the winter one
[box]
size = "121x66x39"

[finish]
paint = "#e8cfc8"    # shell

[[part]]
name = "FLOW"
kind = "pot-16"
left = 17
top = 20

[[part]]
name = "BANK"
kind = "pot-16"
right = 17
top = 20
"""


@pytest.fixture
def river(folder_of: Callable[[str], Path]) -> Path:
    return folder_of(LAYOUT)


def saved(window: driver.Window, project: Path) -> dict[str, Any]:
    window.settled()
    text = window.saved(project)
    assert "# the winter one" in text
    assert "# shell" in text
    return tomllib.loads(text)


def opened(start, project: Path) -> driver.Window:
    window = start(project)
    window.from_above()
    return window


def typed(window: driver.Window, place: str, text: str) -> None:
    window.click(place)
    window.type(text)
    window.key("Return")
    window.settled()


def picked(window: driver.Window, *way: object) -> None:
    window.until(lambda now: now["picked"] == [list(way)], f"{way} picked")


def test_a_word_is_written_on_the_face_and_takes_a_face_and_a_size(start, river):
    window = opened(start, river)
    window.key("ctrl+5")
    window.click("letters.write")
    window.until(lambda now: "writing" in now["places"], "the caret stands")
    window.type("CHALK RIVER")
    window.key("Return")
    picked(window, "label", 0)
    window.until(lambda now: "writing" not in now["places"], "written")
    window.click("face.Hand")
    typed(window, "word.size", "5.6")
    found = saved(window, river)
    assert found["label"] == [{"text": "CHALK RIVER", "font": "AmaticSC-Bold.ttf", "size": 5.6}]
    assert (river / "AmaticSC-Bold.ttf").read_bytes() == data(shipped("Hand"))
    assert "SIL OPEN FONT LICENSE" in (river / "AmaticSC-Bold.licence.txt").read_text()

    x, y = window.now["things"]["label.0"]
    window.drag((x, y), (x + 5, y + 90))
    found = saved(window, river)["label"][0]
    assert found["top"] > TOP.height_mm / 2 + 5
    assert "left" not in found  # it holds on to the middle

    x, y = window.until(lambda now: "label.0" in now["things"], "it")["things"]["label.0"]
    window.do("mousemove", round(x), round(y))
    window.do("click", "--repeat", 2, "--delay", 60, 1)
    window.until(lambda now: "writing" in now["places"], "a double click writes it anew")
    window.key("End", "BackSpace", "BackSpace")
    window.key("Escape")
    window.until(lambda now: "writing" not in now["places"], "put back")
    assert saved(window, river)["label"][0]["text"] == "CHALK RIVER"

    window.key("ctrl+z", "ctrl+z", "ctrl+z", "ctrl+z")
    window.until(lambda now: not now["things"], "four steps: moved, size, face, and the word with its letters")


def test_labels_of_parts_look_alike_or_not_and_stand_on_any_side(start, river):
    window = opened(start, river)
    for name, number in (("FLOW", 0), ("BANK", 1)):
        x, y = window.now["parts"][name]
        window.click((x, y))
        window.until(lambda now, name=name: now["selected"] == name, name)
        window.key("ctrl+l", "ctrl+l")  # lettered, and its label picked
        picked(window, "label", number)
        window.settled()
    found = saved(window, river)
    assert found["label"] == [{"part": "FLOW"}, {"part": "BANK"}]
    assert found["lettering"] == {"font": "Manrope-Bold.ttf"}

    typed(window, "word.size", "2.2")
    window.click("ink.blue")
    found = saved(window, river)
    assert found["lettering"] == {"font": "Manrope-Bold.ttf", "size": 2.2, "colour": "#23407a"}
    assert found["label"] == [{"part": "FLOW"}, {"part": "BANK"}]

    window.click("word.all")
    window.click("face.Poster")
    window.until(lambda now: now["is_changed"], "only this one")
    found = saved(window, river)
    assert found["label"] == [{"part": "FLOW"}, {"part": "BANK", "font": "AlfaSlabOne-Regular.ttf"}]

    x, y = window.now["things"]["label.0"]
    knob = window.now["parts"]["FLOW"]
    window.drag((x, y), (knob[0] + 3, knob[1] - (y - knob[1]) - 8))
    found = saved(window, river)["label"][0]
    assert found["side"] == "above"
    assert found["gap"] > 0


def test_points_spacing_outline_and_shadow(start, river):
    (river / "layout.toml").write_text(LAYOUT + '\n[[label]]\ntext = "DRIFT"\ntop = 60\n')
    (river / "mine.ttf").write_bytes(data(shipped("Condensed")))
    text = (river / "layout.toml").read_text()
    (river / "layout.toml").write_text(text + '\n[lettering]\nfont = "mine.ttf"\n')
    window = opened(start, river)
    window.click(tuple(window.now["things"]["label.0"]))
    picked(window, "label", 0)
    window.click("word.unit.pt")
    typed(window, "word.size", "18")
    typed(window, "word.spacing", "0.4")
    typed(window, "word.outline", "0.3")
    typed(window, "word.shadow", "0.2")
    found = saved(window, river)["label"][0]
    assert found == {
        "text": "DRIFT", "top": 60, "size": "18 pt", "spacing": 0.4, "outline": 0.3, "shadow": [0.2, 0.2]
    }  # fmt: skip


def test_scale_and_border(start, river):
    window = opened(start, river)
    window.click(tuple(window.now["parts"]["FLOW"]))
    window.until(lambda now: now["selected"] == "FLOW", "picked")
    window.key("ctrl+shift+l")
    window.until(lambda now: now["is_changed"], "marks")
    window.key("ctrl+5")
    window.click("scale.0")
    picked(window, "scale", 0)
    window.settled()
    typed(window, "scale.marks", "7")
    typed(window, "scale.gap", "2")
    found = saved(window, river)
    assert found["scale"] == [{"part": "FLOW", "marks": 7, "gap": 2}]

    window.key("Escape")
    window.key("ctrl+5")
    window.click("letters.border")
    picked(window, "border", 0)
    window.settled()
    typed(window, "border.inset", "2.5")
    assert saved(window, river)["border"] == [{"inset": 2.5}]
    window.click("sheet.remove")
    window.until(lambda now: now["is_changed"], "off again")
    assert "border" not in saved(window, river)


def test_a_font_of_the_system_comes_into_the_project_with_what_it_says(start, river, tmp_path, monkeypatch):
    fonts = tmp_path / "fonts"
    fonts.mkdir()
    (fonts / "Somebody.ttf").write_bytes(data(shipped("Typewriter")))
    monkeypatch.setitem(os.environ, "XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setitem(os.environ, "XDG_DATA_DIRS", str(tmp_path / "none"))
    monkeypatch.setitem(os.environ, "HOME", str(tmp_path))
    window = opened(start, river)
    window.click(tuple(window.now["parts"]["FLOW"]))
    window.key("ctrl+l", "ctrl+l")
    picked(window, "label", 0)
    window.click("word.more")
    window.click("face.system.Space Mono Bold")
    window.until(lambda now: "Licence: SIL Open Font License" in (now["line"] or ""), "its licence is told")
    assert saved(window, river)["lettering"]["font"] == "Somebody.ttf"
    assert "Open Font License" in (river / "Somebody.licence.txt").read_text()
