"""Boxes a little larger than a layout's own, and its parts spread over one of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from mockup.arrange.art import Along, drawn_along
from mockup.arrange.layout_text import written
from mockup.arrange.part_edits import part_edits
from mockup.enclosure.sizes import SIZES
from mockup.model.design import Design, Placement
from mockup.model.edit import Address, Edit, Move, PutLength, PutValue
from mockup.model.enclosure import Enclosure, faces
from mockup.model.units import format_length, round_up

GROWN_MM = ((10.0, 0.0), (0.0, 10.0), (10.0, 10.0), (20.0, 20.0), (40.0, 40.0))
"""By how much a box with measures of its own is made wider and longer: our choice."""
MOST_MM = 200.0  # no wider or longer than this: about the largest box that is sold, from memory


@dataclass(frozen=True, kw_only=True)
class LargerBox:
    """A box as edits of a layout, and what it is in a few words."""

    edits: tuple[Edit, ...]
    what: str


def larger_boxes(design: Design, low_mm: float = 0.0) -> Iterator[LargerBox]:
    """Yield boxes that are smaller in no way than a design's own, the smallest first, lying as it lies.

    One with measures of its own first grows by a little: higher by the `low_mm` that it is too low, wider, longer.
    """
    own = design.enclosure
    sizes = {name: _across(size) for name, size in SIZES.items()} if _is_across(own) else SIZES
    if not any(_measures(size) == _measures(own) for size in sizes.values()):
        yield from _grown(design, low_mm)
    larger = [
        (math.prod(_measures(size)), name)
        for name, size in sizes.items()
        if _measures(size) != _measures(own)
        and all(there >= mm - 1.0 for mm, there in zip(_measures(own), _measures(size), strict=True))
    ]
    for _, name in sorted(larger):
        edits: list[Edit] = [PutValue(address=_box(design, "size"), value=name)]
        if _is_across(own):
            across = sizes[name]
            edits += [
                PutLength(address=_box(design, "width"), mm=across.width_mm),
                PutLength(address=_box(design, "length"), mm=across.length_mm),
            ]
        yield LargerBox(edits=tuple(edits), what=f"the box {name}")


def _grown(design: Design, low_mm: float) -> Iterator[LargerBox]:
    """Yield a box with measures of its own, higher, wider and longer."""
    own, units = design.enclosure, design.units
    if low_mm > 0:
        higher = round_up(own.height_mm + low_mm, units)
        what = f"a box {format_length(higher, units)} high"
        yield LargerBox(edits=(PutLength(address=_box(design, "height"), mm=higher),), what=what)
    for wider_mm, longer_mm in GROWN_MM:
        grown = {"width": (own.width_mm, wider_mm), "length": (own.length_mm, longer_mm)}
        sides = {side: round_up(mm + more, units) for side, (mm, more) in grown.items() if more}
        if max(sides.values()) <= MOST_MM:
            words = {"width": "wide", "length": "long"}
            said = " and ".join(f"{format_length(mm, units)} {words[side]}" for side, mm in sides.items())
            edits = tuple(PutLength(address=_box(design, side), mm=mm) for side, mm in sides.items())
            yield LargerBox(edits=edits, what=f"a box {said}")


def spread(design: Design, there: Design) -> Along:
    """Return the edits that spread a design's parts over its larger box, small films with them; `there` has the box.

    What lies on the lid stays as near to it as it was. Art that covers more is told of in a note.
    """
    before, after = faces(design.enclosure), faces(there.enclosure)
    is_wider = _measures(design.enclosure)[:2] != _measures(there.enclosure)[:2]
    lower_mm = _hollow_mm(there.enclosure) - _hollow_mm(design.enclosure)

    def spread_out(old: Placement, new: Placement) -> Placement:
        deeper = replace(new, depth_mm=round(old.depth_mm + lower_mm, 1) if old.depth_mm else old.depth_mm)
        if not is_wider:
            return deeper
        one, other = before[old.face], after[old.face]
        across = (old.u_mm - one.width_mm / 2) * other.width_mm / one.width_mm
        down = old.v_mm * other.height_mm / one.height_mm
        return written(replace(deeper, u_mm=other.width_mm / 2 + across, v_mm=down), other)

    parts = tuple(spread_out(old, new) for old, new in zip(design.parts, there.parts, strict=True))
    along = drawn_along(there, parts)
    moved_films = {edit.address.way for edit in along.edits if isinstance(edit, Move)}
    is_drawn = any(
        decal.art.file is not None and ("decal", index) not in moved_films for index, decal in enumerate(design.decals)
    )
    notes = ("The art is drawn for the smaller box: fit it to this one",) if is_drawn else ()
    return Along(edits=(*part_edits(there.variant, there.parts, parts), *along.edits), notes=notes)


def _box(design: Design, key: str) -> Address:
    return Address(way=("box", key), variant=design.variant)


def _is_across(box: Enclosure) -> bool:
    return box.width_mm > box.length_mm


def _across(box: Enclosure) -> Enclosure:
    return replace(box, width_mm=box.length_mm, length_mm=box.width_mm)


def _measures(box: Enclosure) -> tuple[float, float, float]:
    return box.width_mm, box.length_mm, box.height_mm


def _hollow_mm(box: Enclosure) -> float:
    return box.body_mm - box.top_mm
