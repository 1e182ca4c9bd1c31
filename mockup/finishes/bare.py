"""The cast metal of the box, without paint. Figures are common practice, no source."""

from __future__ import annotations

from mockup.model.finish import Sheen
from mockup.model.material import CAST_ALUMINIUM, Waviness


def sheen() -> Sheen:
    """Return the sheen."""
    return Sheen(
        about="no paint at all",
        roughness=CAST_ALUMINIUM.roughness,
        bare_roughness=CAST_ALUMINIUM.roughness,
        coat_roughness=0.05,
        metallic=1.0,
        metal=CAST_ALUMINIUM,
        waves=(Waviness(shortest_mm=0.3, longest_mm=0.8, slope=0.025),),  # by eye
        caution="Bare metal: the ink is predicted as over paint of the metal's colour; a metal's shine is approximate.",
    )
