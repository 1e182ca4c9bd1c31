"""Plug-ins: one file per style of knob, and every style by its name.

A plug-in is a module with the names of `Style`; the first line of its docstring is its help text.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol, cast

from mockup.memo import memoize
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid
from mockup.plugins import Folder

STYLES = Folder("mockup.knobs")


class Style(Protocol):
    """A plug-in module of this folder."""

    DEFAULT: Knob
    """The style's usual diameter, height and colours; the file gives it its name."""

    def solids(self, knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
        """Return the knob as it stands on a shaft, in the part frame, pointer at 12 o'clock.

        Exactly `knob.diameter_mm` across at its widest and `knob.height_mm` high; the assembler turns it.
        """
        ...


def styles() -> tuple[str, ...]:
    """Return the names of the styles in alphabetical order."""
    return STYLES.names()


def default(style: str) -> Knob:
    """Return a style's usual knob; `KeyError` if there is no such style."""
    return replace(_style(style).DEFAULT, style=style)


@memoize
def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return a knob on its shaft, in the part frame, pointer at 12 o'clock; `KeyError` for an unknown style.

    `knob.pointer` is left to the caller, who turns the solids.
    """
    return _style(knob.style).solids(knob, shaft)


def _style(name: str) -> Style:
    return cast(Style, STYLES.load(name))
