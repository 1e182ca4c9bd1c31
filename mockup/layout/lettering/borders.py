"""Borders: a rounded line along the flat of a face."""

from __future__ import annotations

import math

from mockup.decal import border
from mockup.layout.fields import Loc, Problem
from mockup.layout.lettering.decal_choice import Mark
from mockup.layout.lettering.style import Desk, Written
from mockup.layout.lettering.tables import BorderTable, Corner
from mockup.model.units import MM_PER_INCH, format_length

INSET_MM = 25 / 600 * MM_PER_INCH  # 25 px at 600 dpi: common practice, no source
LINE_MM = 9 / 600 * MM_PER_INCH  # 8 to 10 px at 600 dpi: common practice, no source
CORNER = Corner(share=0.08)  # 5 to 10 percent: common practice, no source


def framed(desk: Desk, loc: Loc, table: BorderTable) -> Written:
    """Return a border as a mark; its outer edge lies `inset` inside the edge of the face's flat."""
    left, top, right, bottom = desk.sides[table.face].flat
    inset = INSET_MM if table.inset is None else table.inset
    width = LINE_MM if table.line is None else table.line
    outer = (left + inset, top + inset, right - inset, bottom - inset)
    shorter = min(outer[2] - outer[0], outer[3] - outer[1])
    corner = table.corner or CORNER
    radius = corner.radius_mm if corner.radius_mm is not None else (corner.share or 0.0) * shorter
    if shorter <= 2 * width:
        what = f"the border leaves nothing of the {table.face} face's flat inside it"
        return Written(found=((loc, Problem(("inset",), what, "make inset or line smaller")),))
    if 2 * radius > shorter:
        what = f"the corners are rounder than the border's shorter side, {format_length(shorter, desk.units)}, allows"
        remedy = f"make the radius at most {math.floor(shorter * 50) / 100:g} mm"
        return Written(found=((loc, Problem(("corner",), what, remedy)),))
    ink = border.inked(outer, radius, width, desk.ink(table.colour))
    return Written(marks=(Mark(loc=loc, face=table.face, ink=ink, inset_mm=inset),))
