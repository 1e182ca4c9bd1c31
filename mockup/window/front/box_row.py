"""Boxes seen from above, in a row on one baseline and to one scale; the last is one's own. Sizes are in units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mockup.model.enclosure import Enclosure

GAP = 24.0  # between two boxes, at the least: by eye
LARGEST = 1.25  # units for a millimetre, so that a short row does not swell: by eye
SMALLEST_MM = (30.0, 20.0, 15.0)  # length, width, height of a box of one's own: our choice
LONGEST_MM = 400.0  # a side of it: our choice


@dataclass(frozen=True, kw_only=True)
class BoxPlace:
    """Where a box stands in its row: its left edge, width and height, its foot on the baseline at 0."""

    name: str
    left: float
    wide: float
    tall: float

    @property
    def middle(self) -> float:
        """The middle of it, across."""
        return self.left + self.wide / 2


@dataclass(frozen=True, kw_only=True)
class BoxRow:
    """Boxes in their places, and how many units a millimetre has."""

    scale: float
    places: tuple[BoxPlace, ...]


def row(boxes: Sequence[tuple[str, Enclosure]], wide: float, tall: float, beside: float) -> BoxRow:
    """Return boxes by name as large as a room lets them be; the last keeps `beside` free at its left for numbers.

    What room is left goes between them.
    """
    across, deep = sum(box.width_mm for _, box in boxes), max(box.length_mm for _, box in boxes)
    gaps = len(boxes) - 1
    scale = max(min((wide - beside - gaps * GAP) / across, tall / deep, LARGEST), 0.05)
    gap = max((wide - beside - across * scale) / gaps, 0.0) if gaps else 0.0
    places, left = [], 0.0
    for index, (name, box) in enumerate(boxes):
        if index == gaps and gaps:
            left += beside
        places.append(BoxPlace(name=name, left=left, wide=box.width_mm * scale, tall=box.length_mm * scale))
        left += box.width_mm * scale + gap
    return BoxRow(scale=scale, places=tuple(places))
