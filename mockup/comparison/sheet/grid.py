"""Where pictures stand on a page: columns in rows, as large as the page lets them be."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from mockup.drawing.lettering import FAINT, shortened, width_mm
from mockup.model.sheet import Mark, Text

LEAST, MOST = 2, 12
"""How many pedals one sheet compares."""
_NEARLY = 0.7  # of the largest size that is still as good, where the last row is fuller for it: our taste


@dataclass(frozen=True, kw_only=True)
class SheetStyle:
    """Sizes of a sheet in mm: text and margin, and the room round pictures.

    A caption stands under each column, gaps across and down, and between the views of a column. A picture narrower
    than `least_mm` goes to another page instead.
    """

    text_mm: float
    margin_mm: float
    caption_mm: float
    gap_mm: float
    view_gap_mm: float
    least_mm: float

    def column_mm(self, width_mm: float, ratios: Sequence[float]) -> float:
        """Return how high a column is with all its views and its caption."""
        return sum(width_mm / ratio for ratio in ratios) + (len(ratios) - 1) * self.view_gap_mm + self.caption_mm


def head(title: str, about: str, count: str, wide_mm: float, style: SheetStyle) -> Iterator[Mark]:
    """Yield the band over a page: its title, a line about it, and at the right which sheet it is, "" for nothing."""
    margin, text = style.margin_mm, style.text_mm
    room = wide_mm - (width_mm(count, text) + 2 * text if count else 0.0)
    title = shortened(title, 2.0 * text, room)
    yield Text(x_mm=margin, y_mm=margin + 1.9 * text, text=title, size_mm=2.0 * text, is_bold=True)
    about = shortened(about, text, wide_mm)
    yield Text(x_mm=margin, y_mm=margin + 3.9 * text, text=about, size_mm=text, colour=FAINT)
    if count:
        yield Text(x_mm=margin + wide_mm, y_mm=margin + 1.9 * text, text=count, size_mm=text, anchor="end")


@dataclass(frozen=True, kw_only=True)
class PictureCell:
    """One column's place: page, left, top, width, height in mm, and (left, top, width, height) of each picture."""

    index: int
    page: int
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    pictures: tuple[tuple[float, float, float, float], ...]


@dataclass(frozen=True, kw_only=True)
class Shape:
    """How columns are arranged: how many stand side by side, on how many pages, how wide each is (mm)."""

    across: int
    pages: int
    width_mm: float


def fullest(found: Shape, per_page: int) -> tuple[float, ...]:
    """Return what an arrangement costs of which so many columns stand on a page: a last row that is not full."""
    return -per_page % found.across, -found.width_mm


def shape(
    count: int,
    ratios: Sequence[float],
    room_mm: tuple[float, float],
    style: SheetStyle,
    cost: Callable[[Shape, int], tuple[float, ...]] = fullest,
    nearly: float = _NEARLY,
) -> Shape:
    """Return the best arrangement; more pages only where pictures would be too narrow.

    `ratios` are width over height of each view's pictures; `room_mm` is the (width, height) free on a page. Of
    those whose pictures are `nearly` as wide as can be (a share), the one of least `cost` is taken.
    """
    best = Shape(across=1, pages=count, width_mm=0.0)
    for per_page in dict.fromkeys(math.ceil(count / pages) for pages in range(1, count + 1)):
        pages = math.ceil(count / per_page)
        found = [_fitted(per_page, across, pages, ratios, room_mm, style) for across in range(1, per_page + 1)]
        widest = max(each.width_mm for each in found)
        best = min((each for each in found if each.width_mm >= nearly * widest), key=lambda each: cost(each, per_page))
        if best.width_mm >= style.least_mm:
            break
    return best


def _fitted(
    count: int, across: int, pages: int, ratios: Sequence[float], room_mm: tuple[float, float], style: SheetStyle
) -> Shape:
    rows = math.ceil(count / across)
    by_width = (room_mm[0] - (across - 1) * style.gap_mm) / across
    tall = (room_mm[1] - (rows - 1) * style.gap_mm) / rows - style.column_mm(0.0, ratios)
    return Shape(
        across=across, pages=pages, width_mm=max(0.0, min(by_width, tall / sum(1.0 / ratio for ratio in ratios)))
    )


def cells(
    count: int,
    ratios: Sequence[float],
    chosen: Shape,
    origin_mm: tuple[float, float],
    style: SheetStyle,
    apart_mm: float | None = None,
) -> tuple[PictureCell, ...]:
    """Return every column's place, row after row from `origin_mm`, the top-left corner of the free room.

    Columns stand `apart_mm` from one another, as the style has it by default.
    """
    heights = [chosen.width_mm / ratio for ratio in ratios]
    tall = style.column_mm(chosen.width_mm, ratios)
    gap = style.gap_mm if apart_mm is None else apart_mm
    per_page = math.ceil(count / chosen.pages)
    found = []
    for index in range(count):
        page, place = divmod(index, per_page)
        row, column = divmod(place, chosen.across)
        x = origin_mm[0] + column * (chosen.width_mm + gap)
        y = origin_mm[1] + row * (tall + style.gap_mm)
        tops = [y + sum(heights[:number]) + number * style.view_gap_mm for number in range(len(heights))]
        areas = tuple((x, top, chosen.width_mm, height) for top, height in zip(tops, heights, strict=True))
        found.append(
            PictureCell(
                index=index, page=page, x_mm=x, y_mm=y, width_mm=chosen.width_mm, height_mm=tall, pictures=areas
            )
        )
    return tuple(found)
