"""What is chosen for a new pedal, as one value."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal, Self

from mockup.colour.paints import PAINTS
from mockup.enclosure.sizes import SIZES
from mockup.layout import starter
from mockup.layout_proposals import SMALLEST
from mockup.model.enclosure import Enclosure
from mockup.model.material import Colour
from mockup.model.units import Unit
from mockup.window.front.control_list import ControlList, usual
from mockup.window.work.arranging import ArrangeRequest
from mockup.window.work.new_project import called

OWN = "own"
"""The name of a box that is none of the table."""
FIRST_BOX = "112x60x31"  # the usual small pedal: our choice
Side = Literal["length_mm", "width_mm", "height_mm"]
SIDES: tuple[tuple[Side, str], ...] = (("length_mm", "long"), ("width_mm", "wide"), ("height_mm", "high"))
Beginning = Literal["box", "list"]
"""What a pedal begins with: an empty box, or a list of controls that is laid out in one."""


@dataclass(frozen=True, kw_only=True)
class Choice:
    """A new pedal: its name, its box, and its paint (encoded sRGB).

    `picture` is art that was dropped on the front door: it goes onto the new pedal. `list_size` is the box of a list
    of controls: a size, one's own, or the smallest that holds them.
    """

    name: str = ""
    size: str = FIRST_BOX
    own: Enclosure = SIZES[FIRST_BOX]
    units: Unit = "mm"
    paint: Colour = PAINTS[2].colour
    picture: Path | None = None
    begins_with: Beginning = "box"
    controls: ControlList = field(default_factory=usual)
    list_size: str = SMALLEST

    @property
    def box(self) -> Enclosure:
        """The box that is chosen."""
        return self.own if self.size == OWN else SIZES[self.size]

    @property
    def text(self) -> str:
        """The layout of the bare box."""
        box = self.own if self.size == OWN else self.size
        return starter.bare_text(called(self.name), box, self.paint, self.units)

    @property
    def request(self) -> ArrangeRequest:
        """What is to be laid out: the list, in its box."""
        own = "x".join(f"{side:g}" for side in (self.own.length_mm, self.own.width_mm, self.own.height_mm))
        box = own if self.list_size == OWN else self.list_size
        return ArrangeRequest(words=self.controls.words, box=box, units=self.units)

    def measured(self, side: Side, mm: float) -> Self:
        """Return the choice with a box of one's own, one side of it measured."""
        own = replace(self.own, length_mm=mm) if side == "length_mm" else self.own
        own = replace(own, width_mm=mm) if side == "width_mm" else own
        own = replace(own, height_mm=mm) if side == "height_mm" else own
        return replace(self, own=own, size=OWN)
