"""One tall window on the left of a wooden-warm table.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.geometry.irradiance import soft_box
from mockup.model.scene import Lighting

PREFERENCE = 20


def lighting() -> Lighting:
    """Return the preset."""
    return Lighting(
        about="one tall window on the left, a wooden-warm table, the room behind in shade",
        boxes=(
            soft_box((-420.0, 60.0, 300.0), 190.0, 260.0, (5.0, 5.1, 5.4)),
            soft_box((500.0, -120.0, 320.0), 260.0, 220.0, (0.45, 0.42, 0.38)),
        ),
        surround=(0.30, 0.30, 0.31),
        horizon=(0.17, 0.165, 0.16),
        ground=(0.40, 0.33, 0.27),
        backdrop=(0.20, 0.175, 0.155),
    )
