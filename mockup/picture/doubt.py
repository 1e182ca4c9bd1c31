"""A prediction with its doubt: the same proof as dark, as likely and as light as it may come out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from mockup.decal import ink_over_paint
from mockup.drawing.lettering import width_mm
from mockup.encode.pixels import pixels
from mockup.model.design import Design
from mockup.model.material import Colour
from mockup.model.picture import Picture
from mockup.model.sheet import Image, Mark, Page, Rectangle, Text

_ENDS = {"darkest": -1.0, "likely": 0.0, "lightest": 1.0}
_INK = (0.15, 0.15, 0.15)  # of captions: our choice
_GREY = (0.96, 0.96, 0.96)  # of the ground round the panels: our choice


def versions(design: Design) -> tuple[tuple[str, Design], ...]:
    """Return (caption, design) from the darkest to the lightest; the prediction stands among them."""
    return tuple((name, replace(design, finish=replace(design.finish, end=end))) for name, end in _ENDS.items())


def side_by_side(panels: Sequence[tuple[str, Picture]], key: Sequence[tuple[str, Colour]] = ()) -> Picture:
    """Return pictures of one size in a row, each with its caption beneath, all at the scale they had.

    A `key` says beneath them what colours mean.

    The facts are those of the panel that is the prediction, else of the first, and say what the panels are.
    """
    height, width = panels[0][1].pixels.shape[:2]
    gap, band = max(2, width // 40), max(24, height // 14)
    rows, columns = height + 2 * gap + band, len(panels) * (width + gap) + gap
    size, base = min(band * 0.62, width / 13), gap + height + gap // 2 + band * 0.72
    marks: list[Mark] = []
    for place, (caption, picture) in enumerate(panels):
        left, shown = gap + place * (width + gap), ink_over_paint.flatten(picture.pixels)
        marks += [
            Image(x_mm=left, y_mm=gap, width_mm=width, height_mm=height, pixels=shown),
            Text(x_mm=left + width / 2, y_mm=base, text=caption, size_mm=size, anchor="middle", colour=_INK),
        ]
    side, left = band * 0.5, float(gap)
    for words, colour in key:
        marks.append(Rectangle(x_mm=left, y_mm=rows + side * 0.4, width_mm=side, height_mm=side, fill=colour))
        marks.append(Text(x_mm=left + 1.4 * side, y_mm=rows + side * 1.2, text=words, size_mm=size, colour=_INK))
        left += 2.6 * side + width_mm(words, size)
    rows += band if key else 0
    sheet = pixels(Page(width_mm=columns, height_mm=rows, marks=tuple(marks)), 1.0, _GREY)
    predicted = next((picture for caption, picture in panels if caption.startswith("likely")), panels[0][1])
    said = "from left to right: " + "; ".join(caption for caption, _ in panels)
    return Picture(pixels=sheet, dpi=predicted.dpi, facts=predicted.facts | {"Doubt": said})
