"""The sheet of a comparison: pictures side by side, captions, what differs, figures; as pages in mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from mockup import __version__
from mockup.checks.report.sentences import listed
from mockup.comparison.differences.change import Change
from mockup.comparison.differences.designs import is_version, summary
from mockup.comparison.differences.items import Item, items, pointed
from mockup.comparison.differences.words import counted
from mockup.comparison.entries import Entry
from mockup.comparison.sheet import tables
from mockup.comparison.sheet.grid import PictureCell, Shape, SheetStyle, cells, head, shape
from mockup.comparison.sheet.marks import colour_of, is_blind, is_open, marks
from mockup.decal import ink_over_paint
from mockup.drawing import flow
from mockup.drawing.lettering import FAINT, disc, lines, shortened, wrapped
from mockup.model.material import Colour
from mockup.model.sheet import Image, Mark, Page, Rectangle, Text, ways
from mockup.model.text import capitalized
from mockup.picture.shots import Sight
from mockup.scene.views import VIEWS

_EDGE: Colour = (0.80, 0.79, 0.76)
_BESIDE = 6  # more columns than this are a wide table: the page lies down
_LIST_SHARES = (0.25, 0.4, 0.35)  # of a list's width: pedal, label, how it reads
_HEAD = 6.2  # height of the band over everything, in text sizes
_SAID = 2  # lines of a caption for what differs
_NAMED = 3  # pedals in the title
_FIRST_SHARE, _FIRST_SIZES = 0.24, 29.0  # of a table's width for what a row is about; at most, in text sizes


@dataclass(frozen=True, kw_only=True, eq=False)
class Compared:
    """Pedals studied and pictured: the first is what the others are compared with.

    `changes` has one tuple for each entry, the first one empty; `sights` are the pictures each has, in order.
    """

    entries: tuple[Entry, ...]
    changes: tuple[tuple[Change, ...], ...]
    sights: tuple[Sight, ...]
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """The names of the pedals, each once; of many, the first ones."""
        names = list(dict.fromkeys(entry.design.name for entry in self.entries))
        if len(names) > _NAMED:
            names = [*names[: _NAMED - 1], f"{len(names) - _NAMED + 1} more"]
        return listed(names)

    def numbered(self, index: int) -> tuple[Item, ...]:
        """Return what differs between a pedal and the first, as numbered lines; none where it is another pedal."""
        return items(self.changes[index]) if self.is_version(index) else ()

    def is_version(self, index: int) -> bool:
        """Return whether a pedal is a version of the first one."""
        return is_version(self.entries[0].design, self.entries[index].design)

    def said(self, index: int) -> str:
        """Return in a few words what differs between a pedal and the first."""
        if index == 0:
            return "what the others are compared with"
        return summary(self.changes[index]) if self.is_version(index) else "another pedal"

    @property
    def ratios(self) -> tuple[float, ...]:
        """Width over height of each view's pictures."""
        return tuple(sight.width_px / sight.height_px for sight in self.sights)


def style(text_mm: float, margin_mm: float) -> SheetStyle:
    """Return the sizes of a sheet with text and margin of a size: our taste."""
    return SheetStyle(
        text_mm=text_mm,
        margin_mm=margin_mm,
        caption_mm=7.0 * text_mm,
        gap_mm=2.4 * text_mm,
        view_gap_mm=0.8 * text_mm,
        least_mm=14 * text_mm,
    )


def pages(shown: Compared, paper_mm: tuple[float, float], style: SheetStyle, *, has_marks: bool = True) -> list[Page]:
    """Return the sheet on paper; upright paper lies whichever way pictures are larger, wider paper as it is."""
    lying = ways(paper_mm)[::-1]
    lying = lying if len(shown.entries) <= _BESIDE else lying[:1]
    found = [(way, shape(len(shown.entries), shown.ratios, _room(way, style), style)) for way in lying]
    way, chosen = min(found, key=lambda each: (each[1].pages, -each[1].width_mm))
    return _laid(shown, way, chosen, style, is_endless=False, has_marks=has_marks)


def one_page(shown: Compared, across: int, width_mm: float, style: SheetStyle, *, has_marks: bool = True) -> Page:
    """Return the sheet on one page as long as it needs to be, `across` pictures `width_mm` wide beside each other."""
    gap = style.gap_mm
    wide = across * width_mm + (across - 1) * gap + 2 * style.margin_mm
    chosen = Shape(across=across, pages=1, width_mm=width_mm)
    return _laid(shown, (max(wide, 70 * style.text_mm), 1e6), chosen, style, is_endless=True, has_marks=has_marks)[0]


def _room(page_mm: tuple[float, float], style: SheetStyle) -> tuple[float, float]:
    foot = 2.2 * style.text_mm
    return page_mm[0] - 2 * style.margin_mm, page_mm[1] - 2 * style.margin_mm - _HEAD * style.text_mm - foot


def _laid(
    shown: Compared,
    page_mm: tuple[float, float],
    chosen: Shape,
    style: SheetStyle,
    *,
    is_endless: bool,
    has_marks: bool,
) -> list[Page]:
    margin, text = style.margin_mm, style.text_mm
    wide = page_mm[0] - 2 * margin
    top = margin + _HEAD * style.text_mm
    numbered = [shown.numbered(index) for index in range(len(shown.entries))]
    placed = cells(len(shown.entries), shown.ratios, chosen, (margin, top), style)
    drawn: list[list[Mark]] = [[] for _ in range(chosen.pages)]
    for cell in placed:
        drawn[cell.page] += _column(shown, cell, numbered[cell.index], style, has_marks=has_marks)
    low = max(cell.y_mm + cell.height_mm for cell in placed if cell.page == chosen.pages - 1)
    floor = page_mm[1] - margin - 2.2 * text
    blocks = [*_blocks(shown, numbered, wide, text, has_marks=has_marks)]
    flowing, end = flow.flowed(blocks, margin, top, low, floor)
    drawn[-1] += flowing[0]
    drawn += flowing[1:]
    tall = end + margin + 2.2 * text if is_endless else page_mm[1]
    finished = []
    for number, marks_ in enumerate(drawn, 1):
        count = f"Sheet {number} of {len(drawn)}" if len(drawn) > 1 else ""
        furniture = (
            *head(shown.title, _about(shown, None if is_endless else chosen), count, wide, style),
            *_foot(shown, (page_mm[0], tall), style),
        )
        finished.append(
            Page(width_mm=page_mm[0], height_mm=tall, marks=(*furniture, *marks_), title=f"{shown.title}: side by side")
        )
    return finished


def _about(shown: Compared, chosen: Shape | None) -> str:
    """Return what is the same everywhere; on paper, of which `chosen` is the arrangement, the scale too."""
    about = f"{len(shown.entries)} side by side: same camera, light, scale and crop"
    scales = [_scale(sight, chosen) for sight in shown.sights if chosen and sight.camera.ortho_mm]
    return ". ".join([about, *scales])


def _scale(sight: Sight, chosen: Shape | None) -> str:
    """Return the scale at which a view that is true to size stands on paper."""
    tall = chosen.width_mm * sight.height_px / sight.width_px if chosen else 1.0
    return f"{VIEWS[sight.view].name.capitalize()} at 1 : {(sight.camera.ortho_mm or tall) / tall:.2f}"


def _foot(shown: Compared, page_mm: tuple[float, float], style: SheetStyle) -> Iterator[Mark]:
    margin, text = style.margin_mm, style.text_mm
    sources = dict.fromkeys(
        entry.design.source + (f" @ {entry.design.variant}" if entry.design.variant else "") for entry in shown.entries
    )
    words = f"mockup {__version__}  ·  {', '.join(sources)}"
    said = shortened(words, 0.85 * text, page_mm[0] - 2 * margin)
    yield Text(x_mm=margin, y_mm=page_mm[1] - margin, text=said, size_mm=0.85 * text, colour=FAINT)


def _column(
    shown: Compared, cell: PictureCell, numbered: Sequence[Item], style: SheetStyle, *, has_marks: bool
) -> Iterator[Mark]:
    entry, text = shown.entries[cell.index], style.text_mm
    for sight, area in zip(shown.sights, cell.pictures, strict=True):
        (x, y, wide, tall), shown_px = area, pixels(entry, sight)
        yield Image(x_mm=x, y_mm=y, width_mm=wide, height_mm=tall, pixels=shown_px)
        if has_marks:
            yield from marks(numbered, entry.design, sight, area, shown_px)
        yield Rectangle(x_mm=x, y_mm=y, width_mm=wide, height_mm=tall, stroke=_EDGE, line_mm=0.06 * text)
    low = cell.y_mm + cell.height_mm - style.caption_mm
    said = shown.said(cell.index)
    if has_marks:
        blind = [sight.view for sight in shown.sights if is_blind(numbered, entry.design, sight)]
        said += f"; {UNMARKED} in {listed(blind)}" if blind else ""
    yield from _caption(shown, cell, low, text, said)


def pixels(entry: Entry, sight: Sight) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    """Return an entry's picture of a view without transparency, (h, w, 3)."""
    return ink_over_paint.flatten(entry.pictures[sight.view].pixels)


def name_tag(index: int, label: str, x: float, y: float, wide: float, text: float) -> Iterator[Mark]:
    """Yield a column's letter in a disc and its caption, under `y`; all in mm, `text` the size of text."""
    radius = 0.95 * text
    yield from disc(x + radius, y + 1.55 * text, radius, tables.letter(index), (0.13, 0.14, 0.17))
    indent = 2 * radius + 0.7 * text
    name = shortened(label, 1.25 * text, wide - indent)
    yield Text(x_mm=x + indent, y_mm=y + 1.98 * text, text=name, size_mm=1.25 * text, is_bold=True)


def _caption(shown: Compared, cell: PictureCell, y: float, text: float, words: str) -> Iterator[Mark]:
    x = cell.x_mm
    yield from name_tag(cell.index, shown.entries[cell.index].label, x, y, cell.width_mm, text)
    size = 0.95 * text
    said = wrapped(words, size, cell.width_mm)
    if len(said) > _SAID:
        said = [said[0], shortened(" ".join(said[1:]), size, cell.width_mm)]
    said.append(shortened(_found(shown, cell.index), size, cell.width_mm))
    yield from lines(said, x, y + 3.65 * text, size, 1.35 * text, colour=FAINT)


def _found(shown: Compared, index: int) -> str:
    """Return how many findings a pedal has, and how many that the first one has not."""
    figures = shown.entries[index].figures
    words = counted(figures.stops, figures.warnings, figures.notes)
    said = listed(words) if words else "nothing found"
    gained = sum(change.topic == "finding" and change.how == "added" for change in shown.changes[index])
    lost = sum(change.topic == "finding" and change.how == "removed" for change in shown.changes[index])
    if (gained or lost) and shown.is_version(index):
        said += f" (+{gained} −{lost})"
    return said


def _blocks(
    shown: Compared, numbered: Sequence[Sequence[Item]], wide: float, text: float, *, has_marks: bool
) -> Iterator[flow.Block]:
    first = named(shown, 0)
    yield flow.heading(f"What differs from {first}", 1.3 * text, wide)
    looks = {is_open(sight) for sight in shown.sights}
    if has_marks and any(pointed(item, is_open=each) for lines in numbered for item in lines for each in looks):
        yield flow.note(legend(shown), 0.95 * text, wide, is_heading=True)
    for line in unlisted(shown):
        yield flow.note(line, text, wide)
    for index in range(1, len(shown.entries)):
        if not numbered[index]:
            continue
        title = named(shown, index)
        yield flow.Block(
            height_mm=2.4 * text,
            marks=(Text(x_mm=0.0, y_mm=1.7 * text, text=title, size_mm=1.05 * text, is_bold=True),),
            is_heading=True,
        )
        for item in numbered[index]:
            yield flow.numbered(item.number, capitalized(item.text), colour_of(item), text, wide)
    yield flow.heading("Figures", 1.3 * text, wide)
    yield from _matrix("", tables.figure_rows(shown.entries), shown, wide, text)
    labels = tables.label_rows(shown.entries)
    if labels:
        yield flow.heading("How each label reads", 1.3 * text, wide)
        yield flow.note(READING, 0.95 * text, wide, is_heading=True)
        if tables.is_shared(labels):
            yield from _matrix("", labels, shown, wide, text)
        else:
            widths = [share * wide for share in _LIST_SHARES]
            rows = [[flow.Cell(text=cell) for cell in row] for row in tables.label_list(shown.entries)]
            yield from flow.table(tables.LIST_HEAD, rows, widths, text)


LEGEND = (
    "In the pictures: ring and arrow, moved (dashed where it was); ring with a plus, added; dashed ring with a cross, "
    "left off; square, changed in its place. Numbers are those of the list."
)
_OPEN = " With the lid off, the lines go round the bodies of parts."
UNMARKED = "nothing to mark"
READING = (
    "Contrast of the lettering against what is round it, at both ends of what the ink model leaves open: it reads, is "
    "in doubt (at one end only) or is lost. Hidden: by knobs and other parts, from above or from a standing player's "
    "eye, whichever hides more. Bold: other than the first."
)


def legend(shown: Compared) -> str:
    """Return what the marks in the pictures mean."""
    return LEGEND + (_OPEN if any(is_open(sight) for sight in shown.sights) else "")


def unlisted(shown: Compared) -> Iterator[str]:
    """Yield a line about the pedals of which no differences are listed: the same as the first, or quite another."""
    rest = [index for index in range(1, len(shown.entries)) if not shown.numbered(index)]
    same = [named(shown, index) for index in rest if shown.is_version(index)]
    others = [named(shown, index) for index in rest if not shown.is_version(index)]
    if same:
        yield f"{'; '.join(same)}: no difference."
    if others:
        own = (
            "another pedal, with art and parts of its own" if len(others) == 1 else "other pedals, with their own parts"
        )
        yield f"{'; '.join(others)}: {own}; the figures below say more."


def named(shown: Compared, index: int) -> str:
    """Return a column's letter and caption."""
    return f"{tables.letter(index)}, {shown.entries[index].label}"


def is_other(shown: Compared, index: int, values: Sequence[str]) -> bool:
    """Return whether a figure is to be seen as another one than the first pedal's; of quite another pedal all are."""
    return values[index] != values[0] and shown.is_version(index)


def _matrix(title: str, rows: Sequence[tables.Row], shown: Compared, wide: float, text: float) -> list[flow.Block]:
    count = len(shown.entries)
    first = min(_FIRST_SIZES * text, _FIRST_SHARE * wide)
    widths = [first] + [(wide - first) / count] * count
    head = [title, *(f"{tables.letter(index)} {entry.label}" for index, entry in enumerate(shown.entries))]
    body = [
        [
            flow.Cell(text=name),
            *(flow.Cell(text=value, is_bold=is_other(shown, index, values)) for index, value in enumerate(values)),
        ]
        for name, values in rows
    ]
    return flow.table(head, body, widths, text if count <= _BESIDE else 0.9 * text)
