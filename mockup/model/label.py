"""Lettering on the pedal: where it stands, what it says, and how it is drawn if the tool draws it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from mockup.model.enclosure import FaceName
from mockup.model.material import Colour


@dataclass(frozen=True, kw_only=True)
class Lettering:
    """How the tool draws a label: `font` is a file in the project folder.

    `size_mm` is the height of a capital letter; `colour` and the others are encoded sRGB.
    `outline_mm` is how far an outline stands out (0: none); the shadow lies `shadow_mm` (right,
    down) from the text, None for no shadow; `spacing_mm` is extra room between letters.
    """

    font: str
    size_mm: float
    colour: Colour
    outline_mm: float = 0.0
    outline_colour: Colour = (1.0, 1.0, 1.0)
    shadow_mm: tuple[float, float] | None = None
    shadow_colour: Colour = (0.6, 0.6, 0.6)
    spacing_mm: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Label:
    """One piece of lettering, declared (it is in the art) or drawn by the tool.

    Its box is centred on (`u_mm`, `v_mm`) in face coordinates, `width_mm` by `height_mm` (from the
    baseline to the height of a capital letter; where the tool draws it, from the leftmost to the
    rightmost ink), turned clockwise by `rotation_deg`. `part` names the part that it belongs
    to, if any. `lettering` is None where the art itself holds it. `number` is its place among the
    labels that the layout or its variant shows, counted from 0; None where it is a scale's number.
    """

    text: str
    face: FaceName
    u_mm: float
    v_mm: float
    width_mm: float
    height_mm: float
    rotation_deg: float = 0.0
    part: str | None = None
    lettering: Lettering | None = None
    number: int | None = field(default=None, compare=False)


@dataclass(frozen=True, kw_only=True)
class LostInk:
    """Ink of a label, scale or border past the flat of its face, where no film holds it: it is not printed.

    `name` is the label's text, the scale's part or the border's face. `box` is that of all its ink and `past_mm` how
    far this reaches past the flat, each left, top, right and bottom in face millimetres, 0 where it does not.
    `mover` is what it moves with, by the steps of its address: its part or itself; empty where neither takes it back.
    """

    kind: Literal["label", "scale", "border"]
    name: str
    face: FaceName
    box: tuple[float, float, float, float]
    past_mm: tuple[float, float, float, float]
    mover: tuple[str, ...] = ()
