"""Pages for a printer that does not print true to size: stretched so that they come out true."""

from __future__ import annotations

from collections.abc import Sequence
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


def usable(paper_mm: tuple[float, float], rule: Rule | None) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the size (mm) that drawings may use of a paper, and the stretch that makes them come out true on it."""
    across, down = rule.stretch if rule is not None else (1.0, 1.0)
    stretch = (across, down) if paper_mm[0] <= paper_mm[1] else (down, across)  # paper that lies across is fed turned
    return (paper_mm[0] / stretch[0], paper_mm[1] / stretch[1]), stretch


def stretched(pages: Sequence[Page], paper_mm: tuple[float, float], rule: Rule | None) -> list[Page]:
    """Return pages that were laid out on a paper's `usable` size, stretched so that they come out true."""
    size, stretch = usable(paper_mm, rule)
    return [
        replace(page, stretch=stretch if (page.width_mm, page.height_mm) == size else stretch[::-1]) for page in pages
    ]
