"""Dull paint. Figures are common practice, no source; the veil is an estimate."""

from __future__ import annotations

from mockup.model.finish import Sheen
from mockup.model.material import Waviness


def sheen() -> Sheen:
    """Return the sheen."""
    return Sheen(
        about="no shine of its own",
        roughness=0.80,
        bare_roughness=0.80,
        coat_roughness=0.60,
        veil=0.03,
        scatter=0.022,  # path traced in the lights of this tool: measured
        waves=(Waviness(shortest_mm=0.4, longest_mm=2.0, slope=0.02),),  # by eye
    )
