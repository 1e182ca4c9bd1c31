"""Lettering on the pedal: as the layout declares it and the art holds it, and what was read in the art besides."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from PIL import Image

from mockup.checks.art.sheets import Bits, Sheet, colours_of, sheets
from mockup.checks.panel.built import Built
from mockup.geometry.planar import axes, box_on_face
from mockup.memo import memoize
from mockup.model.finding import Mark, Subject
from mockup.model.finish import Artwork
from mockup.model.label import Label
from mockup.model.mesh import Floats
from mockup.reading.letters import Letters, nearest
from mockup.reading.network import Quad
from mockup.reading.words import Word, shrink_of, words

NEAR_MM = 6.0  # from a declared label's middle to that of lettering that may be it, at least: our choice
NEAR_HEIGHTS = 2.5  # the same in heights of the letters
ALIKE = 0.6  # of two texts, for one to be the other as read: our choice; GAIN and GA1N are 0.75 alike
# Share of its box's height that a capital has, by what else the word holds: usual sans-serif figures, from memory.
_WITH_TAIL, _SMALL, _SMALL_WITH_TAIL = 0.77, 1.36, 0.97
_TAILS, _TALL = frozenset("gjpqyQ,;"), frozenset("bdfhklt")
SAME_PX = 2.0  # pixels of the art that a height is measured to, at both its ends: measured
DOUBT_PX = 0.5  # half a pixel of an edge, that ink may reach beyond it
_GROW = 1.4  # of a declared box, in which letters that nobody can read are looked for


@dataclass(frozen=True, kw_only=True, eq=False)
class Strokes:
    """The letters themselves: a mask (h, w) over a label's own box, on the sheet that holds them."""

    mask: Bits
    sheet: Sheet


@dataclass(frozen=True, eq=False)
class Piece:
    """One piece of lettering; `is_declared` False where it was only read in the art.

    The label's box is that of the lettering in the art where it was found there. `strokes` is None where none was
    found, or with `is_read` where it was read and its letters cannot be told from what is round them.
    `stated_mm` is the height of its capitals that the layout states, 0 where it states none.
    """

    label: Label
    is_declared: bool
    strokes: Strokes | None = None
    stated_mm: float = 0.0
    is_read: bool = False

    @property
    def subject(self) -> Subject:
        """The label, or the word in the art, known by its text."""
        return Subject(kind="label" if self.is_declared else "lettering", name=self.label.text)

    @property
    def capital_mm(self) -> float:
        """How high a capital of it is or would be: its box may hold tails, or small letters alone."""
        text, stated = self.label.text, self.stated_mm
        if self.strokes is None or self.label.lettering is not None:
            return stated or self.label.height_mm
        has_tail = bool(_TAILS & set(text))
        is_tall = any(each.isupper() or each.isdigit() or each in _TALL for each in text)
        share = (_WITH_TAIL if has_tail else 1.0) if is_tall else (_SMALL_WITH_TAIL if has_tail else _SMALL)
        measured = self.label.height_mm * share
        is_same = abs(measured - stated) <= SAME_PX / min(self.strokes.sheet.per_mm)
        return stated if is_same else measured

    @property
    def doubt_mm(self) -> float:
        """How much higher its capitals may be than measured; none where the layout states their height."""
        is_measured = self.strokes is not None and self.capital_mm != self.stated_mm
        return DOUBT_PX / min(self.strokes.sheet.per_mm) if self.strokes is not None and is_measured else 0.0

    @property
    def mark(self) -> Mark:
        """The box round it."""
        return Mark.round(self.label)

    def box(self, grow_mm: float = 0.0) -> Floats:
        """Return its corners (4, 2) in face millimetres, turned so that u to v is counter-clockwise."""
        each = self.label
        size = each.width_mm + 2 * grow_mm, each.height_mm + 2 * grow_mm
        return box_on_face(size, (each.u_mm, each.v_mm), each.rotation_deg)

    @property
    def axes(self) -> Floats:
        """Its own right and down as rows (2, 2) in face (u, v)."""
        return axes(self.label.rotation_deg)


def pieces(built: Built) -> tuple[Piece, ...]:
    """Return the design's lettering: declared labels where the art holds them, then what else was read in the art."""
    left = [found for sheet in sheets(built) for found in _read(sheet)]
    declared = []
    for label in built.design.labels:
        own = _match(label, left)
        if own is not None:
            left.remove(own)
        declared.append(_declared(label, own, [each for each in sheets(built) if each.decal.face == label.face]))
    others = (each for each in left if not any(_covers(piece.label, each.label) for piece in declared))
    return (*declared, *others)


def _read(sheet: Sheet) -> tuple[Piece, ...]:
    """Return the words of one sheet."""
    found = words(sheet.decal.art, shrink_of(math.sqrt(sheet.per_mm[0] * sheet.per_mm[1])))
    return tuple(
        Piece(
            _label(sheet, word), False, Strokes(mask=word.mask, sheet=sheet) if word.mask.any() else None, is_read=True
        )
        for word in found
    )


def _label(sheet: Sheet, word: Word) -> Label:
    return _boxed(
        Label(text=word.text, face=sheet.decal.face, u_mm=0, v_mm=0, width_mm=1, height_mm=1), sheet, word.box
    )


def _boxed(label: Label, sheet: Sheet, box: Quad) -> Label:
    """Return a label in the box that lettering has in a sheet's pixels."""
    u, v = sheet.to_face((box.x, box.y)).tolist()
    width, height = (box.axes**2 @ sheet.per_mm).tolist()  # pixels to the millimetre along its own sides
    return replace(
        label,
        u_mm=u,
        v_mm=v,
        width_mm=box.width / width,
        height_mm=box.height / height,
        rotation_deg=(sheet.decal.rotation_deg + box.turn_deg) % 360.0,
    )


def _match(label: Label, found: Sequence[Piece]) -> Piece | None:
    """Return the lettering in the art that a declared label means: alike in text and near, or else under its box."""
    best, least = None, math.inf
    for piece in found:
        if piece.label.face != label.face:
            continue
        away = math.hypot(piece.label.u_mm - label.u_mm, piece.label.v_mm - label.v_mm)
        alike = SequenceMatcher(None, _plain(piece.label.text), _plain(label.text)).ratio()
        is_near = away <= max(NEAR_MM, NEAR_HEIGHTS * label.height_mm)
        is_it = _covers(label, piece.label) or (alike >= ALIKE and is_near and label.lettering is None)
        if is_it and away - 10 * alike < least:
            best, least = piece, away - 10 * alike
    return best


def _plain(text: str) -> str:
    return "".join(each for each in text.casefold() if not each.isspace())


def _covers(label: Label, other: Label) -> bool:
    """Return whether the middle of other lettering lies in a label's box."""
    if label.face != other.face:
        return False
    right, down = axes(label.rotation_deg) @ (other.u_mm - label.u_mm, other.v_mm - label.v_mm)
    return bool(abs(right) <= label.width_mm / 2 and abs(down) <= label.height_mm / 2)


def _declared(label: Label, own: Piece | None, on: Sequence[Sheet]) -> Piece:
    """Return a declared label in the place that its lettering has in the art."""
    if own is not None:
        read = own.label
        placed = replace(label, u_mm=read.u_mm, v_mm=read.v_mm, width_mm=read.width_mm, height_mm=read.height_mm)
        placed = replace(placed, rotation_deg=read.rotation_deg)
        return Piece(placed, True, own.strokes, label.height_mm, is_read=True)
    for sheet in reversed(on):
        letters = _letters(sheet.decal.art, _quad(label, sheet))
        if letters is not None:
            placed = _boxed(label, sheet, letters.box)
            return Piece(placed, True, Strokes(mask=letters.mask, sheet=sheet), label.height_mm)
    return Piece(label, True, None, label.height_mm)


def _quad(label: Label, sheet: Sheet) -> Quad:
    x, y = sheet.to_px((label.u_mm, label.v_mm)).tolist()
    per = math.sqrt(sheet.per_mm[0] * sheet.per_mm[1])
    return Quad(
        x=x,
        y=y,
        width=label.width_mm * per,
        height=_GROW * label.height_mm * per,
        turn_deg=(label.rotation_deg - sheet.decal.rotation_deg + 180.0) % 360.0 - 180.0,
    )


@memoize
def _letters(art: Artwork, quad: Quad) -> Letters | None:
    if min(quad.width, quad.height) < 1.0:
        return None
    if quad.x < 0 or quad.y < 0 or quad.x >= art.width_px or quad.y >= art.height_px:
        return None
    return nearest(_picture_of(art), quad)


def _picture_of(art: Artwork) -> Image.Image:
    """Return art as it prints, over white."""
    return Image.fromarray(colours_of(art))
