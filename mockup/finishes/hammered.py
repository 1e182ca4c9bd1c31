"""Glossy paint that dries in round dents. Figures are common practice, no source."""

from __future__ import annotations

from mockup.model.finish import Sheen


def sheen() -> Sheen:
    """Return the sheen."""
    return Sheen(
        about="hammered bumps",
        roughness=0.45,
        bare_roughness=0.22,
        coat_roughness=0.06,
        hammer=1.0,
        dent_mm=1.6,  # from dent to dent: by eye
    )
