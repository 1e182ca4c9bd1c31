"""The table of holes: where each one is, how large, and which drills in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mockup.drawing.holes import Hole, drill, drill_words, number, size_words
from mockup.drawing.lettering import shortened, wrapped
from mockup.drawing.paper import CAUTIONS, MARGIN_MM, Heading, head
from mockup.model.sheet import Line, Mark, Page, Text
from mockup.model.units import Unit

_ROW_MM, _SIZE_MM = 5.2, 2.6
_COLUMNS: tuple[tuple[str, float, bool], ...] = (  # title, width, whether it holds figures
    ("No.", 9.0, True),
    ("Hole", 34.0, False),
    ("Face", 11.0, False),
    ("Finished", 30.0, False),
    ("From left", 16.0, True),
    ("From edge", 17.0, True),
    ("Pilot", 11.0, True),
    ("Drills in order", 62.0, False),
)
_WIDE_MM = sum(width for _, width, _ in _COLUMNS)
_TOP_MM = MARGIN_MM + 20.0
_BEFORE_MM, _LINE_MM = 6.0, 4.0  # from the table to the lines below it, and from one of them to the next

_LEGEND = (
    "From left: to the hole's centre from the face's left edge, looking straight at it, at the hole's own height.",
    "From edge: on the top from the far edge; on the sides from the open rim, lid off.",
    "Edges are sharp ones, where a square laid on both faces would have its corner.",
    "On the template: thick line, cut; dashed, bend round the top edge (its rounding is allowed for);",
    "small grey circle, pilot hole. Sheets that overlap: lay marks of one letter on each other.",
)


def table_pages(holes: Sequence[Hole], paper_mm: tuple[float, float], heading: Heading) -> list[Page]:
    """Return the table of holes on as many pages as it takes, upright; narrow paper makes it smaller."""
    width, height = paper_mm
    scale = min(1.0, (width - 2 * MARGIN_MM) / _WIDE_MM)
    said = _said(heading, width, scale)
    foot = _BEFORE_MM + len(said) * _LINE_MM * scale
    rows = max(1, int((height - _TOP_MM - foot - MARGIN_MM) / (_ROW_MM * scale)) - 1)
    pages = []
    for start in range(0, max(1, len(holes)), rows):
        some = holes[start : start + rows]
        marks = (*head(width, heading, "Table of holes"), *_table(some, heading.units, scale))
        notes = _notes(said, _TOP_MM + (len(some) + 1) * _ROW_MM * scale + _BEFORE_MM, scale)
        title = f"{heading.title}: drill template"
        pages.append(Page(width_mm=width, height_mm=height, marks=(*marks, *notes), title=title))
    return pages


def _table(holes: Sequence[Hole], units: Unit, scale: float) -> Iterator[Mark]:
    rows = [[title for title, _, _ in _COLUMNS], *(_cells(hole, units) for hole in holes)]
    for index, cells in enumerate(rows):
        y = _TOP_MM + index * _ROW_MM * scale
        x = MARGIN_MM
        for (_, width, is_figure), cell in zip(_COLUMNS, cells, strict=True):
            wide, size = width * scale, _SIZE_MM * scale
            yield Text(
                x_mm=x + wide - 4.0 * scale if is_figure else x,
                y_mm=y,
                text=shortened(cell, size, wide - 1.0),
                size_mm=size,
                anchor="end" if is_figure else "start",
                is_bold=index == 0,
            )
            x += wide
        line = y + 1.7 * scale
        thick = 0.25 if index in (0, len(rows) - 1) else 0.1
        yield Line(x1_mm=MARGIN_MM, y1_mm=line, x2_mm=MARGIN_MM + _WIDE_MM * scale, y2_mm=line, line_mm=thick)


def _cells(hole: Hole, units: Unit) -> list[str]:
    outline = hole.bore.outline
    return [
        str(hole.number),
        hole.bore.name.replace("/", ", "),
        hole.bore.face,
        size_words(outline, units),
        number(hole.across_mm, units),
        number(hole.along_mm, units),
        drill(hole.pilot_mm, units),
        drill_words(hole, units),
    ]


def _said(heading: Heading, page_mm: float, scale: float) -> list[str]:
    """Return the lines below the table: how to read it, the cautions, how the print was corrected."""
    what = "Millimetres." if heading.units == "mm" else "Inches; drills in sixty-fourths where there is one."
    room = page_mm - 2 * MARGIN_MM
    said = [what, *_LEGEND, "", *wrapped(" ".join(CAUTIONS), _SIZE_MM * scale, room)]
    return said + (["", *wrapped(heading.corrected, _SIZE_MM * scale, room)] if heading.corrected else [])


def _notes(said: Sequence[str], y_mm: float, scale: float) -> Iterator[Mark]:
    for row, line in enumerate(said):
        yield Text(x_mm=MARGIN_MM, y_mm=y_mm + row * _LINE_MM * scale, text=line, size_mm=_SIZE_MM * scale)
