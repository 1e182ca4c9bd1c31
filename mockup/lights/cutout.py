"""A transparent ground that keeps the soft shadow.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.lights._rigs import Kit, boxes
from mockup.model.scene import Lighting, Rig

PREFERENCE = 50


def lighting(rig: Rig) -> Lighting:
    """Return the preset."""
    return Lighting(
        about="transparent background with the soft shadow kept, to lay over any page",
        boxes=boxes(rig, Kit(key=(0.8, 0.8, 0.8), fill=(1.5, 1.5, 1.5))),
        surround=(0.03, 0.03, 0.03),
        horizon=(0.02, 0.02, 0.02),
        ground=None,
        backdrop=(0.0, 0.0, 0.0),
    )
