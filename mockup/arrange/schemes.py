"""Schemes by which the trade lays a pedal out: rows of knobs, lamp, switches, sides for the sockets.

A scheme gives every control a place to start from and the order that has to stay: straight rows, columns, equal
spacing, mirrored halves. All of it is common practice without a source; whether there is room is asked elsewhere.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from mockup import knobs
from mockup.arrange.controls import Control
from mockup.arrange.problem import Places, Relation
from mockup.arrange.relations import across_middle, in_middle, on_line
from mockup.clearance.placed import FOOTSWITCHES
from mockup.clearance.plugs import FAMILIES, JACKS
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face, FaceName, faces
from mockup.model.part import Knob, Lamp

FOOT_MM = 19.0  # from the near edge to a footswitch
SHOE_MM = 35.5  # from a footswitch to the last row of knobs
FIRST_MM = 17.0  # from the far edge to the first row
LAMP_MM = 23.0  # from a footswitch to the lamp over it
SPACED_MM = 40.0  # between two knobs of a row at most: farther apart they fall to pieces
PITCH_MM = 34.0  # between two rows at most
BESIDE_MM = 25.0  # between two jacks on one side
GAP_MM = 5.0  # between two knobs of a row at least, where the row allows it
LEAST_KNOB_MM = 11.0
MOST_ROWS = 4
LIT = (0.9, 0.02, 0.01)  # a red lamp, linear sRGB


@dataclass(frozen=True, kw_only=True, eq=False)
class Scheme:
    """A first draft: parts where the trade would have them, and the order that has to stay; `about` says it in words.

    `liking` is how far it is from the trade's first choice, in the terms of a proposal's score; 0 is that choice.
    """

    about: str
    parts: Places
    relations: tuple[Relation, ...]
    liking: float = 0.0


@dataclass(frozen=True, kw_only=True)
class _Row:
    """A row of names on the top with its height and the distance between neighbours."""

    names: tuple[str, ...]
    v_mm: float
    apart_mm: float


def schemes(wanted: Sequence[Control], box: Enclosure, style: str) -> Iterator[Scheme]:
    """Yield the schemes for a list of controls in a box, knobs of one `style`."""
    top = faces(box)["top"]
    seen: set[tuple[tuple[tuple[str, ...], float], ...]] = set()
    for rows in _row_plans(wanted):
        for lamp in ("over the switch", "at the far edge"):
            placed = _rows_on_top(wanted, rows, lamp, top)
            key = tuple((row.names, row.v_mm) for row in placed)
            if key in seen:
                continue
            seen.add(key)
            for sides in _side_plans(wanted):
                yield _scheme(wanted, box, style, placed, sides, lamp, rows)


def _row_plans(wanted: Sequence[Control]) -> Iterator[tuple[tuple[str, ...], ...]]:
    """Yield knobs and switches in rows: one to four rows, even ones first; switches in the middle or in their own."""
    held = [each.name for each in wanted if _is_top(each) and each.kind.shaft is not None]
    small = [each.name for each in wanted if _is_top(each) and _is_small(each)]
    plans: list[tuple[tuple[str, ...], ...]] = []
    for count in range(1, MOST_ROWS + 1):
        if held and count > len(held):
            break
        sizes = [len(held) // count + (index < len(held) % count) for index in range(count)]
        for order in dict.fromkeys((tuple(sizes), tuple(reversed(sizes)))):
            starts = [sum(order[:index]) for index in range(count)]
            rows = tuple(tuple(held[start : start + size]) for start, size in zip(starts, order, strict=True))
            plans += _with_small([row for row in rows if row], small)
    yield from dict.fromkeys(plans)


def _with_small(rows: Sequence[tuple[str, ...]], small: Sequence[str]) -> Iterator[tuple[tuple[str, ...], ...]]:
    if not small:
        yield tuple(rows)
        return
    for index, row in enumerate(rows):
        if len(row) % 2 == 0 and len(small) == 1:
            half = len(row) // 2
            yield (*rows[:index], (*row[:half], small[0], *row[half:]), *rows[index + 1 :])
    yield (*rows, tuple(small))
    if rows:
        yield (rows[0], tuple(small), *rows[1:])


def _rows_on_top(wanted: Sequence[Control], rows: Sequence[tuple[str, ...]], lamp: str, top: Face) -> tuple[_Row, ...]:
    width, length = top.width_mm, top.height_mm
    feet = tuple(each.name for each in wanted if _is_top(each) and each.kind.family == FOOTSWITCHES)
    lamps = tuple(each.name for each in wanted if _is_top(each) and each.kind.is_lamp)
    foot = length - FOOT_MM
    first = FIRST_MM + (9.0 if lamps and lamp != "over the switch" else 0.0)
    last = foot - SHOE_MM if feet else length - FIRST_MM
    found = []
    pitch = min(PITCH_MM, (last - first) / max(1, len(rows) - 1)) if len(rows) > 1 else 0.0
    spare = max(0.0, last - first - pitch * (len(rows) - 1))
    for index, row in enumerate(rows):
        apart = min(SPACED_MM, width / len(row))
        found.append(_Row(names=row, v_mm=first + 0.35 * spare + pitch * index, apart_mm=apart))
    if feet:
        found.append(_Row(names=feet, v_mm=foot, apart_mm=min(width / len(feet), 65.0)))
    if lamps:
        is_paired = len(lamps) == len(feet)
        v = foot - LAMP_MM if feet and lamp == "over the switch" else 9.0 if rows or feet else length / 2
        apart = found[-1].apart_mm if is_paired and feet else min(width / len(lamps), 20.0)
        found.append(_Row(names=lamps, v_mm=v, apart_mm=apart))
    return tuple(found)


def _side_plans(wanted: Sequence[Control]) -> Iterator[tuple[str, float, float]]:
    """Yield (where the jacks go, their share of the side from the far end, their turn)."""
    jacks = [each for each in wanted if each.kind.family == JACKS and each.face is None]
    if not jacks:
        yield "sides", 0.5, 90.0
        return
    yield from itertools.product(("sides",), (0.5, 0.33, 0.66), (90.0, 270.0, 180.0, 0.0))
    yield from itertools.product(("far",), (0.5,), (180.0, 0.0, 90.0))


def _scheme(
    wanted: Sequence[Control],
    box: Enclosure,
    style: str,
    rows: Sequence[_Row],
    sides: tuple[str, float, float],
    lamp: str,
    plan: Sequence[tuple[str, ...]],
) -> Scheme:
    frames = faces(box)
    middle = frames["top"].width_mm / 2
    by_name = {each.name: each for each in wanted}
    parts: dict[str, Placement] = {}
    relations: list[Relation] = []
    held = [row for row in rows if any(by_name[name].kind.shaft is not None for name in row.names)]
    size = min((row.apart_mm - GAP_MM for row in held if len(row.names) > 1), default=math.inf)
    for row in rows:
        for index, name in enumerate(row.names):
            u = middle + (index - (len(row.names) - 1) / 2) * row.apart_mm
            parts[name] = _part(by_name[name], "top", u, row.v_mm, _knob(by_name[name], style, size))
        relations += _row_order(row, 2 * middle)
    relations += _columns(rows)
    where, share, turn = sides
    for part in _on_sides(wanted, box, where, share, turn):
        parts[part.name] = part
    relations += _side_order(list(parts.values()), frames)
    for part in _inside(wanted, box):
        parts[part.name] = part
    uneven = max((len(row) for row in plan), default=0) - min((len(row) for row in plan), default=0)
    about = f"{_counted(plan)}, jacks {'at the far side' if where == 'far' else 'left and right'}, lamp {lamp}"
    liking = 1.5 * uneven + (2.0 if where == "far" else 0.0) + 4.0 * abs(share - 0.5) + (0.0 if turn == 90.0 else 0.2)
    return Scheme(
        about=about,
        parts=tuple(parts[each.name] for each in wanted),
        relations=tuple(relations),
        liking=liking + (0.8 if lamp != "over the switch" else 0.0),
    )


def _counted(plan: Sequence[tuple[str, ...]]) -> str:
    sizes = [str(len(row)) for row in plan if row]
    return f"rows of {', '.join(sizes)}" if len(sizes) > 1 else f"a row of {sizes[0]}" if sizes else "no knobs"


def _row_order(row: _Row, width: float) -> Iterator[Relation]:
    """Yield that a row is straight, evenly spaced and mirrored about the middle."""
    names = row.names
    for first, second in itertools.pairwise(names):
        yield on_line("row", first, second, 1)
    for index in range(len(names) // 2):
        yield across_middle(names[index], names[-1 - index], width)
    if len(names) % 2:
        yield in_middle(names[len(names) // 2], width / 2)
    for index in range(1, (len(names) - 1) // 2 + (len(names) % 2 == 0)):
        if index + 1 < len(names) and len(names) > 3:
            three = names[index - 1 : index + 2]
            terms = ((three[0], 0, 1.0), (three[1], 0, -2.0), (three[2], 0, 1.0))
            yield Relation(kind="spacing", parts=three, terms=terms, value=0.0)


def _columns(rows: Sequence[_Row]) -> Iterator[Relation]:
    for one, other in itertools.combinations([row for row in rows if len(row.names) > 1], 2):
        if len(one.names) == len(other.names) and abs(one.apart_mm - other.apart_mm) < 0.01:
            yield on_line("column", one.names[0], other.names[0], 0)


def _on_sides(wanted: Sequence[Control], box: Enclosure, where: str, share: float, turn: float) -> Iterator[Placement]:
    """Yield sockets: inputs on the right, outputs on the left, power in the middle of the far side."""
    frames = faces(box)
    jacks = [each for each in wanted if each.kind.family == JACKS]
    inputs = [each for each in jacks if each.is_input] or jacks[::2]
    power = [each for each in wanted if each.kind.family in FAMILIES and each not in jacks]
    groups: dict[FaceName, list[Control]] = {face: [] for face in frames}
    for each in jacks:
        usual: FaceName = "far" if where == "far" else "right" if each in inputs else "left"
        groups[each.face or usual].append(each)
    # seen from outside the far side, the player's right is on the left
    groups["far"].sort(key=lambda each: each not in inputs)
    for each in power:
        here = groups[each.face or "far"]
        here.insert((len(here) + 1) // 2, each)
    for name, here in groups.items():
        face = frames[name]
        for index, each in enumerate(here):
            is_side = name in ("left", "right")
            centre = face.width_mm * (share if name == "left" else 1.0 - share) if is_side else face.width_mm / 2
            apart = min(BESIDE_MM, face.width_mm / len(here))
            u = centre + (index - (len(here) - 1) / 2) * apart
            rotation = 0.0 if each in power else (360.0 - turn) % 360.0 if name == "left" else turn
            yield replace(_part(each, name, u, face.height_mm * 0.52), rotation_deg=rotation)


def _side_order(parts: Sequence[Placement], frames: dict[FaceName, Face]) -> Iterator[Relation]:
    """Yield that sockets on one side stand at one height, and that left and right mirror each other."""
    sides = [part for part in parts if part.face != "top"]
    for name in frames:
        here = [part for part in sides if part.face == name]
        for first, second in itertools.pairwise(here):
            yield on_line("row", first.name, second.name, 1)
        for one, other in zip(here, reversed(here), strict=True) if name in ("near", "far") else ():
            if one.u_mm < other.u_mm:
                yield across_middle(one.name, other.name, frames[name].width_mm)
        if name in ("near", "far") and len(here) % 2:
            yield in_middle(here[len(here) // 2].name, frames[name].width_mm / 2)
    left, right = ([part for part in sides if part.face == name] for name in ("left", "right"))
    for first, second in zip(left, reversed(right), strict=False):
        if len(left) == len(right) and first.kind.name == second.kind.name:
            yield across_middle(first.name, second.name, frames["left"].width_mm)
            yield on_line("pair", first.name, second.name, 1)


def _inside(wanted: Sequence[Control], box: Enclosure) -> Iterator[Placement]:
    """Yield what lies in the box on the lid's side: a battery across, a board in the middle."""
    top = faces(box)["top"]
    for each in wanted:
        if each.kind.mount == "inside":
            depth = max(0.0, box.body_mm - box.top_mm - each.kind.depth_mm - 1.2)
            part = _part(each, "top", top.width_mm / 2, top.height_mm * 0.5)
            yield replace(part, depth_mm=round(depth, 1), rotation_deg=90.0 if each.kind.family == "battery" else 0.0)


def _part(control: Control, face: FaceName, u: float, v: float, knob: Knob | None = None) -> Placement:
    lamp = Lamp(colour=LIT, is_lit=True) if control.kind.is_lamp else None
    return Placement(
        name=control.name, kind=control.kind, face=control.face or face, u_mm=u, v_mm=v, knob=knob, lamp=lamp
    )


def _knob(control: Control, style: str, most_mm: float) -> Knob | None:
    if control.kind.shaft is None:
        return None
    usual = knobs.default(style)
    size = max(LEAST_KNOB_MM, math.floor(2 * min(usual.diameter_mm, most_mm)) / 2)
    return replace(usual, diameter_mm=size, height_mm=min(usual.height_mm, size))


def _is_top(control: Control) -> bool:
    is_socket = control.kind.family in FAMILIES
    return control.kind.mount == "panel" and control.face in (None, "top") and not is_socket


def _is_small(control: Control) -> bool:
    return control.kind.shaft is None and control.kind.family != FOOTSWITCHES and not control.kind.is_lamp
