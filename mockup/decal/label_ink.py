"""Lettering as ink: letters over their outline over their shadow."""

from __future__ import annotations

from mockup.colour import rgb
from mockup.decal.curves import bounds, path, placed
from mockup.decal.lettering import Inked, grown, joined
from mockup.decal.typeface import TextLine
from mockup.model.label import Lettering


def lettered(text: TextLine, u_mm: float, v_mm: float, rotation_deg: float, style: Lettering) -> Inked:
    """Return a line of text as ink, the middle of its box at (u, v) on the face, turned clockwise.

    The shadow falls the same way however the text is turned, and has the outline's shape. `text` must
    not be empty.
    """
    shape = placed(text.curves, u_mm, v_mm, rotation_deg)
    outlines = path(shape)
    box = grown(bounds(shape), style.outline_mm)
    layers, boxes = [], [box]
    if style.shadow_mm is not None:
        right, down = style.shadow_mm
        move = f' transform="translate({right:.5f} {down:.5f})"'
        layers.append(_layer(outlines, rgb.to_hex(style.shadow_colour), style.outline_mm, move))
        boxes.append((box[0] + right, box[1] + down, box[2] + right, box[3] + down))
    if style.outline_mm > 0.0:
        layers.append(_layer(outlines, rgb.to_hex(style.outline_colour), style.outline_mm))
    layers.append(_layer(outlines, rgb.to_hex(style.colour)))
    return Inked(svg="".join(layers), box=joined(*boxes))


def _layer(outlines: str, colour: str, outline_mm: float = 0.0, more: str = "") -> str:
    stroke = f' stroke="{colour}" stroke-width="{2 * outline_mm:.5f}" stroke-linejoin="round"' if outline_mm else ""
    return f'<path d="{outlines}" fill="{colour}"{stroke}{more}/>'
