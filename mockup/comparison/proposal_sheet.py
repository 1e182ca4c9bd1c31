"""Layouts for a list of controls on one sheet: numbered, each pictured from above and at an angle, with its words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from mockup import api
from mockup.arrange.layouts.proposals import Proposal
from mockup.arrange.told import between_knobs
from mockup.comparison.sheet.grid import Shape, SheetStyle, cells, head
from mockup.drawing.lettering import FAINT, lines, wrapped
from mockup.encode.pixels import pixels
from mockup.encode.png import png
from mockup.layout_proposals import Proposals
from mockup.model.enclosure import Enclosure
from mockup.model.sheet import Image, Mark, Page
from mockup.model.text import capitalized
from mockup.options import Progress, silent

_WIDE_PX, _TALL_PX = 400, (240, 600)
"""How wide pictures are, and between what the height of the view from above lies: enough to choose by."""
_PX_PER_MM = 4.0  # of a sheet in pixels, on which a millimetre is just a unit
_STYLE = SheetStyle(text_mm=5.0, margin_mm=10.0, caption_mm=25.0, gap_mm=8.0, view_gap_mm=2.0, least_mm=1.0)
ROUND_MM = 34.0  # what the picture from above shows beside the box: jacks and their shadows
_HEAD_MM = 37.0  # from the upper edge to the pictures


def proposal_sheet(found: Proposals, progress: Progress = silent) -> bytes:
    """Return a PNG of all layouts, the best first, three side by side where there are more than four."""
    count = len(found.found)
    across = min(3 if count > 4 else count, count)
    views = _views(found.found[0].design.enclosure)
    ratios = [width / height for width, height in views.values()]
    shape = Shape(across=across, pages=1, width_mm=_WIDE_PX / _PX_PER_MM)
    placed = cells(count, ratios, shape, (_STYLE.margin_mm, _HEAD_MM), _STYLE)
    wide = max(cell.x_mm + cell.width_mm for cell in placed) + _STYLE.margin_mm
    tall = max(cell.y_mm + cell.height_mm for cell in placed) + _STYLE.margin_mm
    about = f"{count} layouts, the best first" if count > 1 else "the one layout that was found"
    marks = list(head(f"Box {found.box}", about, "", wide - 2 * _STYLE.margin_mm, _STYLE))
    for index, (each, cell) in enumerate(zip(found.found, placed, strict=True)):
        progress(index, count, "picturing")
        for (view, size), (x, y, width, height) in zip(views.items(), cell.pictures, strict=True):
            picture = api.output("still", each.design, view=(view,), size=size, quality="draft", output="").picture
            shown = np.ascontiguousarray(picture.pixels[..., :3])
            marks.append(Image(x_mm=x, y_mm=y, width_mm=width, height_mm=height, pixels=shown))
        low = cell.y_mm + cell.height_mm - _STYLE.caption_mm
        marks += _caption(index + 1, each, (cell.x_mm, low), cell.width_mm)
    page = Page(width_mm=wide, height_mm=tall, marks=tuple(marks), title=f"Layouts for {found.box}")
    return png(pixels(page, _PX_PER_MM))


def _views(box: Enclosure) -> dict[str, tuple[int, int]]:
    """Return the views on the sheet and the size of each in pixels, from above as tall as the box needs."""
    low, high = _TALL_PX
    tall = round(_WIDE_PX * (box.length_mm + ROUND_MM) / (box.width_mm + ROUND_MM))
    return {"above": (_WIDE_PX, min(max(tall, low), high)), "three-quarter": (_WIDE_PX, 340)}


def _caption(number: int, each: Proposal, at: Sequence[float], wide: float) -> Iterator[Mark]:
    """Yield a layout's number, which is its folder's name too, and what it is like, below its pictures."""
    size, pitch = _STYLE.text_mm, 1.3 * _STYLE.text_mm
    said = wrapped(f"{number}: {capitalized(each.about)}", size, wide)[:2]
    x, y = at
    yield from lines(said, x, y + 1.4 * size, size, pitch, is_bold=True)
    yield from lines(
        [between_knobs(each.fingers_mm)], x, y + 1.4 * size + len(said) * pitch, 0.95 * size, pitch, colour=FAINT
    )
