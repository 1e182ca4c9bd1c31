"""A prediction with its doubt: the same proof for more and less light turned back under the lacquer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from mockup.decal import ink
from mockup.encode.svg import pixels as drawn
from mockup.model.design import Design
from mockup.model.picture import Picture
from mockup.model.sheet import Page, Text
from mockup.model.units import MM_PER_INCH

DOUBTFUL_K = (0.0, 0.6)  # plain product, and the upper end of what is usual (Saunderson correction)
_GREY = 245  # 8-bit code of the ground round the panels: our choice
_DPI = MM_PER_INCH  # so that a millimetre of the caption's page is a pixel


def versions(design: Design) -> tuple[tuple[str, Design], ...]:
    """Return (caption, design) from the least k to the most; the prediction itself stands among them."""
    own = design.finish.internal_reflection
    found = []
    for k in sorted({*DOUBTFUL_K, own}):
        what = "predicted" if k == own else "darkest" if k < own else "lightest"
        found.append((f"{what}, k = {k:.2g}", replace(design, finish=replace(design.finish, internal_reflection=k))))
    return tuple(found)


def side_by_side(panels: Sequence[tuple[str, Picture]]) -> Picture:
    """Return pictures of one size in a row, each with its caption beneath, all at the scale they had.

    The facts are those of the panel that is the prediction, and say what the panels are.
    """
    height, width = panels[0][1].pixels.shape[:2]
    gap, band = max(2, width // 40), max(24, height // 14)
    rows, columns = height + 2 * gap + band, len(panels) * (width + gap) + gap
    sheet = np.full((rows, columns, 3), _GREY, np.uint8)
    size = min(band * 0.62, width / 13)
    for place, (caption, picture) in enumerate(panels):
        left = gap + place * (width + gap)
        sheet[gap : gap + height, left : left + width] = ink.flatten(picture.pixels)
        text = Text(x_mm=width / 2, y_mm=band * 0.72, text=caption, size_mm=size, anchor="middle")
        page = Page(width_mm=width, height_mm=band, marks=(text,))
        label = drawn(page, _DPI)
        is_darker = np.minimum(label, _GREY)
        sheet[gap + height + gap // 2 :][:band, left : left + width] = is_darker[:, :width]
    predicted = next(picture for caption, picture in panels if caption.startswith("predicted"))
    said = "from left to right: " + "; ".join(caption for caption, _ in panels)
    return Picture(pixels=sheet, dpi=predicted.dpi, facts=predicted.facts | {"Doubt": said})
