"""The station Paint in a real window: a candidate, a sheen, a paint from a photograph, a photograph as paint."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import driver
import numpy as np
import pytest
from PIL import Image

from mockup.colour import rgb
from mockup.colour.difference import difference

pytestmark = [pytest.mark.gl, pytest.mark.slow]

PAINT = np.array([0x2F, 0x7F, 0x78]) / 255  # the paint in the photograph
LIGHT = np.array([0.8, 0.68, 0.5])  # warm: a lamp in the evening


@pytest.fixture
def bare(folder_of: Callable[[str], Path]) -> Path:
    """A bare painted box, and a photograph of a paint beside a sheet of paper, in warm light."""
    folder = folder_of('[box]\nsize = "121x66x39"\n\n[finish]\npaint = "#e7cdc6"  # shell\n')
    linear = np.full((300, 400, 3), 0.2)
    linear[50:250, 30:180] = 1.0
    linear[50:250, 220:370] = rgb.decode(PAINT)
    codes = rgb.to_8bit(rgb.encode(linear * LIGHT))
    Image.fromarray(codes).save(folder / "evening.png")
    return folder


def finish(window: driver.Window, project: Path) -> dict[str, Any]:
    window.settled()
    text = window.saved(project)
    assert "# shell" in text
    return tomllib.loads(text)["finish"]


def test_candidate_sheen_lacquer_and_a_photograph(start, bare, monkeypatch):
    monkeypatch.setitem(os.environ, "PATH", os.environ["PATH"])
    window = start(bare)
    window.ready()
    window.key("ctrl+3")
    window.click("paint.candidate.moss")
    window.until(lambda now: now["is_changed"], "painted")
    window.click("sheen.hammered")
    assert finish(window, bare) == {"paint": "#8fb39b", "sheen": "hammered"}
    window.key("ctrl+z", "ctrl+z")
    window.settled()
    assert finish(window, bare) == {"paint": "#e7cdc6"}  # two steps of undo

    window.click("paint.dropper")
    window.click("browser.evening.png")
    window.click("browser.choose")
    left, top, right, bottom = window.until(lambda now: "dropper.photograph" in now["places"], "photograph")["places"][
        "dropper.photograph"
    ]
    wide, tall = right - left, bottom - top
    window.click((left + wide * 105 / 400, top + tall / 2))
    window.click((left + wide * 295 / 400, top + tall / 2))
    window.click("dropper.use")
    window.until(lambda now: now["is_changed"], "taken")
    found = rgb.parse(finish(window, bare)["paint"])
    # 8 bits in this light leave about a code: 1.6 CIEDE2000 at most, as in the tests of the strip's photographs
    assert float(difference(np.array(found), PAINT)) < 1.6

    # the photograph itself as the paint, between its corners
    window.click("paint.picture")
    window.click("browser.evening.png")
    window.click("browser.choose")
    window.until(lambda now: "paint.corners" in now["places"], "a picture")
    assert finish(window, bare)["paint"] == "evening.png"
    window.click("paint.corners")
    window.type("220,50 370,50 370,250 220,250")
    window.key("Return")
    window.until(lambda now: now["is_changed"], "corners")
    assert finish(window, bare) == {"paint": "evening.png", "paint_corners": "220,50 370,50 370,250 220,250"}
