"""Lines of text and tables that flow down a page and on to the next, heads repeated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mockup.drawing.lettering import FAINT, disc, lines, wrapped
from mockup.model.material import Colour
from mockup.model.sheet import INK, Line, Mark, Text, moved

RULE: Colour = (0.78, 0.77, 0.74)
_LEADING = 1.36  # line height in sizes of the face: our taste
_PAD = 0.45  # above and below a row's text, in sizes of the face


@dataclass(frozen=True, kw_only=True)
class Block:
    """What stays in one piece: its height and its marks from its own top-left corner.

    `head` is what is drawn over it again where it comes first on a page; `is_heading` that it never
    comes last.
    """

    height_mm: float
    marks: tuple[Mark, ...]
    head: tuple[Block, ...] = ()
    is_heading: bool = False


@dataclass(frozen=True, kw_only=True)
class Cell:
    """Text of one cell of a table; bold where it is to be seen."""

    text: str
    is_bold: bool = False


def heading(text: str, size_mm: float, wide_mm: float) -> Block:
    """Return a heading with a rule over it."""
    rule = Line(x1_mm=0.0, y1_mm=2.2 * size_mm, x2_mm=wide_mm, y2_mm=2.2 * size_mm, line_mm=0.12 * size_mm)
    words = Text(x_mm=0.0, y_mm=3.6 * size_mm, text=text, size_mm=size_mm, is_bold=True)
    return Block(height_mm=4.3 * size_mm, marks=(rule, words), is_heading=True)


def note(text: str, size_mm: float, wide_mm: float, *, is_heading: bool = False) -> Block:
    """Return a paragraph; one that belongs to what follows never comes last."""
    pitch, said = size_mm * _LEADING, wrapped(text, size_mm, wide_mm)
    marks = tuple(lines(said, 0.0, pitch, size_mm, pitch, colour=FAINT))
    return Block(height_mm=(len(said) + 0.6) * pitch, marks=marks, is_heading=is_heading)


def table(
    head: Sequence[str], rows: Sequence[Sequence[Cell]], widths_mm: Sequence[float], size_mm: float
) -> list[Block]:
    """Return a table: one block per row, its head repeated on every page it reaches."""
    top = row([Cell(text=text, is_bold=True) for text in head], widths_mm, size_mm, is_head=True)
    body = [row(cells, widths_mm, size_mm, head=(top,)) for cells in rows]
    return [Block(height_mm=top.height_mm, marks=top.marks, is_heading=True), *body]


def row(
    cells: Sequence[Cell],
    widths_mm: Sequence[float],
    size_mm: float,
    *,
    head: tuple[Block, ...] = (),
    is_head: bool = False,
) -> Block:
    """Return one row with a line under it."""
    marks: list[Mark] = []
    x, count, base = 0.0, 1, (_PAD + 0.95) * size_mm
    colour = FAINT if is_head else INK
    for cell, wide in zip(cells, widths_mm, strict=True):
        said = wrapped(cell.text, size_mm, wide - 0.8 * size_mm)
        count = max(count, len(said))
        marks += lines(said, x, base, size_mm, size_mm * _LEADING, is_bold=cell.is_bold, colour=colour)
        x += wide
    tall = (count * _LEADING + 2 * _PAD) * size_mm
    ink, thick = (INK, 0.09) if is_head else (RULE, 0.05)
    marks.append(Line(x1_mm=0.0, y1_mm=tall, x2_mm=x, y2_mm=tall, line_mm=thick * size_mm, colour=ink))
    return Block(height_mm=tall, marks=tuple(marks), head=head)


def numbered(number: int, text: str, colour: Colour, size_mm: float, wide_mm: float) -> Block:
    """Return a line of a list behind its number in a disc, as it stands in the pictures."""
    indent, radius = 2.6 * size_mm, 0.85 * size_mm
    said = wrapped(text, size_mm, wide_mm - indent)
    marks = (
        *disc(radius, (_PAD + 0.6) * size_mm, radius, str(number), colour),
        *lines(said, indent, (_PAD + 0.95) * size_mm, size_mm, size_mm * _LEADING),
    )
    return Block(height_mm=(len(said) * _LEADING + 1.2 * _PAD) * size_mm, marks=marks)


def flowed(
    blocks: Sequence[Block], x_mm: float, top_mm: float, first_mm: float, low_mm: float
) -> tuple[list[list[Mark]], float]:
    """Return the marks of as many pages as the blocks need, and how far down the last one goes.

    The first page is free from `first_mm` down, later ones from `top_mm`, all to `low_mm`. A heading goes
    to the next page with what follows it.
    """
    pages: list[list[Mark]] = [[]]
    y = first_mm
    for index, block in enumerate(blocks):
        need = block.height_mm
        following = index
        while blocks[following].is_heading and following + 1 < len(blocks):
            following += 1
            need += blocks[following].height_mm
        is_full = y + need > low_mm
        if is_full and (pages[-1] or y > top_mm):
            pages.append([])
            y = top_mm
            for head in block.head:
                pages[-1] += [moved(mark, x_mm, y) for mark in head.marks]
                y += head.height_mm
        pages[-1] += [moved(mark, x_mm, y) for mark in block.marks]
        y += block.height_mm
    return pages, y
