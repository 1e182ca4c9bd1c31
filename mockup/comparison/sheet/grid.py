"""Where pictures stand on a page: columns in rows, as large as the page lets them be."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

LEAST, MOST = 2, 12
"""How many pedals one sheet compares."""
_NEARLY = 0.7  # of the largest size that is still as good, where the last row is fuller for it: our taste


@dataclass(frozen=True, kw_only=True)
class Spacing:
    """Room round pictures in mm: a caption under each column, gaps across and down, and between views."""

    caption_mm: float
    gap_mm: float
    view_gap_mm: float
    least_mm: float
    """A picture narrower than this goes to another page instead."""


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


def shape(count: int, ratios: Sequence[float], room_mm: tuple[float, float], spacing: Spacing) -> Shape:
    """Return the arrangement with the largest pictures; more pages only where they would be too narrow.

    `ratios` are width over height of each view's pictures; `room_mm` is the (width, height) free on a page.
    """
    best = Shape(across=1, pages=count, width_mm=0.0)
    for pages in range(1, count + 1):
        per_page = math.ceil(count / pages)
        if math.ceil(count / per_page) != pages:
            continue  # fewer pages hold as many
        found = [_fitted(per_page, across, pages, ratios, room_mm, spacing) for across in range(1, per_page + 1)]
        widest = max(each.width_mm for each in found)
        good = [each for each in found if each.width_mm >= _NEARLY * widest]
        best = min(good, key=lambda each: (-per_page % each.across, -each.width_mm))
        if best.width_mm >= spacing.least_mm:
            break
    return best


def _fitted(
    count: int, across: int, pages: int, ratios: Sequence[float], room_mm: tuple[float, float], spacing: Spacing
) -> Shape:
    rows = math.ceil(count / across)
    by_width = (room_mm[0] - (across - 1) * spacing.gap_mm) / across
    tall = (room_mm[1] - (rows - 1) * spacing.gap_mm) / rows - spacing.caption_mm
    by_height = (tall - (len(ratios) - 1) * spacing.view_gap_mm) / sum(1.0 / ratio for ratio in ratios)
    return Shape(across=across, pages=pages, width_mm=max(0.0, min(by_width, by_height)))


def cells(
    count: int, ratios: Sequence[float], chosen: Shape, origin_mm: tuple[float, float], spacing: Spacing
) -> tuple[PictureCell, ...]:
    """Return every column's place, row after row from `origin_mm`, the top-left corner of the free room."""
    heights = [chosen.width_mm / ratio for ratio in ratios]
    tall = sum(heights) + (len(ratios) - 1) * spacing.view_gap_mm + spacing.caption_mm
    per_page = math.ceil(count / chosen.pages)
    found = []
    for index in range(count):
        page, place = divmod(index, per_page)
        row, column = divmod(place, chosen.across)
        x = origin_mm[0] + column * (chosen.width_mm + spacing.gap_mm)
        y = origin_mm[1] + row * (tall + spacing.gap_mm)
        tops = [y + sum(heights[:number]) + number * spacing.view_gap_mm for number in range(len(heights))]
        areas = tuple((x, top, chosen.width_mm, height) for top, height in zip(tops, heights, strict=True))
        found.append(
            PictureCell(
                index=index, page=page, x_mm=x, y_mm=y, width_mm=chosen.width_mm, height_mm=tall, pictures=areas
            )
        )
    return tuple(found)
