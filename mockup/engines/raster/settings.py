"""What each quality costs: passes, light samples, map sizes. All by eye: common practice, no source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from mockup.model.scene import Quality


@dataclass(frozen=True, kw_only=True)
class Effort:
    """How much work one picture gets.

    `passes` camera passes, each with its own light samples; `edge_samples` per pixel in a single
    pass; `taps` shadow reads per lamp and pass within `tap_mm` (lamps, room) on the surface;
    `skies` directions of the room per pass; `map_px` shadow map width; `floor_px` ground picture
    width with `floor_samples` per lamp; `steps` of a mirror ray over the pedal; `above_px` width
    of the picture from above that those rays read.
    """

    passes: int
    edge_samples: int
    taps: int
    tap_mm: tuple[float, float]
    skies: int
    map_px: int
    floor_px: int
    floor_samples: int
    steps: int
    above_px: int


EFFORTS: Final[dict[Quality, Effort]] = {
    "draft": Effort(
        passes=1, edge_samples=4, taps=8, tap_mm=(4.0, 6.0), skies=4, map_px=768,
        floor_px=320, floor_samples=12, steps=0, above_px=0,
    ),
    "normal": Effort(
        passes=10, edge_samples=1, taps=4, tap_mm=(1.2, 2.5), skies=2, map_px=1024,
        floor_px=576, floor_samples=32, steps=14, above_px=384,
    ),
    "final": Effort(
        passes=36, edge_samples=1, taps=4, tap_mm=(0.6, 1.8), skies=2, map_px=1536,
        floor_px=768, floor_samples=96, steps=24, above_px=768,
    ),
}  # fmt: skip
