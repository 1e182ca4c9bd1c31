"""Every style of knob, found in this folder."""

from __future__ import annotations

from typing import cast

from mockup.knobs._interface import Style
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid
from mockup.plugins import Folder

STYLES = Folder("mockup.knobs")


def styles() -> tuple[str, ...]:
    """Return the names of the styles in alphabetical order."""
    return STYLES.names()


def default(style: str) -> Knob:
    """Return a style's usual knob; `KeyError` if there is no such style."""
    return _style(style).DEFAULT


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return a knob on its shaft, in the part frame, pointer at 12 o'clock; `KeyError` for an unknown style.

    `knob.pointer` is left to the caller, who turns the solids.
    """
    return _style(knob.style).solids(knob, shaft)


def _style(name: str) -> Style:
    return cast(Style, STYLES.load(name))
