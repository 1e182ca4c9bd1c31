"""Paints by name: the candidates that a new pedal is offered. No maker's range; the names are plain words."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.colour import rgb
from mockup.model.material import Colour


@dataclass(frozen=True, kw_only=True)
class Paint:
    """A paint that is considered: encoded sRGB, and what it is called."""

    name: str
    colour: Colour


_CODES = {
    "Chalk": "#f1f0ec", "Butter": "#e8cf7a", "Shell": "#e7cdc6", "Copper": "#cb8450", "Moss": "#8fb39b",
    "Teal": "#2f7f78", "Ink": "#27355f", "Soot": "#2a2a2c", "Ash": "#b9bdc1",
    "Ivory": "#e8dfc0", "Rose": "#b9596a", "Rust": "#9c4a32", "Fern": "#4f7a4c", "Sky": "#9fc3d6", "Plum": "#5a3a5e",
    "Slate": "#5b646e",
}  # fmt: skip
PAINTS: tuple[Paint, ...] = tuple(Paint(name=name, colour=rgb.parse(code)) for name, code in _CODES.items())
"""Sixteen that differ plainly from each other, light to dark and round the hues: by eye."""
