"""The contact sheet of a sweep: small pictures in rows, the best first, each with its figure and a word.

Pages are made one at a time, each with its own pictures only, so that a thousand need no more memory than
sixty.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup import __version__
from mockup.colour import rgb
from mockup.comparison.sheet import grid
from mockup.comparison.sheet.grid import PictureCell, Shape, SheetStyle
from mockup.comparison.sweep.options import By
from mockup.comparison.sweep.ranking import Candidate, Verdict, figure, said
from mockup.drawing.lettering import FAINT, WHITE, lines, shortened, width_mm, wrapped
from mockup.layout.fields import is_picture_name
from mockup.model.material import Colour
from mockup.model.sheet import Circle, Image, Mark, Page, Path, Rectangle, Text, ways
from mockup.model.text import capitalized

ON_SCREEN = 60  # pictures in one file; more go to another, which a screen still shows whole: our taste
_SHAPE = 1.3  # width over height that a sheet on the screen comes near to: our taste
_HARDLY = 0.85  # of its width: a picture that is that much narrower looks as large, our taste
_LINES = 3  # under each picture: caption, figure, word
_ANSWER_LINES = 4
SORTED: dict[By, str] = {
    "given": "in the order given",
    "contrast": "highest contrast of the worst label first",
    "findings": "fewest findings first",
    "ink": "least ink first",
}
_TONES: dict[Verdict, Colour] = {
    "all read": (0.09, 0.42, 0.25),
    "in doubt": (0.58, 0.32, 0.0),
    "not all": (0.73, 0.13, 0.10),
    "no lettering": FAINT,
}
_EDGE: Colour = (0.80, 0.79, 0.76)
_EMPTY: Colour = (0.94, 0.93, 0.90)

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, kw_only=True)
class ContactSheet:
    """What a contact sheet shows: candidates with the best first, `ratios` the width over height of each view.

    `shown` gives a candidate's pictures (h, w, 3), one for each view, none where it has none. `what` says what varies;
    `total` how many there are with those that are not shown, 0 where all are.
    """

    title: str
    what: str
    answer: str
    by: By
    ratios: tuple[float, ...]
    candidates: tuple[Candidate, ...]
    shown: Callable[[Candidate], tuple[Pixels, ...]]
    total: int = 0

    @property
    def about(self) -> str:
        """What is shown and in which order, in words."""
        count = len(self.candidates)
        first = f"the best {count} of {self.total}" if self.total > count else str(count)
        return f"{first} {self.what}, {SORTED[self.by]}"


def _style(text_mm: float, margin_mm: float, least_mm: float) -> SheetStyle:
    return SheetStyle(
        text_mm=text_mm,
        margin_mm=margin_mm,
        caption_mm=(1.0 + 1.4 * _LINES) * text_mm,
        gap_mm=1.6 * text_mm,
        view_gap_mm=0.5 * text_mm,
        least_mm=least_mm,
    )


def on_screen(contact: ContactSheet, width_mm: float, text_mm: float) -> Iterator[Page]:
    """Yield pages for a screen, pictures `width_mm` wide, as many pages as there are sixties of pictures."""
    style = _style(text_mm=text_mm, margin_mm=2.6 * text_mm, least_mm=0.0)
    count = len(contact.candidates)
    pages = math.ceil(count / ON_SCREEN)
    per_page = math.ceil(count / pages)
    tall = style.column_mm(width_mm, contact.ratios) + style.gap_mm
    across = _across(per_page, width_mm + style.gap_mm, tall)
    yield from _pages(contact, None, Shape(across=across, pages=pages, width_mm=width_mm), style)


def on_paper(contact: ContactSheet, paper_mm: tuple[float, float]) -> Iterator[Page]:
    """Yield pages for paper; upright paper lies whichever way takes fewer, wider paper as it is."""
    style = _style(text_mm=2.5, margin_mm=10.0, least_mm=38.0)
    found = []
    for way in ways(paper_mm)[::-1]:
        room = way[0] - 2 * style.margin_mm, way[1] - 2 * style.margin_mm - _head_mm(contact, way[0], style)
        found.append((way, grid.shape(len(contact.candidates), contact.ratios, room, style, _widest, _HARDLY)))
    way, chosen = min(found, key=lambda each: (each[1].pages, -each[1].width_mm))
    yield from _pages(contact, way, chosen, style)


def _widest(found: Shape, _per_page: int) -> tuple[float, ...]:
    """Return what an arrangement costs: how much of a page's width it leaves empty."""
    return (-found.across,)


def _across(count: int, wide: float, tall: float) -> int:
    """Return how many columns come nearest to a screen's shape, those with a full last row before others."""

    def miss(across: int) -> float:
        rows = math.ceil(count / across)
        return abs(math.log(across * wide / (rows * tall) / _SHAPE)) + (rows * across - count) / across

    return min(range(1, count + 1), key=miss)


def _head_mm(contact: ContactSheet, page_mm: float, style: SheetStyle) -> float:
    lines = len(_answer(contact, page_mm - 2 * style.margin_mm, style))
    return (5.6 + 1.4 * lines + 1.4) * style.text_mm


def _answer(contact: ContactSheet, room_mm: float, style: SheetStyle) -> list[str]:
    lines = wrapped(contact.answer, 1.1 * style.text_mm, room_mm)
    if len(lines) > _ANSWER_LINES:
        lines = [*lines[: _ANSWER_LINES - 1], shortened(" ".join(lines[_ANSWER_LINES - 1 :]), style.text_mm, room_mm)]
    return lines


def _pages(
    contact: ContactSheet, page_mm: tuple[float, float] | None, chosen: Shape, style: SheetStyle
) -> Iterator[Page]:
    """Yield the pages of an arrangement; without a page's size each is as large as it needs to be."""
    gap, margin = style.gap_mm, style.margin_mm
    wide = chosen.across * chosen.width_mm + (chosen.across - 1) * gap
    width = page_mm[0] if page_mm is not None else max(wide, 60 * style.text_mm) + 2 * margin
    top = margin + _head_mm(contact, width, style)
    spread = (width - 2 * margin - wide) / max(1, chosen.across - 1) if page_mm is not None else 0.0
    placed = grid.cells(len(contact.candidates), contact.ratios, chosen, (margin, top), style, gap + spread)
    for number in range(chosen.pages):
        here = [cell for cell in placed if cell.page == number]
        low = max(cell.y_mm + cell.height_mm for cell in here)
        height = page_mm[1] if page_mm is not None else low + 3.4 * style.text_mm
        marks: list[Mark] = [*_head(contact, width - 2 * margin, style, number, chosen.pages)]
        for cell in here:
            marks += _tile(contact, contact.candidates[cell.index], cell, style)
        foot = f"Made with mockup {__version__}. A prediction: try paint, film and ink on a scrap before you decide."
        room = width - 2 * margin
        marks.append(
            _words(margin, height - margin * 0.55, shortened(foot, 0.8 * style.text_mm, room), 0.8 * style.text_mm)
        )
        yield Page(width_mm=width, height_mm=height, marks=tuple(marks), title=f"{contact.title}: {contact.what}")


def _head(contact: ContactSheet, wide: float, style: SheetStyle, number: int, pages: int) -> Iterator[Mark]:
    text, margin = style.text_mm, style.margin_mm
    count = f"Sheet {number + 1} of {pages}" if pages > 1 else ""
    about = f"{capitalized(contact.about)}; same camera, light and scale"
    yield from grid.head(contact.title, about, count, wide, style)
    answer = _answer(contact, wide, style)
    yield from lines(answer, margin, margin + 5.6 * text, 1.1 * text, 1.4 * text, is_bold=True)


def _tile(contact: ContactSheet, candidate: Candidate, cell: PictureCell, style: SheetStyle) -> Iterator[Mark]:
    """Yield a candidate's pictures with its caption, its figure, and the word whether every label reads."""
    text = style.text_mm
    pictures = contact.shown(candidate)
    for picture, (x, y, wide, tall) in zip(pictures, cell.pictures, strict=False):
        yield Image(x_mm=x, y_mm=y, width_mm=wide, height_mm=tall, pixels=picture)
    for x, y, wide, tall in cell.pictures:
        fill = None if pictures else _EMPTY
        yield Rectangle(x_mm=x, y_mm=y, width_mm=wide, height_mm=tall, fill=fill, stroke=_EDGE, line_mm=0.06 * text)
    x, wide = cell.x_mm, cell.width_mm
    if not pictures:
        for index, line in enumerate(wrapped(candidate.failure or "no picture", text, wide - 2 * text)[:6]):
            yield _words(x + text, cell.y_mm + (2.0 + 1.4 * index) * text, line, text)
    below, at = cell.y_mm + cell.height_mm - style.caption_mm, x
    chip = _chip(candidate)
    if chip is not None:
        yield Rectangle(
            x_mm=x, y_mm=below + 0.75 * text, width_mm=1.5 * text, height_mm=text, fill=chip, stroke=FAINT,
            line_mm=0.05 * text,
        )  # fmt: skip
        at += 2.1 * text
    caption = shortened(candidate.caption, 1.1 * text, x + wide - at)
    yield Text(x_mm=at, y_mm=below + 1.65 * text, text=caption, size_mm=1.1 * text, is_bold=True)
    words = figure(candidate, contact.by)
    words = words if width_mm(words, text) <= wide else figure(candidate, contact.by, detail="short")
    yield _words(x, below + 3.05 * text, shortened(words, text, wide), text)
    yield from _verdict(candidate, x, below + 4.45 * text, wide, text)


def _chip(candidate: Candidate) -> Colour | None:
    """Return the paint that a candidate is in, if that is what varies."""
    paint = next((each.value for each in candidate.assignments if each.key.strip() == "finish.paint"), None)
    plain = paint.strip("\"'") if paint is not None else None
    return rgb.parse(plain) if plain is not None and not is_picture_name(plain) else None


def _verdict(candidate: Candidate, x: float, y: float, wide: float, text: float) -> Iterator[Mark]:
    """Yield the word whether every label reads, behind a sign of its own shape."""
    tone, verdict = _TONES[candidate.verdict], candidate.verdict
    middle, radius = y - 0.36 * text, 0.55 * text
    at = x
    if verdict != "no lettering":
        at += 1.7 * text
        yield from _sign(verdict, x + radius, middle, radius, tone)
    full, counted = said(candidate), said(candidate, is_counted=True)
    words = full if width_mm(full, text) <= x + wide - at else counted
    yield Text(x_mm=at, y_mm=y, text=shortened(words, text, x + wide - at), size_mm=text, is_bold=True, colour=tone)


def _sign(verdict: Verdict, x: float, y: float, r: float, tone: Colour) -> Iterator[Mark]:
    """Yield a disc with a tick, a triangle with a stroke, or a square with a cross."""
    if verdict == "all read":
        yield Circle(x_mm=x, y_mm=y, radius_mm=r, fill=tone)
        points = ((x - 0.45 * r, y + 0.05 * r), (x - 0.1 * r, y + 0.4 * r), (x + 0.5 * r, y - 0.4 * r))
        yield Path(points=points, is_closed=False, stroke=WHITE, line_mm=0.28 * r)
        return
    if verdict == "in doubt":
        corners = ((x, y - 1.05 * r), (x + 1.1 * r, y + 0.9 * r), (x - 1.1 * r, y + 0.9 * r))
        yield Path(points=corners, fill=tone)
        yield Path(points=((x, y - 0.35 * r), (x, y + 0.25 * r)), is_closed=False, stroke=WHITE, line_mm=0.28 * r)
        yield Circle(x_mm=x, y_mm=y + 0.58 * r, radius_mm=0.16 * r, fill=WHITE)
        return
    yield Rectangle(x_mm=x - 0.95 * r, y_mm=y - 0.95 * r, width_mm=1.9 * r, height_mm=1.9 * r, fill=tone)
    for lean in (1.0, -1.0):
        stroke = ((x - 0.45 * r, y - 0.45 * r * lean), (x + 0.45 * r, y + 0.45 * r * lean))
        yield Path(points=stroke, is_closed=False, stroke=WHITE, line_mm=0.28 * r)


def _words(x: float, y: float, text: str, size: float) -> Text:
    return Text(x_mm=x, y_mm=y, text=text, size_mm=size, colour=FAINT)
