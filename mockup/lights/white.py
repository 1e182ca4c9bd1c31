"""Plain white all round.

Figures are common practice in table-top photography, no source.
"""

from __future__ import annotations

from mockup.lights._tent import boxes
from mockup.model.scene import Lighting

PREFERENCE = 40


def lighting() -> Lighting:
    """Return the preset."""
    return Lighting(
        about="plain white all round, for a catalogue or a web page",
        boxes=boxes(),
        surround=(0.75, 0.75, 0.75),
        horizon=(0.60, 0.60, 0.60),
        ground=(0.93, 0.93, 0.93),
        backdrop=(0.955, 0.955, 0.955),
    )
