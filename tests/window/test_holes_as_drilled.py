"""Holes as drilled, in a real window: a scan is brought, its unsure hole is answered, the pedal is shown as built."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

import mockup
from mockup import files

sys.path.append(str(Path(__file__).parents[1] / "measure"))
from scans import scan

pytestmark = [pytest.mark.gl, pytest.mark.slow]

PLACES = [(14.5, 19.0), (44.5, 19.0), (29.5, 40.0), (20.0, 93.0)]
LAYOUT = '[box]\nsize = "112x60x31"\n' + "".join(
    f'[[part]]\nname = "P{index}"\nkind = "pot-16"\nleft = {left}\ntop = {top}\n'
    for index, (left, top) in enumerate(PLACES)
)


def test_a_scan_is_read_answered_and_shown(start, folder_of: Callable[[str], Path]) -> None:
    """Half of hole 2's rim is dark: it is asked, and taken over by the answer."""
    folder = folder_of(LAYOUT)
    Image.fromarray(scan(np.array(PLACES), [7.6] * 4, hidden=(1,), seed=4)).save(folder / "scan.png", dpi=(200, 200))
    window = start(folder, is_rough=True)
    window.ready()
    window.click("foot.show")
    window.click("show.as-built")  # nothing is measured yet: it asks for a picture
    window.click("ask.scan")
    window.click("browser.scan.png")
    window.click("browser.choose")
    window.click("built.found")
    window.click("ask.take")
    window.until(lambda now: "ask.done" in now["places"], "what follows")
    built = mockup.as_built.as_built(folder / "layout.toml")
    assert {each.bore.part: each.built.by.partition(",")[0] for each in built.holes} == dict.fromkeys(
        ("P0", "P1", "P2", "P3"), "scan"
    )
    assert 'P1/bushing" = "found"' in (folder / files.BUILT_FILE).read_text()
    window.click("ask.done")
    window.until(lambda now: "ask.done" not in now["places"] and not now["is_waiting"], "the pedal as built")
