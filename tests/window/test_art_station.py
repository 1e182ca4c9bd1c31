"""The station Art in a real window: a picture picked, dragged, sized by a corner, turned, typed, cured."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import driver
import pytest
from PIL import Image

from mockup.enclosure.sizes import SIZES
from mockup.model.enclosure import faces

pytestmark = [pytest.mark.gl, pytest.mark.slow]

BOX = SIZES["121x66x39"]
FLAT = faces(BOX)["top"].flat
LAYOUT = """\
name = "Chalk River"
# one pedal of mine
[box]
size = "121x66x39"

[finish]
paint = "#e8cfc8"

[[part]]
name = "FLOW"
kind = "pot-16"
left = 17
top = 20

[[decal]]
art = "river.png"    # drawn in the winter
width = 40
"""


@pytest.fixture
def river(folder_of: Callable[[str], Path]) -> Path:
    """A layout with one picture on a nearly white ground."""
    folder = folder_of(LAYOUT)
    art = Image.new("RGB", (400, 600), (250, 248, 240))
    for x in range(40, 360, 40):
        art.paste((20, 20, 20), (x, 60, x + 12, 540))
    art.save(folder / "river.png")
    Image.new("RGBA", (300, 150), (200, 30, 30, 255)).save(folder / "flag.png", dpi=(300, 300))
    return folder


def decals(project: Path) -> list[dict[str, Any]]:
    return tomllib.loads((project / "layout.toml").read_text())["decal"]


def saved(window: driver.Window, project: Path) -> list[dict[str, Any]]:
    text = window.saved(project)
    assert "# drawn in the winter" in text
    assert "# one pedal of mine" in text
    return decals(project)


def opened(start, project: Path) -> driver.Window:
    window = start(project)
    window.from_above()
    return window


def at(window: driver.Window, name: str = "decal.0") -> tuple[float, float]:
    x, y = window.until(lambda now: name in now["things"], name)["things"][name]
    return x, y


def test_a_picture_is_picked_moved_sized_and_turned_by_its_handles(start, river):
    window = opened(start, river)
    x, y = at(window)
    window.click((x, y))
    window.until(lambda now: now["picked"] == [["decal", 0]] and now["station"] == "art", "picked")
    window.until(lambda now: "bracket.2" in now["places"] and "arc" in now["places"], "handles")
    first = window.now["places"]["bracket.0"]

    window.drag((x + 30, y + 40), (x + 70, y - 20))
    window.until(lambda now: now["is_changed"], "moved")
    window.settled()
    (moved,) = saved(window, river)
    assert {"left", "top"} < set(moved)
    assert moved["left"] % 0.5 == pytest.approx(0.0, abs=1e-6) or moved["left"] % 0.5 == pytest.approx(0.5, abs=1e-6)
    window.key("ctrl+z")
    window.until(lambda now: abs(now["places"].get("bracket.0", (0,))[0] - first[0]) < 2, "one step takes it back")
    window.settled()

    corner = window.place("bracket.2")
    window.drag(corner, (corner[0] + 30, corner[1] + 45))
    window.settled()
    (grown,) = saved(window, river)
    assert grown["width"] > 42
    assert "height" not in grown
    assert not {"left", "top"} & set(grown)  # it was centred, and is

    arc = window.place("arc")
    x, y = at(window)
    window.drag(arc, (x + (y - arc[1]), y))  # a quarter round its middle
    window.settled()
    (turned,) = saved(window, river)
    assert turned["rotation"] == 90
    window.key("ctrl+z", "ctrl+z")
    window.settled()
    (before,) = saved(window, river)
    assert before == {"art": "river.png", "width": 40}


def test_numbers_buttons_and_the_remedy(start, river):
    window = opened(start, river)
    window.click(at(window))
    window.click("art.width")
    window.type("30")
    window.key("Return")
    window.until(lambda now: now["is_changed"], "typed")
    window.settled()
    assert saved(window, river) == [{"art": "river.png", "width": 30}]

    window.click("art.fit")
    window.settled()
    wide = FLAT[2] - FLAT[0]  # 2 : 3 is wider than the flat: its width decides
    assert saved(window, river)[0]["width"] == pytest.approx(int(wide * 10) / 10)

    window.click("film.white")
    window.settled()
    assert saved(window, river)[0]["film"] == "white"
    window.do("mousemove", 800, 700)
    for _ in range(40):  # down the sheet, as far as it takes
        if "remedy.nearly-white" in window.now["places"]:
            break
        window.turned(5)
    window.click("remedy.nearly-white")
    window.settled()
    assert saved(window, river)[0]["white"] == "near"
    window.until(lambda now: "remedy.nearly-white" not in now["places"], "cured")

    window.do("mousemove", 800, 700)
    window.do("click", "--repeat", 40, 5)
    window.until(lambda now: "doubt.0" in now["places"], "the colour most in doubt")
    window.click("cut.ink")
    window.settled()
    assert saved(window, river)[0]["cut"] == "ink"

    window.click("sheet.remove")
    window.until(lambda now: not now["things"] and not now["picked"], "off the pedal")
    window.key("ctrl+z")
    window.until(lambda now: "decal.0" in now["things"], "back")


def test_a_picture_of_the_folder_is_laid_by_a_click_and_moved_by_keys(start, river):
    window = opened(start, river)
    window.key("ctrl+4")
    window.click("picture.flag.png")
    window.until(lambda now: now["picked"] == [["decal", 1]], "laid and picked")
    window.settled()
    assert saved(window, river)[1] == {"art": "flag.png"}  # in its own true size, centred
    window.click((at(window, "decal.1")[0], at(window, "decal.1")[1]))
    window.key("alt+Right", "alt+Right", "alt+Down")
    window.settled()
    middle = faces(BOX)["top"].width_mm / 2
    found = saved(window, river)[1]
    assert found["left"] == pytest.approx(middle - 12.7 + 0.2, abs=0.006)  # 300 pixels at 300 dpi: 25.4 mm
    assert found["top"] == pytest.approx(faces(BOX)["top"].height_mm / 2 - 6.35 + 0.1, abs=0.006)


def test_a_picture_that_is_saved_again_keeps_its_place(start, river):
    window = opened(start, river)
    window.click(at(window))
    window.click("art.fit")
    window.settled()
    before = saved(window, river)
    drafts = window.now["drafts"]
    driver.replaced(river / "river.png", Image.new("RGB", (800, 1200), (10, 60, 10)))
    window.until(lambda now: now["drafts"] > drafts, "the new picture shows")
    window.settled()
    assert decals(river) == before
    assert window.now["picked"] == [["decal", 0]]
