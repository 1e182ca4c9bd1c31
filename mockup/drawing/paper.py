"""Drawings laid out on paper at true size: page furniture, and as many sheets as it takes.

A drawing that is larger than the paper is cut into tiles that overlap (see `tiles`); every tile shows the
same register marks, by which the sheets are laid on one another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from mockup.drawing.faces import Drawing
from mockup.drawing.holes import Hole
from mockup.drawing.lettering import lines, shortened, width_mm, wrapped
from mockup.drawing.rule import INCHES_MM, METRIC_MM, inch_rule, metric_rule
from mockup.drawing.tiles import OVERLAP_MM, REGISTER, counts, tiling
from mockup.model.sheet import Clip, Line, Mark, Page, Text, moved, ways
from mockup.model.units import Unit

MARGIN_MM = 10.0  # further in than any printer's margin: common practice, no source
_GAP_MM = 4.0
_HEAD_MM, _FOOT_MM = 16.0, 25.0  # bands above and below the drawing; the lower one grows with what it says
_SMALL_MM, _PITCH_MM, _FIRST_MM = 2.2, 3.1, 24.6  # lines of small print there: size, from one to the next, the first
_CAUTIONS_MM = 74.0  # what the cautions need beside the rules
_LEAST_ABOUT_MM = 1.9  # of the line under a page's name, which goes on to a second one at that size: our choice
_COLUMN_MM = 62.0  # the same, as a column beside it

NOTES = (
    "Print at 100 %, not fitted to the page.",
    "Measure both rules before you drill.",
)
CAUTIONS = (
    "Wear eye protection; no gloves or loose sleeves at the drill.",
    "Clamp the box, back the wall with wood, brush chips away.",
    "Centre-punch, pilot, step up slowly, deburr both sides.",
    "Scrape the paint off under the washer that earths the box.",
    "Measure your own parts first. Local codes and the products'",
    "safety sheets come before anything said here.",
)
_CHAIN_CAUTIONS = (
    "Holes of a chain do not touch: a bit that runs into the next",
    "one grabs. Cut the webs with a file, not with the drill.",
)


def cautions(found: Sequence[Hole]) -> tuple[str, ...]:
    """Return what has to be said to whoever drills some holes, line by line."""
    return (*CAUTIONS, *_CHAIN_CAUTIONS) if any(hole.is_chained for hole in found) else CAUTIONS


@dataclass(frozen=True, kw_only=True)
class Heading:
    """What stands on every sheet: the pedal's name, a few words about it, and how it was corrected for a printer.

    `mark` is a warning that belongs to the name, such as "with 1 open stop".
    """

    title: str
    about: str
    units: Unit = "mm"
    corrected: str = ""
    mark: str = ""


@dataclass(frozen=True, kw_only=True)
class _Frame:
    """One way to use a page: its size, and the window left for the drawing."""

    width_mm: float
    height_mm: float
    window: tuple[float, float, float, float]  # left, top, width, height
    is_column: bool


def sheets(drawings: Sequence[Drawing], paper_mm: tuple[float, float], heading: Heading) -> list[Page]:
    """Return the pages of some drawings; each takes the way of the paper that needs the fewest sheets.

    `paper_mm` is the paper's width and height; wider than high, it lies across.
    """
    return [page for drawing in drawings for page in _tiled(drawing, _best(drawing, paper_mm, heading), heading)]


def numbered(pages: Sequence[Page]) -> list[Page]:
    """Return pages with "Sheet 1 of 3" in their top right corner."""
    result = []
    for index, page in enumerate(pages, 1):
        text = f"Sheet {index} of {len(pages)}"
        mark = Text(x_mm=page.width_mm - MARGIN_MM, y_mm=MARGIN_MM + 4.0, text=text, size_mm=3.0, anchor="end")
        result.append(replace(page, marks=(*page.marks, mark)))
    return result


def head(page_mm: float, heading: Heading, caption: str) -> Iterator[Mark]:
    """Yield the band over a page: name, what it shows, and a line below."""
    room = page_mm - 2 * MARGIN_MM
    marked = f", {heading.mark}" if heading.mark else ""
    name = shortened(heading.title, 4.8, room - 28.0 - width_mm(marked, 4.8)) + marked
    yield Text(x_mm=MARGIN_MM, y_mm=MARGIN_MM + 4.0, text=name, size_mm=4.8, is_bold=True)
    full = f"{caption}. {heading.about}"
    size = max(_LEAST_ABOUT_MM, min(2.7, 2.7 * room / width_mm(full, 2.7)))
    said = wrapped(full, size, room)
    first = MARGIN_MM + 8.8 - (0.9 if len(said) > 1 else 0.0)
    yield from lines(said, MARGIN_MM, first, size, 1.3 * size)
    below = MARGIN_MM + 11.5
    yield Line(x1_mm=MARGIN_MM, y1_mm=below, x2_mm=page_mm - MARGIN_MM, y2_mm=below)


def _best(drawing: Drawing, paper_mm: tuple[float, float], heading: Heading) -> _Frame:
    """Return the frame with the fewest tiles; upright paper with bands goes first."""
    frames = [
        _frame(width, height, heading, is_column=is_column)
        for width, height in ways(paper_mm)
        for is_column in (False, True)
    ]
    usable = [each for each in frames if min(each.window[2:]) > 3 * OVERLAP_MM]

    def cost(frame: _Frame) -> int:
        columns, rows = counts(drawing.area, frame.window[2:])
        return columns * rows

    return min(usable, key=cost)


def _frame(width_mm: float, height_mm: float, heading: Heading, *, is_column: bool) -> _Frame:
    wide, tall = width_mm - 2 * MARGIN_MM, height_mm - 2 * MARGIN_MM
    if is_column:
        room = (MARGIN_MM + _COLUMN_MM + _GAP_MM, MARGIN_MM, wide - _COLUMN_MM - _GAP_MM, tall)
    else:
        room = (MARGIN_MM, MARGIN_MM + _HEAD_MM, wide, tall - _HEAD_MM - _foot_mm(width_mm, heading))
    return _Frame(width_mm=width_mm, height_mm=height_mm, window=room, is_column=is_column)


def _tiled(drawing: Drawing, frame: _Frame, heading: Heading) -> Iterator[Page]:
    x, y, wide, tall = frame.window
    plan = tiling(drawing.marks, drawing.area, (wide, tall))
    columns, rows = len(plan.lefts), len(plan.tops)
    shared = (*drawing.marks, *plan.registers)
    for row, from_y in enumerate(plan.tops):
        for column, from_x in enumerate(plan.lefts):
            marks = tuple(moved(mark, x - from_x, y - from_y) for mark in shared)
            inside = Clip(x_mm=x, y_mm=y, width_mm=wide, height_mm=tall, marks=marks)
            tile = f", row {row + 1} of {rows}" if rows > 1 else ""
            tile += f", column {column + 1} of {columns}" if columns > 1 else ""
            furniture = _column if frame.is_column else _bands
            around = tuple(furniture(frame, heading, drawing.caption + tile))
            cuts = tuple(_cut_lines(frame, is_right=column < columns - 1, is_low=row < rows - 1))
            yield Page(
                width_mm=frame.width_mm,
                height_mm=frame.height_mm,
                marks=(inside, *cuts, *around),
                title=f"{heading.title}: drill template",
            )


def _cut_lines(frame: _Frame, *, is_right: bool, is_low: bool) -> Iterator[Line]:
    """Yield dashed lines at the sides where the next sheet is laid on."""
    x, y, wide, tall = frame.window
    dash = (3.0, 2.0)
    if is_right:
        at = x + wide
        yield Line(x1_mm=at, y1_mm=y, x2_mm=at, y2_mm=y + tall, line_mm=0.18, colour=REGISTER, dash_mm=dash)
    if is_low:
        at = y + tall
        yield Line(x1_mm=x, y1_mm=at, x2_mm=x + wide, y2_mm=at, line_mm=0.18, colour=REGISTER, dash_mm=dash)


def _foot_mm(page_mm: float, heading: Heading) -> float:
    """Return the height of the lower band of a page of that width."""
    count = len(_small_print(page_mm, heading))
    return max(_FOOT_MM, 3.0 + _FIRST_MM + (count - 1) * _PITCH_MM + 1.0) if count else _FOOT_MM


def _small_print(page_mm: float, heading: Heading) -> list[str]:
    """Return the lines under the rules: the cautions where they have no room beside, and the correction."""
    room = page_mm - 2 * MARGIN_MM
    if not _takes_cautions(page_mm):
        said = wrapped(" ".join(CAUTIONS), _SMALL_MM, room)
    else:
        said, room = [], METRIC_MM + INCHES_MM + 12.0
    return said + wrapped(heading.corrected, _SMALL_MM, room)


def _takes_cautions(page_mm: float) -> bool:
    """Return whether the cautions have room beside the two rules."""
    return page_mm - 2 * MARGIN_MM >= METRIC_MM + INCHES_MM + 8.0 + _CAUTIONS_MM


def _bands(frame: _Frame, heading: Heading, caption: str) -> Iterator[Mark]:
    yield from head(frame.width_mm, heading, caption)
    top = frame.height_mm - MARGIN_MM - _foot_mm(frame.width_mm, heading) + 3.0
    yield Line(x1_mm=MARGIN_MM, y1_mm=top, x2_mm=frame.width_mm - MARGIN_MM, y2_mm=top)
    beside = MARGIN_MM + METRIC_MM + 8.0
    yield from metric_rule(MARGIN_MM, top + 8.0)
    yield from inch_rule(beside, top + 8.0)
    yield from lines(NOTES, MARGIN_MM, top + 17.2, 2.7, 3.6, is_bold=True)
    yield from lines(_small_print(frame.width_mm, heading), MARGIN_MM, top + _FIRST_MM, _SMALL_MM, _PITCH_MM)
    if _takes_cautions(frame.width_mm):
        yield from lines(CAUTIONS, beside + INCHES_MM + 8.0, top + 5.0, 2.4, 3.6)


def _column(frame: _Frame, heading: Heading, caption: str) -> Iterator[Mark]:
    x, width = MARGIN_MM, _COLUMN_MM - 4.0
    name = shortened(heading.title, 4.8, width)
    yield Text(x_mm=x, y_mm=MARGIN_MM + 4.0, text=name, size_mm=4.8, is_bold=True)
    y = MARGIN_MM + 9.2
    if heading.mark:
        yield Text(x_mm=x, y_mm=y + 0.4, text=shortened(heading.mark, 3.4, width), size_mm=3.4, is_bold=True)
        y += 4.8
    about = [line for sentence in (caption, heading.about) for line in wrapped(sentence, 2.7, width)]
    yield from lines(about, x, y, 2.7, 3.8)
    y += 3.8 * len(about)
    yield Line(x1_mm=x, y1_mm=y - 1.0, x2_mm=x + width, y2_mm=y - 1.0)
    yield from metric_rule(x, y + 8.0)
    yield from inch_rule(x, y + 22.0)
    y += 34.0
    yield from lines(NOTES, x, y, 2.7, 3.8, is_bold=True)
    y += 3.8 * len(NOTES) + 2.0
    yield from lines(CAUTIONS, x, y, 2.0, 3.2)
    y += 3.2 * len(CAUTIONS) + 2.0
    yield from lines(wrapped(heading.corrected, 2.0, width), x, y, 2.0, 3.2)
    right = x + width + 2.0
    yield Line(x1_mm=right, y1_mm=MARGIN_MM, x2_mm=right, y2_mm=frame.height_mm - MARGIN_MM)
