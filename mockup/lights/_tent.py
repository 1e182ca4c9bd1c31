"""The three large soft boxes of a white tent. Figures are common practice in table-top photography, no source."""

from __future__ import annotations

from mockup.geometry.irradiance import soft_box
from mockup.model.scene import SoftBox


def boxes() -> tuple[SoftBox, ...]:
    """Return the soft boxes, the strongest first."""
    return (
        soft_box((-300.0, 150.0, 460.0), 240.0, 190.0, (3.1, 3.1, 3.1)),
        soft_box((400.0, -200.0, 330.0), 220.0, 200.0, (1.2, 1.2, 1.2)),
        soft_box((120.0, 460.0, 300.0), 260.0, 80.0, (2.4, 2.4, 2.4)),
    )
