"""A transparent ground that keeps the soft shadow.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.lights._tent import boxes
from mockup.model.scene import Lighting

PREFERENCE = 50


def lighting() -> Lighting:
    """Return the preset."""
    return Lighting(
        about="transparent background with the soft shadow kept, to lay over any page",
        boxes=boxes(),
        surround=(0.60, 0.60, 0.60),
        horizon=(0.45, 0.45, 0.45),
        ground=None,
        backdrop=(0.0, 0.0, 0.0),
    )
