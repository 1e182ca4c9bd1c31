"""Mirror-like paint. Figures are common practice, no source."""

from __future__ import annotations

from mockup.model.finish import Sheen


def sheen() -> Sheen:
    """Return the sheen."""
    return Sheen(
        about="a mirror-like paint",
        roughness=0.5,
        bare_roughness=0.15,
        coat_roughness=0.04,
    )
