"""A photograph of the finished pedal in a real window: lines dragged onto edges, the camera that follows, the wipe."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import driver
import numpy as np
import pytest
from PIL import Image

from mockup import api
from mockup.comparison.beside import landmarks
from mockup.model.enclosure import faces
from mockup.model.scene import Camera
from mockup.scene.projection import projected

pytestmark = [pytest.mark.gl, pytest.mark.slow]

SIZE = (800, 600)
CAMERA = Camera(eye=(-110.0, -250.0, 300.0), target=(4.0, 6.0, 10.0), up=(0.04, 0.0, 1.0), fov_deg=31.0)
LAYOUT = """[box]
size = "121x66x39"
[finish]
paint = "#e7cdc6"
[[part]]
name = "TONE"
kind = "pot-16"
top = 30
"""


def test_lines_dragged_onto_the_edges_give_the_photographs_camera(
    start: Callable[..., driver.Window], folder_of: Callable[[str], Path]
) -> None:
    """The knob is then seen where the camera that the edges were projected through sees it; no light is needed."""
    folder = folder_of(LAYOUT)
    Image.new("RGB", SIZE, "grey").save(folder / "pedal.png")
    design = api.load(folder / "layout.toml")
    window = start(folder, is_rough=True)
    window.ready()
    window.click("foot.show")
    window.click("show.beside-photograph")
    window.click("browser.pedal.png")
    window.click("browser.choose")
    window.place("photo.right.second")
    left, top, right, _ = window.now["places"]["photo"]
    scale = (right - left) / SIZE[0]

    def seen(points: np.ndarray) -> np.ndarray:
        return np.array([left, top]) + scale * projected(CAMERA, SIZE, points)

    for name in landmarks.EDGES:
        low, high = seen(landmarks.edges(design.enclosure)[name])
        for end, share in (("first", 0.2), ("second", 0.8)):
            goal = low + share * (high - low)
            window.drag(window.place(f"photo.{name}.{end}"), tuple(goal), steps=2)
    tone = design.parts[0]
    there = seen(faces(design.enclosure)["top"].to_world(np.array([[tone.u_mm, tone.v_mm]]), tone.kind.shaft.top_mm))[0]
    window.until(lambda now: np.hypot(*(np.array(now["parts"]["TONE"]) - there)) < 4.0, "the camera of the lines")

    window.click("photo.shown.wipe")
    x, y = window.place("wipe.line")
    window.drag((x, y), (x - 100, y))
    window.until(lambda now: now["wipe"] < 0.4, "the line is where it was dragged to")
    window.click("photo.leave")
    window.until(lambda now: now["page"] is None, "back at the station")
    assert window.now["failures"] == 0
