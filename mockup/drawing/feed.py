"""Pages for a printer that does not print true to size: stretched so that they come out true."""

from __future__ import annotations

from dataclasses import replace

from mockup.drawing.lettering import lines, wrapped
from mockup.model.printer import Rule
from mockup.model.sheet import Page

_SIZE_MM = 2.6  # of the sentence's face, as small print elsewhere: our choice


def corrected(page: Page, rule: Rule | None, *, x_mm: float, y_mm: float, room_mm: float) -> Page:
    """Return a page stretched for a printer, on paper as large as before, or as it is where there is no rule.

    The sentence that says so begins at (`x_mm`, `y_mm`) and is `room_mm` wide at most.
    """
    if rule is None:
        return page
    across, down = rule.stretch_of(page.width_mm, page.height_mm)
    said = lines(wrapped(rule.words, _SIZE_MM, room_mm), x_mm, y_mm, _SIZE_MM, 1.5 * _SIZE_MM)
    return replace(
        page,
        width_mm=page.width_mm / across,
        height_mm=page.height_mm / down,
        marks=(*page.marks, *said),
        stretch=(across, down),
    )
