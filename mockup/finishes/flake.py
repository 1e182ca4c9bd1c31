"""Paint with metallic flakes in it. Figures are common practice, no source."""

from __future__ import annotations

from mockup.model.finish import Sheen
from mockup.model.material import Waviness


def sheen() -> Sheen:
    """Return the sheen."""
    return Sheen(
        about="metallic flakes",
        roughness=0.40,
        bare_roughness=0.40,
        coat_roughness=0.04,
        metallic=0.5,
        flake=1.0,
        flake_mm=0.25,  # width of one flake: by eye
        caution="Metallic flake: the ink is predicted as over plain paint of the same colour.",
        scatter=0.004,  # path traced in the lights of this tool: measured
        waves=(Waviness(shortest_mm=2.0, longest_mm=8.0, slope=0.0022),),  # by eye
    )
