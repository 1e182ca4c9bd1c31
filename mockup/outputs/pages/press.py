"""Decals laid out on pages for the printer: nested, with cut marks, register crosses and a slug."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mockup.drawing.lettering import lines, wrapped
from mockup.encode.pixels import pixels
from mockup.geometry.nesting import Slot, fits, nested
from mockup.model.finish import INKJET
from mockup.model.material import Colour
from mockup.model.sheet import Circle, Image, Layer, Line, Mark, Page, Path, Text
from mockup.model.units import px_per_mm

Floats = NDArray[np.float64]
Pixels = NDArray[np.uint8]


@dataclass(frozen=True, kw_only=True)
class Margins:
    """What is left free round the decals, for the marks and because printers do not print there.

    `cross_mm` is from the page's edges to the middle of a register cross, `slug_mm` from the decals' room down to the
    slug.
    """

    side_mm: float
    top_mm: float
    bottom_mm: float
    cross_mm: float
    slug_mm: float


WIDE = Margins(side_mm=12.0, top_mm=13.0, bottom_mm=19.0, cross_mm=7.0, slug_mm=7.0)  # common practice, no source
NARROW = Margins(side_mm=7.0, top_mm=7.5, bottom_mm=14.0, cross_mm=4.0, slug_mm=4.0)  # what they do print: the same
LEAST_GAP_MM = 3.0  # for two decals' cut marks
_CUT_MM = (0.25, 0.92)  # where a cut mark starts and ends, as shares of half the gap
_CROSS_MM = (2.6, 1.4)  # register cross: its arm, its circle's radius
_CENTRE_MM = 1.5  # arm of a hole's centre mark
_FINE_MM = 0.1
_CUT_GREY: Colour = (0.55, 0.55, 0.55)  # seen on film, and hardly where a knife strays to its inner side: our choice
_RULE_MM = 50.0
_RULE_FREE_MM = 36.0  # for the crosses and the rule's own words
_SLUG_MM, _LEAST_SLUG_MM = 2.2, 1.3  # size of the slug's face; smaller where a small page has much to say: our choice
_SLUG_ROWS, _SLUG_LOW_MM = 3, 3.0  # its lines, and what stays free below them
_WHITE: Colour = (1.0, 1.0, 1.0)
WhiteAs = Literal["page", "separation", "both", "none"]
SEPARATION = "White"  # what most services call it; ours to choose: the name is theirs to read
_WHITE_FIRST = "black here is printed in white, before the colours."


@dataclass(frozen=True, kw_only=True, eq=False)
class DecalPiece:
    """One decal as ink: `pixels` (h, w, 3), printed `width_mm` by `height_mm`; hole centres in mm from its corner.

    `cuts` are the outlines (n, 2) of its film, mm from its corner; none where it is cut all round by the sheet's trim.
    `white` (h, w) is how much white goes under each pixel, 0 to 255, None for none. `film` and `process` are names:
    pieces that differ in them cannot share a page.
    """

    name: str
    film: str
    pixels: Pixels
    width_mm: float
    height_mm: float
    process: str = INKJET.name
    white: Pixels | None = None
    cuts: tuple[Floats, ...] = ()
    centres: tuple[tuple[float, float], ...] = ()

    def mirrored(self) -> DecalPiece:
        """Return it left to right."""
        centres = tuple((self.width_mm - x, y) for x, y in self.centres)
        white = np.ascontiguousarray(self.white[:, ::-1]) if self.white is not None else None
        return replace(
            self,
            pixels=np.ascontiguousarray(self.pixels[:, ::-1]),
            white=white,
            centres=centres,
            cuts=tuple((self.width_mm, 0.0) + each * (-1.0, 1.0) for each in self.cuts),
        )

    def turned(self) -> DecalPiece:
        """Return it turned clockwise by a quarter; no pixel is resampled."""
        return replace(
            self,
            pixels=np.ascontiguousarray(np.rot90(self.pixels, -1)),
            white=np.ascontiguousarray(np.rot90(self.white, -1)) if self.white is not None else None,
            width_mm=self.height_mm,
            height_mm=self.width_mm,
            centres=tuple((self.height_mm - y, x) for x, y in self.centres),
            cuts=tuple((self.height_mm, 0.0) + each[:, ::-1] * (-1.0, 1.0) for each in self.cuts),
        )


@dataclass(frozen=True, kw_only=True)
class Setting:
    """How pages are set: sizes in mm, the pixel grid that decals snap to, and what corrects the printer's stretch."""

    width_mm: float
    height_mm: float
    dpi: float
    gap_mm: float
    trim_mm: float
    stretch: tuple[float, float] = (1.0, 1.0)
    margins: Margins = WIDE

    @property
    def per_mm(self) -> float:
        """Cells of the grid per millimetre."""
        return px_per_mm(self.dpi)

    @property
    def free_mm(self) -> tuple[float, float]:
        """What the page has for decals, across and down."""
        margins = self.margins
        return self.width_mm - 2 * margins.side_mm, self.height_mm - margins.top_mm - margins.bottom_mm

    @property
    def room(self) -> tuple[int, int]:
        """Cells that decals may use, across and down, counted as they come out of the printer."""
        free = self.free_mm
        across, down = free[0] / self.stretch[0], free[1] / self.stretch[1]
        return max(0, math.floor(across * self.per_mm) - 1), max(0, math.floor(down * self.per_mm) - 1)

    @property
    def gap(self) -> int:
        """Cells between two decals' cutting lines."""
        return math.ceil(self.gap_mm * self.per_mm)

    def trim(self, piece: DecalPiece) -> int:
        """Return the cells of clear film round a decal: none where it says itself how it is cut."""
        return 0 if piece.cuts else math.ceil(self.trim_mm * self.per_mm)

    def size(self, piece: DecalPiece) -> tuple[int, int]:
        """Return the cells that a decal takes with its trim; a hundredth of one is rounding."""
        across, down = (math.ceil(side * self.per_mm - 0.01) for side in (piece.width_mm, piece.height_mm))
        return across + 2 * self.trim(piece), down + 2 * self.trim(piece)

    def takes(self, piece: DecalPiece, trim_mm: float | None = None) -> bool:
        """Return whether a decal fits on an empty page, with another trim if one is given."""
        setting = self if trim_mm is None else replace(self, trim_mm=trim_mm)
        return fits(setting.size(piece), *setting.room)

    def on_page(self, x: float, y: float) -> tuple[float, float]:
        """Return where on the page, in mm, a place of the room lies that is given in cells."""
        left, top = (
            math.ceil(side * self.per_mm) / self.per_mm for side in (self.margins.side_mm, self.margins.top_mm)
        )
        return left + self.stretch[0] * x / self.per_mm, top + self.stretch[1] * y / self.per_mm


@dataclass(frozen=True, kw_only=True, eq=False)
class Spread:
    """One page, how it is set, and those of its marks that are hole centres over the decals and cutting lines."""

    page: Page
    setting: Setting
    centres: tuple[Line, ...]
    cuts: tuple[Path, ...] = ()

    def cutting(self) -> tuple[Layer, ...]:
        """Return the page's cutting lines and register crosses for a cutter, in layers of their own."""
        crosses = tuple(_crosses(self.page.width_mm, self.page.height_mm, self.setting.margins.cross_mm))
        return (
            Layer(name="film", about="cut the film here", colour="black", marks=self.cuts),
            Layer(name="register", about="the crosses on the sheet; not to cut", colour="blue", marks=crosses),
        )

    def pixels(self) -> Pixels:
        """Return the page drawn at its dpi, (h, w, 3); a decal as fine as that keeps its own pixels."""
        others = tuple(mark for mark in self.page.marks if mark not in self.centres)
        canvas = pixels(replace(self.page, marks=others), self.setting.per_mm)
        for mark in self.centres:  # as wide as they are to the nearest pixel, with crisp edges
            _stamp(canvas, mark, self.setting.per_mm)
        return canvas


def spreads(
    pieces: Sequence[DecalPiece],
    setting: Setting,
    *,
    title: str,
    said: Sequence[str],
    has_centres: bool,
    white: WhiteAs = "none",
) -> tuple[Spread, ...]:
    """Return the pages that hold all pieces, which are of one film and process; `said` are the slug's sentences.

    Where the pieces have white under them, `white` says how it is written: after each page of colours a page of the
    white alone, in black; or on the same page as the separation `SEPARATION`; or both.
    """
    slots = nested([setting.size(piece) for piece in pieces], *setting.room, setting.gap)
    count = max(slot.page for slot in slots) + 1
    found = []
    for number in range(count):
        placed = [(piece, slot) for piece, slot in zip(pieces, slots, strict=True) if slot.page == number]
        names = ", ".join(dict.fromkeys(piece.name for piece, _ in placed))
        head = f"{names} - {pieces[0].film} film" + (f" - page {number + 1} of {count}" if count > 1 else "")
        images: list[Image] = []
        whites: list[Image] = []
        centres: list[Line] = []
        marks: list[Mark] = []
        cuts: list[Path] = []
        for piece, slot in placed:
            image, over = _laid(piece, slot, setting)
            images.append(image)
            whites += [replace(image, pixels=_tint(piece, slot))] if piece.white is not None else []
            centres += over if has_centres else []
            cuts += _cut_lines(piece, slot, image, setting)
            marks += () if piece.cuts else _cut_marks(image, setting)
        inked: list[Image] = [*images]
        if white in ("separation", "both"):
            inked += [replace(each, separation=SEPARATION) for each in whites]
        marked = (*marks, *_furniture(setting, [f"{head}.", *said]))
        page = Page(
            width_mm=setting.width_mm,
            height_mm=setting.height_mm,
            marks=(*inked, *centres, *cuts, *marked),
            title=title,
        )
        spread = Spread(page=page, setting=setting, centres=tuple(centres), cuts=tuple(cuts))
        found.append(spread)
        if whites and white in ("page", "both"):
            marked = (*marks, *_furniture(setting, [f"{head}. WHITE: {_WHITE_FIRST}", *said]))
            found.append(replace(spread, page=replace(page, marks=(*whites, *marked)), centres=(), cuts=()))
    return tuple(found)


def _tint(piece: DecalPiece, slot: Slot) -> Pixels:
    """Return a piece's white as it lies in its slot, (h, w, 3): black where all of it goes."""
    white = (piece.turned() if slot.is_turned else piece).white
    return np.repeat(255 - white[..., None], 3, axis=2) if white is not None else np.zeros((0, 0, 3), np.uint8)


def _laid(piece: DecalPiece, slot: Slot, setting: Setting) -> tuple[Image, list[Line]]:
    """Return a piece's picture and its hole centres, in its slot."""
    as_laid = piece.turned() if slot.is_turned else piece
    trim = setting.trim(piece)
    x, y = setting.on_page(slot.x + trim, slot.y + trim)
    across, down = setting.stretch
    image = Image(
        x_mm=x,
        y_mm=y,
        width_mm=as_laid.width_mm * across,
        height_mm=as_laid.height_mm * down,
        pixels=as_laid.pixels,
    )
    over: list[Line] = []
    for u, v in as_laid.centres:
        over += _cross(x + u * across, y + v * down, _CENTRE_MM, 0.5, _WHITE)  # bare film, to be seen on dark ink
        over += _cross(x + u * across, y + v * down, _CENTRE_MM, 0.18, (0.0, 0.0, 0.0))
    return image, over


def _cut_lines(piece: DecalPiece, slot: Slot, image: Image, setting: Setting) -> Iterator[Path]:
    """Yield the outlines of a piece's film, in its slot."""
    for each in (piece.turned() if slot.is_turned else piece).cuts:
        points = (image.x_mm, image.y_mm) + each * setting.stretch
        yield Path(points=tuple((x, y) for x, y in points.tolist()), stroke=_CUT_GREY, line_mm=_FINE_MM)


def _cut_marks(image: Image, setting: Setting) -> Iterator[Mark]:
    """Yield two short lines at each corner of the trim, along the lines to cut."""
    across, down = setting.stretch
    left, right = image.x_mm - setting.trim_mm * across, image.x_mm + image.width_mm + setting.trim_mm * across
    top, bottom = image.y_mm - setting.trim_mm * down, image.y_mm + image.height_mm + setting.trim_mm * down
    start, end = (share * setting.gap_mm / 2 * min(setting.stretch) for share in _CUT_MM)
    for x, away_x in ((left, -1.0), (right, 1.0)):
        for y, away_y in ((top, -1.0), (bottom, 1.0)):
            yield Line(x1_mm=x + away_x * start, y1_mm=y, x2_mm=x + away_x * end, y2_mm=y, line_mm=_FINE_MM)
            yield Line(x1_mm=x, y1_mm=y + away_y * start, x2_mm=x, y2_mm=y + away_y * end, line_mm=_FINE_MM)


def _furniture(setting: Setting, said: Sequence[str]) -> Iterator[Mark]:
    """Yield the register crosses, a check rule where there is room, and the slug."""
    at = setting.margins.cross_mm
    width, height = setting.width_mm, setting.height_mm
    yield from _crosses(width, height, at)
    length = _RULE_MM * setting.stretch[0]
    if width >= length + 2 * at + _RULE_FREE_MM:
        left, y = width / 2 - length / 2, at
        yield Line(x1_mm=left, y1_mm=y, x2_mm=left + length, y2_mm=y, line_mm=_FINE_MM)
        for end in (left, left + length):
            yield Line(x1_mm=end, y1_mm=y - 1.5, x2_mm=end, y2_mm=y + 1.5, line_mm=_FINE_MM)
        yield Text(x_mm=left + length + 2.0, y_mm=y + 0.8, text=f"{_RULE_MM:g} mm", size_mm=_SLUG_MM)
    size = _SLUG_MM
    while len(slug := wrapped(" ".join(said), size, width - 4 * at)) > _SLUG_ROWS and size > _LEAST_SLUG_MM:
        size -= 0.1
    tall = setting.margins.bottom_mm - setting.margins.slug_mm - _SLUG_LOW_MM
    pitch = min(1.4 * size, tall / max(1, len(slug)))  # all: nothing that a user must know is left out
    yield from lines(slug, 2 * at, height - setting.margins.bottom_mm + setting.margins.slug_mm, size, pitch)


def _crosses(width_mm: float, height_mm: float, at: float) -> Iterator[Line | Circle]:
    """Yield the register crosses of a page, so many mm from its edges."""
    arm, radius = _CROSS_MM
    for x in (at, width_mm - at):
        for y in (at, height_mm - at):
            yield from _cross(x, y, arm, _FINE_MM, (0.0, 0.0, 0.0))
            yield Circle(x_mm=x, y_mm=y, radius_mm=radius, stroke=(0.0, 0.0, 0.0), line_mm=_FINE_MM)


def _cross(x: float, y: float, arm: float, line_mm: float, colour: Colour) -> list[Line]:
    return [
        Line(x1_mm=x - arm, y1_mm=y, x2_mm=x + arm, y2_mm=y, line_mm=line_mm, colour=colour),
        Line(x1_mm=x, y1_mm=y - arm, x2_mm=x, y2_mm=y + arm, line_mm=line_mm, colour=colour),
    ]


def _stamp(canvas: Pixels, line: Line, per_mm: float) -> None:
    """Draw an upright or level line into pixels, as wide as it is to the nearest pixel."""
    half = line.line_mm / 2
    across, down = (0.0, half) if line.y1_mm == line.y2_mm else (half, 0.0)
    left, top = round((line.x1_mm - across) * per_mm), round((line.y1_mm - down) * per_mm)
    right = max(left + 1, round((line.x2_mm + across) * per_mm))
    bottom = max(top + 1, round((line.y2_mm + down) * per_mm))
    canvas[max(top, 0) : bottom, max(left, 0) : right] = np.rint(np.array(line.colour) * 255).astype(np.uint8)
