"""Soft light from the upper left over a warm grey table.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.geometry.irradiance import soft_box
from mockup.model.scene import Lighting

PREFERENCE = 10


def lighting() -> Lighting:
    """Return the preset."""
    return Lighting(
        about="soft light from the upper left over a seamless warm grey table",
        boxes=(
            soft_box((-330.0, 170.0, 430.0), 210.0, 150.0, (5.0, 4.85, 4.6)),
            soft_box((430.0, -260.0, 280.0), 200.0, 170.0, (1.05, 1.12, 1.25)),
            soft_box((190.0, 460.0, 250.0), 230.0, 60.0, (3.6, 3.6, 3.7)),
        ),
        surround=(0.42, 0.43, 0.45),
        horizon=(0.20, 0.195, 0.19),
        ground=(0.46, 0.43, 0.40),
        backdrop=(0.33, 0.315, 0.30),
    )
