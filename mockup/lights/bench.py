"""Soft light from the upper left over a warm grey table.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.lights._rigs import Kit, boxes
from mockup.model.scene import Lighting, Rig

PREFERENCE = 10


def lighting(rig: Rig) -> Lighting:
    """Return the preset."""
    return Lighting(
        about="soft light from the upper left over a seamless warm grey table",
        boxes=boxes(rig, Kit(key=(1.0, 0.97, 0.93), fill=(0.93, 1.0, 1.1))),
        surround=(0.03, 0.031, 0.032),
        horizon=(0.02, 0.02, 0.02),
        ground=(0.46, 0.43, 0.40),
        backdrop=(0.33, 0.315, 0.30),
    )
