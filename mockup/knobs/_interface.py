"""What a style of knob offers: the shape of every plug-in in this folder.

A plug-in is a module with these names; the first line of its docstring is its help text.
"""

from __future__ import annotations

from typing import Protocol

from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid


class Style(Protocol):
    """A plug-in module of this folder."""

    DEFAULT: Knob
    """The style's usual diameter, height and colours."""

    def solids(self, knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
        """Return the knob as it stands on a shaft, in the part frame, pointer at 12 o'clock.

        Exactly `knob.diameter_mm` across at its widest and `knob.height_mm` high; the assembler turns it.
        """
        ...
