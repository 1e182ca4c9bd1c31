"""The stage "drilled": the same box in the same place, its holes open, nothing in them."""

from __future__ import annotations

import numpy as np

import mockup
from mockup.model.enclosure import faces
from mockup.model.scene import LEFT_OUT
from mockup.picture.options import PictureRequest
from mockup.picture.studio import shot
from mockup.scene.cameras import frame
from mockup.scene.views import VIEWS

BARE = """
name = "Bare"
[box]
size = "112x60x31"
[finish]
paint = "white"
"""
PEDAL = BARE + '[[part]]\nname = "TONE"\nkind = "pot-16"\ntop = 40\nknob = {style = "dome"}\n'


def test_every_shot_of_a_drilled_box_leaves_the_hardware_out() -> None:
    design = mockup.loads(PEDAL)
    points = faces(design.enclosure)["top"].to_world(np.zeros((1, 2)))
    for view in VIEWS.values():
        camera = frame(view, np.concatenate([points, -points]), 1.0)
        for stage, left_out in LEFT_OUT.items():
            request = PictureRequest(stage=stage).rendering()
            assert shot(view, camera, (40, 40), request).hidden == view.hidden | left_out
    assert LEFT_OUT["finished"] == frozenset()


def test_what_is_left_is_painted_with_a_dark_hole() -> None:
    """From above, in flat colours: the knob's place is white but for a hole of 7.5 mm, which is dark."""
    found = mockup.still(
        mockup.loads(PEDAL), view="above", size=(300, 500), look="proof", quality="draft", stage="drilled"
    )
    pixels, dpi = found.picture.pixels[..., :3].astype(int).max(axis=2), found.picture.dpi
    assert dpi is not None
    middle = pixels.shape[1] // 2
    inside = pixels[:, middle - 2 : middle + 3]
    dark = (inside[100:-100] < 60).all(axis=1)
    assert dark.sum() * 25.4 / dpi == np.clip(dark.sum() * 25.4 / dpi, 7.0, 7.6)
    assert (inside[100:-100][~dark] > 200).mean() > 0.97
