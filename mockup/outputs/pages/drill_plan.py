"""The plan for the drill press: faces in proportion with numbered holes, and the drills in order to tick off."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace

from mockup.drawing.drills import inch_drill, is_own, number
from mockup.drawing.faces import Drawing, face_drawing
from mockup.drawing.flow import Block, flowed, heading, note
from mockup.drawing.holes import Hole
from mockup.drawing.lettering import lines, width_mm, wrapped
from mockup.drawing.paper import MARGIN_MM, Heading, cautions, head
from mockup.drawing.unfold import unfolded
from mockup.model.enclosure import FACES, Enclosure, faces
from mockup.model.sheet import Mark, Page, Rectangle, Text, moved
from mockup.model.units import Unit

_ANGLES = ("draft_deg",)  # of a box: what does not grow with it
_TOP_MM = MARGIN_MM + 15.0
_SIZE_MM, _BOX_MM, _ROW_MM = 3.0, 3.2, 6.4  # of lettering, of a box to tick, of a row: our choice
_FIRST_MM = 44.0  # what a row of drills keeps for the drill's name
_SHARE = 0.42  # of the page's height that the faces take at most: our choice


@dataclass(frozen=True, kw_only=True)
class Turn:
    """One drill, and the holes that it is for, in the order of their numbers."""

    drill_mm: float
    holes: tuple[Hole, ...]
    is_own: bool

    def words(self, units: Unit) -> str:
        """What the drill is called: in the drawing's units, the other one behind it."""
        mm, inches = f"{number(self.drill_mm, 'mm')} mm", f"{inch_drill(self.drill_mm)} in"
        return f"{mm} ({inches})" if units == "mm" else f"{inches} ({mm})"


def turns(found: Sequence[Hole], units: Unit, own_mm: Sequence[float] = ()) -> tuple[Turn, ...]:
    """Return the drills of all holes from the smallest up: taken in this order, every hole grows as it should.

    In inches, sizes that go by one name are one drill, but for drills that are listed as the builder's own.
    """
    sizes = sorted({round(drill, 4) for hole in found for drill in hole.drills_mm})
    named = itertools.groupby(sizes, lambda size: inch_drill(size) if units == "in" and not own_mm else size)
    return tuple(
        Turn(
            drill_mm=alike[-1],
            holes=tuple(hole for hole in found if {round(each, 4) for each in hole.drills_mm} & set(alike)),
            is_own=is_own(alike[-1], own_mm),
        )
        for alike in (list(each) for _, each in named)
    )


def plan_drawing(box: Enclosure, found: Sequence[Hole], units: Unit, room_mm: tuple[float, float]) -> Drawing:
    """Return the drilled faces round the top, numbers and names at the holes, no larger than there is room.

    They are true in proportion, not in size; the figures at the edges are the real ones.
    """
    scale = 1.0
    for _ in range(3):  # lettering does not shrink with the faces
        made = _drawn(box, found, units, scale)
        wide, tall = made.area[2] - made.area[0], made.area[3] - made.area[1]
        share = min(room_mm[0] / wide, room_mm[1] / tall)
        if share >= 1.0:
            break
        scale *= 0.98 * share
    return made


def plan_pages(
    box: Enclosure,
    found: Sequence[Hole],
    own_mm: Sequence[float],
    paper_mm: tuple[float, float],
    titled: Heading,
    serials: Sequence[str] = (),
) -> list[Page]:
    """Return the plan on as many pages as it takes: faces first, then what is to be ticked off.

    With `serials` there is a box to tick for each pedal of a series instead of one for each hole: a drill stays in
    the chuck until all of them have had it.
    """
    width, height = paper_mm
    wide = width - 2 * MARGIN_MM
    drawn = plan_drawing(box, found, titled.units, (wide, (height - 2 * MARGIN_MM) * _SHARE))
    left = MARGIN_MM + (wide - (drawn.area[2] - drawn.area[0])) / 2 - drawn.area[0]
    below = _TOP_MM + drawn.area[3] - drawn.area[1] + 2.0
    picture = [moved(mark, left, _TOP_MM - drawn.area[1]) for mark in drawn.marks]
    rows = list(_blocks(found, own_mm, titled.units, wide, serials))
    pages, _ = flowed(rows, MARGIN_MM, _TOP_MM, below, height - MARGIN_MM)
    return [
        Page(
            width_mm=width,
            height_mm=height,
            marks=(*head(width, titled, drawn.caption), *(picture if index == 0 else ()), *marks),
            title=f"{titled.title}: drill plan",
        )
        for index, marks in enumerate(pages)
    ]


def _drawn(box: Enclosure, found: Sequence[Hole], units: Unit, scale: float) -> Drawing:
    """Return the faces drawn at a scale; what the holes are called and the figures stay as they are."""
    lengths = {each.name: getattr(box, each.name) * scale for each in fields(box) if each.name not in _ANGLES}
    small = replace(box, **lengths)
    drilled = [name for name in FACES if name == "top" or any(hole.bore.face == name for hole in found)]
    caption = "Drill plan, in proportion, not true to size. Figures in " + ("mm" if units == "mm" else "inches")
    panels = unfolded(small, faces(small), drilled)
    return face_drawing(small, panels, [_scaled(hole, scale) for hole in found], units, caption, has_sizes=False)


def _scaled(hole: Hole, scale: float) -> Hole:
    bore, outline = hole.bore, hole.bore.outline
    shape = replace(
        outline,
        width_mm=outline.width_mm * scale,
        height_mm=outline.height_mm * scale,
        corner_mm=outline.corner_mm * scale,
    )
    placed = replace(bore, u_mm=bore.u_mm * scale, v_mm=bore.v_mm * scale, outline=shape)
    return replace(hole, bore=placed, drills_mm=tuple(each * scale for each in hole.drills_mm))


def _blocks(
    found: Sequence[Hole], own_mm: Sequence[float], units: Unit, wide_mm: float, serials: Sequence[str]
) -> Iterator[Block]:
    def ticked(words: str, holes: Sequence[Hole]) -> Block:
        numbers = [str(hole.number) for hole in holes]
        if not serials:
            return _ticked(words, numbers, wide_mm)
        which = (
            "all holes"
            if len(holes) == len(found)
            else f"{'hole' if len(holes) == 1 else 'holes'} {', '.join(numbers)}"
        )
        return _ticked(f"{words}: {which}", serials, wide_mm, is_below=True)

    yield note(" ".join(cautions(found)), _SIZE_MM * 0.86, wide_mm)
    yield heading("Drill by drill" if not serials else "Drill by drill, a box to tick for each pedal", 4.0, wide_mm)
    yield ticked("Centre-punch", found)
    for each in turns(found, units, own_mm):
        yield ticked(each.words(units) + ("" if each.is_own else ", not yours"), each.holes)
    for finish in dict.fromkeys(hole.finish for hole in found if hole.finish):
        for step in finish.split("; ")[1:] or [finish]:
            yield ticked(f"Then {step}", [hole for hole in found if hole.finish == finish])
    yield ticked("Deburr, both sides", found)
    yield heading("Before the parts go in", 4.0, wide_mm)
    for words in (
        "Chips brushed out, never blown; box washed and dry.",
        "Every part tried in its hole.",
        "Paint scraped off under the washer that earths the box, so that metal meets metal.",
    ):
        yield _ticked(words, serials, wide_mm, is_below=True) if serials else _single(words)


def _single(words: str) -> Block:
    """Return a row with one box to tick, before its words."""
    box = Rectangle(x_mm=0.0, y_mm=1.6, width_mm=_BOX_MM, height_mm=_BOX_MM, stroke=(0.0, 0.0, 0.0))
    said = Text(x_mm=_BOX_MM + 2.0, y_mm=1.6 + _BOX_MM - 0.5, text=words, size_mm=_SIZE_MM)
    return Block(height_mm=_ROW_MM, marks=(box, said))


def _ticked(words: str, names: Sequence[str], wide_mm: float, *, is_below: bool = False) -> Block:
    """Return a row: what is to be done, and beside or below it a named box to tick for each, on as many lines."""
    said = wrapped(words, _SIZE_MM, wide_mm)
    marks: list[Mark] = list(lines(said, 0.0, 4.3, _SIZE_MM, 1.3 * _SIZE_MM, is_bold=True))
    first = _BOX_MM if is_below else _FIRST_MM
    x, y = max(_FIRST_MM, width_mm(words, _SIZE_MM) + 4.0), 0.0
    if is_below:
        x, y = first, _ROW_MM + 1.3 * _SIZE_MM * (len(said) - 1)
    for name in names:
        step = _BOX_MM + 1.2 + width_mm(name, _SIZE_MM) + 4.0
        if x + step > wide_mm:
            x, y = first, y + _ROW_MM
        marks.append(Rectangle(x_mm=x, y_mm=y + 1.6, width_mm=_BOX_MM, height_mm=_BOX_MM, stroke=(0.0, 0.0, 0.0)))
        marks.append(Text(x_mm=x + _BOX_MM + 1.2, y_mm=y + 4.3, text=name, size_mm=_SIZE_MM))
        x += step
    return Block(height_mm=y + _ROW_MM, marks=tuple(marks))
