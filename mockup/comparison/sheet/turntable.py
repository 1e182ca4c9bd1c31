"""A comparison that turns: all pedals on one sheet, each frame at the same angle."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import PurePath

import numpy as np

from mockup.comparison.columns import Column
from mockup.comparison.options import CompareOptions
from mockup.comparison.sheet import grid, pages
from mockup.comparison.sights import PX_PER_MM, SCREEN, across
from mockup.decal import ink_over_paint
from mockup.encode.pixels import pixels
from mockup.model.scene import Quality
from mockup.model.sheet import Mark, Page
from mockup.outputs.turntable import animated, require_turn
from mockup.picture import framing
from mockup.picture.shots import Sight, Take
from mockup.scene.views import VIEWS

_LONGEST_PX, _TOGETHER_PX = 640, 1600  # of one pedal's picture, and of all across: what a post shows, our choice


def turning(
    columns: Sequence[Column], options: CompareOptions, step: Callable[[str], None], take: Take
) -> tuple[bytes, tuple[str, ...]]:
    """Return an animated file in which all pedals turn together, and notes that a user should read once.

    The first of the views is shown, in draft quality, or normal where final is asked for. Only the frames
    of the sheet are held, and one pedal's.
    """
    view = options.view[0]
    angles = [360.0 * number / options.frames for number in range(options.frames)]
    sight = _sight(columns, view, options)
    ratio = sight.width_px / sight.height_px
    wide = sight.width_px / PX_PER_MM
    style = replace(SCREEN, caption_mm=2.9 * SCREEN.text_mm)
    beside = across(len(columns), [ratio])
    shape = grid.Shape(across=beside, pages=1, width_mm=wide)
    margin = SCREEN.margin_mm / 2
    placed = grid.cells(len(columns), [ratio], shape, (margin, margin), style)
    size = (max(c.x_mm + c.width_mm for c in placed) + margin, max(c.y_mm + c.height_mm for c in placed) + margin / 2)
    require_turn(options.frames, options.turn_seconds, (round(size[0] * PX_PER_MM), round(size[1] * PX_PER_MM)))
    ground = pixels(Page(width_mm=size[0], height_mm=size[1], marks=tuple(_captions(columns, placed))), PX_PER_MM)
    frames = np.repeat(ground[None], options.frames, axis=0)
    quality: Quality = "normal" if options.quality == "final" else "draft"
    request = replace(options.rendering(), quality=quality)
    notes: dict[str, None] = {}
    for column, cell in zip(columns, placed, strict=True):
        step(f"turn {column.label}")
        taken = take(column.design, [replace(sight, turn_deg=angle) for angle in angles], request)
        notes.update(dict.fromkeys(taken.notes))
        x, y = round(cell.x_mm * PX_PER_MM), round(cell.y_mm * PX_PER_MM)
        for frame, picture in zip(frames, taken.pictures, strict=True):
            frame[y : y + sight.height_px, x : x + sight.width_px] = ink_over_paint.flatten(picture.pixels)
    suffix = PurePath(options.turntable or "").suffix.lower()
    return animated(frames, suffix, 1000.0 * options.turn_seconds / options.frames), tuple(notes)


def _sight(columns: Sequence[Column], view: str, options: CompareOptions) -> Sight:
    """Return the one picture of each frame: all pedals fit at every angle."""
    turns = framing.whole_turn()
    size = options.size
    points = framing.extents([column.design for column in columns], [view])[view]
    if size is None:
        ratio = framing.aspect(VIEWS[view], points, turns)
        beside = across(len(columns), [ratio])
        wide = min(_LONGEST_PX * min(1.0, ratio), _TOGETHER_PX / beside)
        size = (_even(wide), _even(wide / ratio))
    return framing.sight(view, points, size, turns)


def _even(length: float) -> int:
    return max(16, round(length / 4) * 4)


def _captions(columns: Sequence[Column], placed: Sequence[grid.PictureCell]) -> Iterator[Mark]:
    for column, cell in zip(columns, placed, strict=True):
        y = cell.pictures[0][1] + cell.pictures[0][3]
        yield from pages.name_tag(cell.index, column.label, cell.x_mm, y, cell.width_mm, SCREEN.text_mm)
