"""One tall window on the left of a wooden-warm table.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.lights._rigs import Kit, boxes
from mockup.model.scene import Lighting, Rig

PREFERENCE = 20


def lighting(rig: Rig) -> Lighting:
    """Return the preset."""
    return Lighting(
        about="one tall window on the left, a wooden-warm table, the room behind in shade",
        boxes=boxes(rig, Kit(key=(0.98, 1.0, 1.05), fill=(0.5, 0.47, 0.43), edge=(0.3, 0.29, 0.27))),
        surround=(0.03, 0.03, 0.031),
        horizon=(0.02, 0.0195, 0.019),
        ground=(0.40, 0.33, 0.27),
        backdrop=(0.20, 0.175, 0.155),
    )
