"""What to give up where moves and turns are not enough: the least of a few, each tried and proven.

In this order: a smaller knob, a flatter or smaller kind of the same family, the next box, and last a limit of the
builder's own, which changes nothing but what the checks ask for.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from mockup.arrange.mending import After, Mending, mending
from mockup.clearance.pieces import pieces_of
from mockup.clearance.placed import knob_figure
from mockup.clearance.rules import BODIES, KNOB_EDGE, KNOB_ROOM, KNOBS, LENS, NUT, TIPS, WIRES
from mockup.clearance.table import Margin, broken
from mockup.clearance.walls import LID
from mockup.enclosure.sizes import SIZES
from mockup.hardware import kinds
from mockup.model.design import Design, Placement
from mockup.model.edit import Address, Edit, PutLength, PutValue
from mockup.model.errors import InputError
from mockup.model.units import format_length, round_up
from mockup.options import Progress, silent

KNOB_RULES = frozenset({KNOBS, KNOB_EDGE, KNOB_ROOM, LENS, NUT})
BODY_RULES = frozenset({BODIES, WIRES, TIPS})
KNOB_STEP_MM = 0.5  # knobs come in such steps: our choice
LEAST_KNOB_MM = 10.0  # smaller ones nobody turns: our choice
MOST = 12  # concessions that are tried


@dataclass(frozen=True, kw_only=True)
class Concession:
    """Something given up: edits, and what it is in a few words: ``a knob of 15 mm on TONE``."""

    edits: tuple[Edit, ...]
    what: str


def has_too_little_room(design: Design) -> bool:
    """Return whether any rule of room is broken, by more than rounding."""
    margins = broken(design.enclosure, design.parts, design.limits)
    return any(margin.is_told(design.units) for margin in margins)


def conceding(
    design: Design, after: After, mended: Mending, *, pinned: Iterable[str] = (), progress: Progress = silent
) -> Mending | None:
    """Return the change with the least concession that leaves nothing, or None where none of those tried does.

    `mended` is the best that moves alone can do.
    """
    tried = list(_concessions(design, mended.design))[:MOST]
    for count, concession in enumerate(tried):
        progress(count, len(tried), f"trying {concession.what}")
        try:
            given = after(concession.edits)
        except InputError:
            continue  # the layout has no place for it: parts lie off the other box

        def further(edits: Iterable[Edit], first: tuple[Edit, ...] = concession.edits) -> Design:
            return after((*first, *edits))

        found = mending(given, further, pinned=pinned)
        if not has_too_little_room(found.design):
            cured = (*mended.cured, *mended.left)
            return replace(found, edits=(*concession.edits, *found.edits), concession=concession.what, cured=cured)
    return None


def _concessions(design: Design, stuck: Design) -> Iterator[Concession]:
    """Yield what may be given up, the least first, from what keeps a layout from being mended."""
    margins = broken(stuck.enclosure, stuck.parts, stuck.limits)
    parts = {part.name: part for part in design.parts}
    concerned = [parts[name] for name in dict.fromkeys(name for margin in margins for name in margin.parts)]
    if any(margin.rule in KNOB_RULES for margin in margins):
        yield from _smaller_knobs(design, margins)
    if any(margin.rule in BODY_RULES for margin in margins):
        for part in concerned:
            yield from _smaller_kinds(design, part)
    yield from _larger_boxes(design)
    yield from _higher_box(design, margins)
    yield from _own_limits(design, margins)


def _smaller_knobs(design: Design, margins: Iterable[Margin]) -> Iterator[Concession]:
    """Yield all knobs that are in the way, as much smaller as they lack room."""
    lacks: dict[str, float] = {}
    for margin in margins:
        for name in margin.parts[:1] if margin.rule != KNOBS else margin.parts:
            if margin.rule in KNOB_RULES:
                share = 1.0 if margin.rule == KNOBS else 2.0
                lacks[name] = max(lacks.get(name, 0.0), -share * margin.spare_mm)
    edits, said = [], []
    for part in design.parts:
        knob = part.knob
        if part.name not in lacks or knob is None or knob_figure(part) is None:
            continue
        size = math.floor((knob.diameter_mm - lacks[part.name]) / KNOB_STEP_MM) * KNOB_STEP_MM
        if size < LEAST_KNOB_MM:
            return
        address = Address(way=("part", part.name, "knob", "diameter"), variant=design.variant)
        edits.append(PutValue(address=address, value=_number(size, design)))
        said.append(f"a knob of {format_length(size, design.units)} on {part.name}")
    if edits:
        yield Concession(edits=tuple(edits), what=" and ".join(said))


def _smaller_kinds(design: Design, part: Placement) -> Iterator[Concession]:
    """Yield kinds of the same family that are less deep or narrower inside, the nearest in size first."""
    own = _bulk(part)
    others = [replace(part, kind=kind) for kind in kinds().values() if kind.family == part.kind.family]
    smaller = [each for each in others if _bulk(each) < own and (each.kind.shaft is None) == (part.kind.shaft is None)]
    for each in sorted(smaller, key=_bulk, reverse=True):
        address = Address(way=("part", part.name, "kind"), variant=design.variant)
        yield Concession(
            edits=(PutValue(address=address, value=each.kind.name),), what=f"a {each.kind.name} for {part.name}"
        )


def _bulk(part: Placement) -> float:
    """Return about how much room a part takes inside, cubic millimetres."""
    pieces = pieces_of(part.kind.below)
    if not len(pieces):
        return 0.0
    low, high = pieces.bounds
    return float((high - low)[:2].prod()) * part.kind.depth_mm


def _larger_boxes(design: Design) -> Iterator[Concession]:
    """Yield the sizes of box that are smaller in no way, the least first."""
    box = design.enclosure
    own = box.width_mm, box.length_mm, box.height_mm
    found = []
    for name, size in SIZES.items():
        measures = size.width_mm, size.length_mm, size.height_mm
        if measures != own and all(other >= mm - 1.0 for mm, other in zip(own, measures, strict=True)):
            found.append((math.prod(measures), name))
    for _, name in sorted(found):
        address = Address(way=("box", "size"), variant=design.variant)
        yield Concession(edits=(PutValue(address=address, value=name),), what=f"the box {name}")


def _higher_box(design: Design, margins: Iterable[Margin]) -> Iterator[Concession]:
    """Yield a box as much higher as bodies lack room over the lid, where the box has measures of its own."""
    lack = max((-margin.spare_mm for margin in margins if margin.other == LID), default=0.0)
    if lack > 0 and design.enclosure not in SIZES.values():
        height = round_up(design.enclosure.height_mm + lack, design.units)
        address = Address(way=("box", "height"), variant=design.variant)
        what = f"a box {format_length(height, design.units)} high"
        yield Concession(edits=(PutLength(address=address, mm=height),), what=what)


def _own_limits(design: Design, margins: Iterable[Margin]) -> Iterator[Concession]:
    """Yield limits of the builder's own, as low as the parts need them; what overlaps no limit makes good."""
    least: dict[str, float] = {}
    for margin in margins:
        if margin.is_overlap or not margin.limit.name:
            return
        least[margin.limit.name] = min(least.get(margin.limit.name, math.inf), margin.room_mm)
    edits, said = [], []
    for name, room in least.items():
        value = math.floor(max(room, 0.0) * 10 + 1e-6) / 10
        address = Address(way=("limits", name), variant=design.variant)
        edits.append(PutValue(address=address, value=value))
        said.append(f"{name} = {value:g}")
    if edits:
        yield Concession(edits=tuple(edits), what="a limit of your own: " + ", ".join(said))


def _number(mm: float, design: Design) -> float | str:
    return mm if design.units == "mm" else f"{mm:g} mm"
