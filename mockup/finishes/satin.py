"""Paint between gloss and matte. Figures are common practice, no source; the veil is an estimate."""

from __future__ import annotations

from mockup.model.finish import Sheen
from mockup.model.material import Waviness


def sheen() -> Sheen:
    """Return the sheen."""
    return Sheen(
        about="half-way between gloss and matte",
        roughness=0.55,
        bare_roughness=0.42,
        coat_roughness=0.28,
        veil=0.01,
        scatter=0.010,  # path traced in the lights of this tool: measured
        waves=(Waviness(shortest_mm=1.0, longest_mm=4.0, slope=0.016),),  # by eye
    )
