"""A strong key and a bright edge over dark polished ground.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.lights._rigs import Kit, boxes
from mockup.model.scene import Lighting, Rig

PREFERENCE = 30


def lighting(rig: Rig) -> Lighting:
    """Return the preset."""
    return Lighting(
        about="dark polished ground, a strong key and a bright edge from behind",
        boxes=boxes(rig, Kit(key=(1.0, 0.96, 0.9), fill=(0.5, 0.52, 0.56), edge=(1.8, 1.86, 2.0))),
        surround=(0.016, 0.0165, 0.018),
        horizon=(0.01, 0.01, 0.011),
        ground=(0.035, 0.035, 0.038),
        backdrop=(0.012, 0.012, 0.014),
        ground_roughness=0.35,
    )
