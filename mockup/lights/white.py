"""Plain white all round.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.lights._rigs import Kit, boxes
from mockup.model.scene import Lighting, Rig

PREFERENCE = 40


def lighting(rig: Rig) -> Lighting:
    """Return the preset."""
    return Lighting(
        about="plain white all round, for a catalogue or a web page",
        boxes=boxes(rig, Kit(key=(0.8, 0.8, 0.8), fill=(1.5, 1.5, 1.5))),
        surround=(0.03, 0.03, 0.03),
        horizon=(0.02, 0.02, 0.02),
        ground=(0.93, 0.93, 0.93),
        backdrop=(0.955, 0.955, 0.955),
    )
