"""White film: a white ground under the ink, not quite opaque."""

from __future__ import annotations

from mockup.model.finish import Film


def film() -> Film:
    """Return the film; its figures are an estimate, no source (films sold as opaque measure 76 to 96 % covering)."""
    return Film(
        about="white stays white",
        reflectance=0.75,
        transmittance=0.05,
        caution="White film: how much paint shines through is an estimate.",
    )
