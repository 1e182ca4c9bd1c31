"""Which lamps a view of a pedal is lit by."""

from __future__ import annotations

import numpy as np
import pytest

from mockup.lights import presets, suited
from mockup.picture.options import PictureRequest
from mockup.picture.studio import lit, shot
from mockup.scene.cameras import frame
from mockup.scene.views import VIEWS

CORNERS = np.array([(-30.0, -56.0, 0.0), (30.0, 56.0, 31.0)])


@pytest.mark.parametrize(("view", "rig", "surface"), [("inside", "above", "metal"), ("above", "above", "mirror")])
def test_a_box_seen_from_within_is_lit_as_bare_metal_whatever_its_paint(view: str, rig: str, surface: str) -> None:
    """What lies in gloss paint's top would glare in a casting that mirrors it dully: it has lamps of its own."""
    request = PictureRequest().rendering()
    taken = lit(shot(VIEWS[view], frame(VIEWS[view], CORNERS, 1.0), (40, 40), request), "mirror")
    assert taken.lighting == suited(presets(rig)["bench"], surface)
    assert suited(presets("above")["bench"], "metal").boxes != suited(presets("above")["bench"], "mirror").boxes
