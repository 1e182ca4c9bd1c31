"""Scales: which knob has which, where its marks and numbers lie."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mockup.decal import scale_marks
from mockup.decal.scale_marks import Scale
from mockup.decal.typeface import TextLine, Typeface
from mockup.layout.fields import Loc, Problem
from mockup.layout.lettering import beside
from mockup.layout.lettering.decal_choice import FaceMark
from mockup.layout.lettering.style import LetteringContext, Written, height_of, line_of, written
from mockup.layout.lettering.tables import LetterSize, ScaleTable
from mockup.layout.pedal_tables import Placed
from mockup.model.design import Placement
from mockup.model.label import Lettering
from mockup.model.part import Shaft

# Defaults: our taste, common practice, no source.
GAP_MM = 1.2
MAJOR_MM, MINOR_MM = 1.6, 1.0
LINE_MM = 0.35
NUMBERS = LetterSize(cap_mm=1.8)
NUMBER_GAP_MM = 0.6


def knob_of_each(scales: Placed[ScaleTable], parts: Sequence[Placement]) -> Iterator[tuple[Loc, ScaleTable, Placement]]:
    """Yield every scale with the part that it goes round; one that names no part goes round every other knob."""
    named = {table.part for _, table in scales}
    for loc, table in scales:
        for part in parts:
            is_free = table.part is None and part.knob is not None and part.name not in named
            if part.name == table.part or is_free:
                yield loc, table, part


def gauge(table: ScaleTable, part: Placement) -> Scale:
    """Return the marks of a scale round a part with a shaft, turned as the part is.

    They count from the knob's largest diameter, round a bare shaft from the widest of its hardware.
    """
    shaft = part.kind.shaft or Shaft(diameter_mm=0.0, top_mm=0.0)
    bare = max(beside.reach(part, side) for side in beside.TOWARDS)
    edge = part.knob.diameter_mm / 2 if part.knob is not None else bare
    return Scale(
        u_mm=part.u_mm,
        v_mm=part.v_mm,
        inner_mm=max(edge + (GAP_MM if table.gap is None else table.gap), 0.0),
        marks=table.marks,
        travel_deg=shaft.travel_deg if table.travel is None else table.travel,
        rotation_deg=part.rotation_deg,
        major_every=table.major_every,
        major_mm=MAJOR_MM if table.major is None else table.major,
        minor_mm=MINOR_MM if table.minor is None else table.minor,
        line_mm=LINE_MM if table.line is None else table.line,
    )


def scaled(context: LetteringContext, loc: Loc, table: ScaleTable, part: Placement) -> Written:
    """Return the scale round one part: its marks, and its numbers as labels of the part."""
    marks = gauge(table, part)
    ink = scale_marks.inked(marks, context.ink(table.colour))
    mark = FaceMark(kind="scale", name=part.name, face=part.face, ink=ink, mover=("part", part.name))
    result = Written(marks=(mark,), around=((part.name, scale_marks.reached(marks)),))
    typeface = context.typeface(table) if table.numbers else None
    return result if typeface is None else result + _numbered(context, loc, table, part, marks, typeface)


def _numbered(
    context: LetteringContext, loc: Loc, table: ScaleTable, part: Placement, marks: Scale, typeface: Typeface
) -> Written:
    height = height_of(table.size or NUMBERS, typeface)
    style = Lettering(font=typeface.name, size_mm=height, colour=context.ink(table.colour))
    lines: list[TextLine] = []
    numbers = scale_marks.majors(marks)
    for number in numbers:
        drawn = line_of(typeface, str(number), style)
        if isinstance(drawn, Problem):
            return Written(found=((loc, drawn._replace(path=("font",))),))
        lines.append(drawn)
    sizes = [(drawn.width_mm, height) for drawn in lines]
    result = Written()
    for number, drawn, (u, v) in zip(
        numbers, lines, scale_marks.number_centres(marks, NUMBER_GAP_MM, sizes), strict=True
    ):
        result += written(
            str(number), drawn, part.face, (u, v), 0.0, style,
            part=part.name, of_scale=part.name, mover=("part", part.name),
        )  # fmt: skip
        half = drawn.width_mm / 2
        result += Written(around=((part.name, (u - half, v - height / 2, u + half, v + height / 2)),))
    return result
