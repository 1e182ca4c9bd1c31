"""A strong key and a bright edge over dark polished ground.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.geometry.irradiance import soft_box
from mockup.model.scene import Lighting

PREFERENCE = 30


def lighting() -> Lighting:
    """Return the preset."""
    return Lighting(
        about="dark polished ground, a strong key and a bright edge from behind",
        boxes=(
            soft_box((-260.0, 120.0, 460.0), 150.0, 110.0, (8.2, 7.8, 7.2)),
            soft_box((-420.0, -60.0, 160.0), 60.0, 220.0, (3.4, 3.5, 3.9)),
            soft_box((240.0, 430.0, 240.0), 260.0, 50.0, (6.5, 6.7, 7.2)),
        ),
        surround=(0.16, 0.165, 0.18),
        horizon=(0.07, 0.07, 0.075),
        ground=(0.035, 0.035, 0.038),
        backdrop=(0.012, 0.012, 0.014),
        ground_roughness=0.35,
    )
