"""What is chosen for a new pedal, as one value."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal, Self

from mockup.colour.paints import PAINTS
from mockup.enclosure.sizes import SIZES
from mockup.model.enclosure import Enclosure
from mockup.model.material import Colour
from mockup.model.units import Unit

OWN = "own"
"""The name of a box that is none of the table."""
FIRST_BOX = "112x60x31"  # the usual small pedal: our choice
Side = Literal["length_mm", "width_mm", "height_mm"]


@dataclass(frozen=True, kw_only=True)
class Choice:
    """A new pedal: its name, its box, and its paint (encoded sRGB).

    `picture` is art that was dropped on the front door: it goes onto the new pedal.
    """

    name: str = ""
    size: str = FIRST_BOX
    own: Enclosure = SIZES[FIRST_BOX]
    units: Unit = "mm"
    paint: Colour = PAINTS[2].colour
    picture: Path | None = None

    @property
    def box(self) -> Enclosure:
        """The box that is chosen."""
        return self.own if self.size == OWN else SIZES[self.size]

    def measured(self, side: Side, mm: float) -> Self:
        """Return the choice with a box of one's own, one side of it measured."""
        own = replace(self.own, length_mm=mm) if side == "length_mm" else self.own
        own = replace(own, width_mm=mm) if side == "width_mm" else own
        own = replace(own, height_mm=mm) if side == "height_mm" else own
        return replace(self, own=own, size=OWN)
