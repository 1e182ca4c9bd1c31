"""A border line with rounded corners, as ink."""

from __future__ import annotations

from mockup.colour import rgb
from mockup.decal.curves import Box
from mockup.decal.lettering import Inked, grown
from mockup.model.material import Colour


def inked(outer: Box, corner_mm: float, line_mm: float, colour: Colour) -> Inked:
    """Return a line `line_mm` wide whose outer edge is the box `outer`, its outer corners of radius `corner_mm`.

    The line must be thinner than half of the box, and the radius no more than half of it. Corners
    tighter than the line is wide are sharp on the inside.
    """
    inner = _round(grown(outer, -line_mm), max(corner_mm - line_mm, 0.0))
    svg = f'<path d="{_round(outer, corner_mm)}{inner}" fill="{rgb.to_hex(colour)}" fill-rule="evenodd"/>'
    return Inked(svg=svg, box=outer)


def _round(box: Box, radius: float) -> str:
    """Return path data of a box with rounded corners."""
    left, top, right, bottom = box
    turn = f"A{radius:.5f} {radius:.5f} 0 0 1 "
    return (
        f"M{left + radius:.5f} {top:.5f}H{right - radius:.5f}{turn}{right:.5f} {top + radius:.5f}"
        f"V{bottom - radius:.5f}{turn}{right - radius:.5f} {bottom:.5f}"
        f"H{left + radius:.5f}{turn}{left:.5f} {bottom - radius:.5f}"
        f"V{top + radius:.5f}{turn}{left + radius:.5f} {top:.5f}Z"
    )
