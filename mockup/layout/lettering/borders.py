"""Borders: a rounded line along the flat of a face."""

from __future__ import annotations

import math

from mockup.decal import border
from mockup.layout.fields import Loc, Problem
from mockup.layout.lettering.decal_choice import FaceMark
from mockup.layout.lettering.style import LetteringContext, Written
from mockup.layout.lettering.tables import BorderTable, Corner
from mockup.model.units import format_length

INSET_MM = 1.5  # of the line's outer edge; twice what scissors wander: our choice
LINE_MM = 0.5  # twice the thinnest line that every printer holds: our choice
CORNER = Corner(radius_mm=3.0)  # our choice


def mark_border(context: LetteringContext, loc: Loc, table: BorderTable) -> Written:
    """Return a border as a mark; its outer edge lies `inset` inside the edge of the face's flat."""
    left, top, right, bottom = context.sides[table.face].flat
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
        what = (
            f"the corners are rounder than the border's shorter side, {format_length(shorter, context.units)}, allows"
        )
        remedy = f"make the radius at most {math.floor(shorter * 50) / 100:g} mm"
        return Written(found=((loc, Problem(("corner",), what, remedy)),))
    ink = border.inked(outer, radius, width, context.ink(table.colour))
    return Written(marks=(FaceMark(kind="border", name=table.face, face=table.face, ink=ink),))
