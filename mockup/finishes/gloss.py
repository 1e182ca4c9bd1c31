"""Mirror-like paint. Figures are common practice, no source."""

from __future__ import annotations

from mockup.model.finish import Sheen
from mockup.model.material import Waviness


def sheen() -> Sheen:
    """Return the sheen."""
    return Sheen(
        about="a mirror-like paint",
        roughness=0.5,
        bare_roughness=0.15,
        coat_roughness=0.04,
        waves=(Waviness(shortest_mm=2.0, longest_mm=8.0, slope=0.0022),),  # by eye
    )
