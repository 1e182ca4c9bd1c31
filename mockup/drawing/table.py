"""The table of holes: where each one is, how large, and which drills in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mockup.drawing.drills import drill, number
from mockup.drawing.holes import Hole, drill_words, size_words
from mockup.drawing.lettering import lines, width_mm, wrapped
from mockup.drawing.paper import MARGIN_MM, Heading, cautions, head
from mockup.model.sheet import Line, Mark, Page, Text
from mockup.model.units import Unit

_SIZE_MM, _LEAST_MM = 2.6, 2.2  # of the face where there is room, and where there is little: our choice
_ROW, _PITCH, _DROP = 2.0, 1.3, 0.65  # in sizes of the face: a row's height, from line to line, from baseline to rule
_AIR = 1.4  # in sizes of the face: least room between two columns
_COLUMNS: tuple[tuple[str, float, bool], ...] = (  # title, width where there is room, whether it holds figures
    ("No.", 9.0, True),
    ("Hole", 34.0, False),
    ("Face", 11.0, False),
    ("Finished", 30.0, False),
    ("From left", 16.0, True),
    ("From edge", 17.0, True),
    ("Pilot", 11.0, True),
    ("Drills in order", 62.0, False),
)
_WORDS = (1, 3, 7)  # columns that are broken over lines where they are narrow: name, size, drills
_SPLITS = tuple((a / 8, b / 8, (8 - a - b) / 8) for a in range(9) for b in range(9 - a))  # all that add up to one
_WORD_MM = 26.0  # a longer word is broken on narrow paper: our choice
_WIDE_MM = sum(width for _, width, _ in _COLUMNS)
_TOP_MM = MARGIN_MM + 20.0
_BEFORE_MM, _LINE = 6.0, 1.55  # from the table to the lines below it (mm); of those, in sizes of the face

_LEGEND = (
    "From left: to the hole's centre from the face's left edge, looking straight at it, at the hole's own height.",
    "From edge: on the top from the far edge; on the sides from the open rim, lid off.",
    "Edges are sharp ones, where a square laid on both faces would have its corner.",
    "On the template: thick line, cut; dashed, bend round the top edge (its rounding is allowed for); small grey "
    "circle, pilot hole. Where sheets overlap, lay marks with the same letter on each other.",
)


@dataclass(frozen=True, kw_only=True)
class _Grid:
    """How large the lettering of a table is, and how wide its columns are."""

    size_mm: float
    widths_mm: tuple[float, ...]

    def row(self, cells: Sequence[str]) -> list[list[str]]:
        """Return the lines of each cell of a row."""
        room = [width - self.size_mm * _AIR for width in self.widths_mm]
        return [
            wrapped(cell, self.size_mm, room[index]) or [""] if index in _WORDS else [cell]
            for index, cell in enumerate(cells)
        ]

    def tall_mm(self, row: Sequence[Sequence[str]]) -> float:
        """Return the height of a row."""
        return self.size_mm * (_ROW + _PITCH * (max(map(len, row)) - 1))


def table_pages(holes: Sequence[Hole], paper_mm: tuple[float, float], heading: Heading) -> list[Page]:
    """Return the table of holes on as many pages as it takes.

    On narrow paper its columns are as wide as what they hold, and words are broken over lines: lettering
    never gets smaller than can be read at the drill press.
    """
    width, height = paper_mm
    cells = [_cells(hole, heading.units) for hole in holes]
    grid = _grid(cells, width - 2 * MARGIN_MM)
    said = _said(heading, cautions(holes), width, grid.size_mm)
    low = height - MARGIN_MM
    foot = _BEFORE_MM + len(said) * _LINE * grid.size_mm
    pages: list[list[Mark]] = []
    for some in _shares([grid.row(each) for each in cells], grid, low - _TOP_MM):
        marks: list[Mark] = [*head(width, heading, "Table of holes"), *_table(some, grid)]
        pages.append(marks)
        below = _TOP_MM + sum(map(grid.tall_mm, some))
    if below + foot > low:  # what has to be said goes on a page of its own
        pages.append(list(head(width, heading, "How to read the table of holes")))
        below = _TOP_MM - _BEFORE_MM
    pages[-1] += lines(said, MARGIN_MM, below + _BEFORE_MM, grid.size_mm, _LINE * grid.size_mm)
    title = f"{heading.title}: drill template"
    return [Page(width_mm=width, height_mm=height, marks=tuple(marks), title=title) for marks in pages]


def _grid(cells: Sequence[Sequence[str]], room_mm: float) -> _Grid:
    """Return the table's columns: the usual ones, or on narrow paper what their words and figures need."""
    if room_mm >= _WIDE_MM:
        return _Grid(size_mm=_SIZE_MM, widths_mm=tuple(width for _, width, _ in _COLUMNS))
    titles = [title for title, _, _ in _COLUMNS]
    size = _LEAST_MM
    whole = [max(width_mm(each[index], size) for each in (titles, *cells)) for index in range(len(titles))]
    least = [
        min(_WORD_MM, max(width_mm(word, size) for each in (titles, *cells) for word in [*each[index].split(), ""]))
        if index in _WORDS
        else whole[index]
        for index in range(len(titles))
    ]
    spare = max(0.0, room_mm - sum(least) - _AIR * size * len(titles))
    found: list[_Grid] = []
    for shares in _SPLITS:  # of the room to spare, to the columns of words: the fewest lines win
        more = dict(zip(_WORDS, shares, strict=True))
        widths = [
            min(few + more.get(at, 0.0) * spare, many) for at, (few, many) in enumerate(zip(least, whole, strict=True))
        ]
        found.append(_Grid(size_mm=size, widths_mm=tuple(width + _AIR * size for width in widths)))
    return min(found, key=lambda grid: sum(grid.tall_mm(grid.row(each)) for each in cells))


def _shares(rows: Sequence[list[list[str]]], grid: _Grid, room_mm: float) -> list[list[list[list[str]]]]:
    """Return the rows of each page, under the titles."""
    titles = [[title] for title, _, _ in _COLUMNS]
    shares = [[titles]]
    for row in rows:
        if sum(map(grid.tall_mm, (*shares[-1], row))) > room_mm and len(shares[-1]) > 1:
            shares.append([titles])
        shares[-1].append(row)
    return shares


def _table(rows: Sequence[Sequence[Sequence[str]]], grid: _Grid) -> Iterator[Mark]:
    y, size = _TOP_MM, grid.size_mm
    for index, row in enumerate(rows):
        x = MARGIN_MM
        for (_, _, is_figure), width, cell in zip(_COLUMNS, grid.widths_mm, row, strict=True):
            for turn, line in enumerate(cell):
                yield Text(
                    x_mm=x + width - _AIR * size if is_figure else x,
                    y_mm=y + turn * _PITCH * size,
                    text=line,
                    size_mm=size,
                    anchor="end" if is_figure else "start",
                    is_bold=index == 0,
                )
            x += width
        y += grid.tall_mm(row)
        under = y - grid.size_mm * (_ROW - _DROP)
        thick = 0.25 if index in (0, len(rows) - 1) else 0.1
        right = MARGIN_MM + sum(grid.widths_mm)
        yield Line(x1_mm=MARGIN_MM, y1_mm=under, x2_mm=right, y2_mm=under, line_mm=thick)


def _cells(hole: Hole, units: Unit) -> list[str]:
    outline = hole.bore.outline
    return [
        str(hole.number),
        hole.bore.words,
        hole.bore.face,
        size_words(outline, units),
        number(hole.across_mm, units),
        number(hole.along_mm, units),
        drill(hole.pilot_mm, units),
        drill_words(hole, units),
    ]


def _said(heading: Heading, minded: Sequence[str], page_mm: float, size_mm: float) -> list[str]:
    """Return the lines below the table: how to read it, the cautions, how the print was corrected."""
    what = "Millimetres." if heading.units == "mm" else "Inches; drills in sixty-fourths where there is one."
    room = page_mm - 2 * MARGIN_MM
    legend = [line for each in (what, *_LEGEND) for line in wrapped(each, size_mm, room)]
    said = [*legend, "", *wrapped(" ".join(minded), size_mm, room)]
    return said + (["", *wrapped(heading.corrected, size_mm, room)] if heading.corrected else [])
