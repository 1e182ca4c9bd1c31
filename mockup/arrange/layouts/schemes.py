"""First drafts of the top: every plan of rows given heights and distances, and the order that has to stay.

Rows are straight, evenly spaced and mirrored about the middle, with room for knobs, scales and names between them.
Whether there is room for all that hangs below is asked elsewhere.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from mockup import knobs
from mockup.arrange.habits import FOOT_MM, LAMP_MM, ROW_MM
from mockup.arrange.layouts.control_parts import knob_of, part_of, turned_to_fit
from mockup.arrange.layouts.controls import Control, Wanted
from mockup.arrange.layouts.rows import BETWEEN, FAR, OVER, Names, Plan, is_on_top, plans
from mockup.arrange.layouts.slots import Row, pinned_row
from mockup.arrange.problem import Places, Relation
from mockup.arrange.relations import across_middle, in_middle, on_line
from mockup.clearance.pieces import pieces_of
from mockup.clearance.placed import FOOTSWITCHES
from mockup.memo import memoize
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face, faces
from mockup.model.part import Kind

SHOE_MM = 33.0  # from a footswitch to the last row of knobs: room for a shoe
SPACED_MM = 38.0  # between two knobs of a row at most: farther apart they fall to pieces
MIXED_MM = 26.0  # between a knob and a switch of a row at most
PITCH_MM = 36.0  # between two rows at most
FEET_MM = 65.0  # between two footswitches at most
LAMPS_MM = 20.0  # between two lamps of a row at most
FAR_LAMP_MM = 9.0  # from the far edge to a lamp there
GAP_MM = 6.0  # between two knobs of a row at least, where the row allows it
BESIDE_MM = 0.5  # between what two rows have inside
NEST_MM = 13.0  # from a row of knobs to a switch that stands between their columns, at least
SCALE_MM, NAME_MM = 3.4, 5.6  # what the marks round a knob and the name below it take
ALIGNED_MM = 4.0  # two columns that are so close are one
HIGH = 0.35  # of what is left on the top lies before the first row
ASIDE = 1.5  # what it costs that a pinned part keeps a row from the middle: our choice
STEP_MM = 0.5  # distances between places: what a builder reads off a ruler


@dataclass(frozen=True, kw_only=True, eq=False)
class Scheme:
    """A first draft of the top: parts where the trade would have them, and the order that has to stay.

    `asked` is the part of that order which the list's own groups ask for. `liking` is how far it is from the trade's
    first choice, in the terms of a proposal's score; 0 is that choice.
    """

    about: str
    parts: Places
    relations: tuple[Relation, ...]
    asked: tuple[Relation, ...] = ()
    liking: float = 0.0

    @property
    def mirrored(self) -> tuple[Relation, ...]:
        """What is asked for, and that pairs mirror each other, middles stay and lamps stand over their switches."""
        found = [*self.asked]
        for each in self.relations:
            if each.kind in ("middle", "over", "pair"):
                found.append(each)
            if each.kind == "pair":
                one, other = each.parts
                found.append(on_line("pair", one, other, 1))
        return tuple(dict.fromkeys(found))


def schemes(wanted: Wanted, box: Enclosure, style: str) -> Iterator[Scheme]:
    """Yield the schemes for a list of controls in a box, knobs of one `style`, the trade's first choices first."""
    pins = {name: v for name, (_, v) in _pins(wanted, box).items()}
    every = ((plan, _laid_out(wanted, plan, box, style)) for plan in plans(wanted, pins))
    drafts = [(plan, rows) for plan, rows in every if rows is not None]
    aside = [
        (replace(plan, liking=plan.liking + ASIDE * sum(row.is_aside for row in rows)), rows) for plan, rows in drafts
    ]
    for plan, rows in sorted(aside, key=lambda each: each[0].liking):
        yield _scheme(wanted, box, style, plan, rows)


def _laid_out(wanted: Wanted, plan: Plan, box: Enclosure, style: str) -> tuple[Row, ...] | None:
    """Return a plan's rows with their places; None where a row is wider than the box is inside."""
    top = faces(box)["top"]
    hollow = top.width_mm - 2 * box.wall_mm
    for row in plan.rows:
        if sum(_bulk(wanted.named(name))[0] for name in row) + len(row) + 1 > hollow:
            return None
    pinned = [each.pinned_at(box) for each in wanted.controls if each.kind.family == FOOTSWITCHES]
    foot = min([top.height_mm - FOOT_MM, *(at[1] for at in pinned if at is not None)])
    found = list(_knob_rows(wanted, plan, top, style, foot if pinned else None))
    pins = _pins(wanted, box)
    heights = [next((pins[name][1] for name in row.names if name in pins), None) for row in found]
    found = [replace(row, v_mm=v) for row, v in zip(found, _levels([row.v_mm for row in found], heights), strict=True)]
    if plan.feet:
        found.append(Row(names=plan.feet, v_mm=foot, apart_mm=_apart(plan.feet, top, FEET_MM)))
    if plan.lamps:
        found.append(_lamp_row(plan, top, foot))
    placed = [pinned_row(row, pins, top.width_mm / 2) for row in found]
    if plan.lamps and len(plan.lamps) == len(plan.feet) and not pins.keys() & set(plan.lamps):
        feet = placed[-2]
        placed[-1] = replace(placed[-1], apart_mm=feet.apart_mm, shift_mm=feet.shift_mm)
    return tuple(placed)


def _pins(wanted: Wanted, box: Enclosure) -> dict[str, tuple[float, float]]:
    """Return how far right of the middle of the top, and how far down, each control stands that is pinned there."""
    middle = faces(box)["top"].width_mm / 2
    found = {each.name: each.pinned_at(box) for each in wanted.controls if each.pin is not None and is_on_top(each)}
    return {name: (at[0] - middle, at[1]) for name, at in found.items() if at is not None}


def _levels(usual: Sequence[float], pinned: Sequence[float | None]) -> list[float]:
    """Return the heights of rows, usual distances kept before and behind the pinned ones, even ones between two."""
    found, held = list(usual), [index for index, v in enumerate(pinned) if v is not None]
    for index in range(len(usual)):
        before = max((at for at in held if at <= index), default=None)
        behind = min((at for at in held if at >= index), default=None)
        far = pinned[before] if before is not None else None
        near = pinned[behind] if behind is not None else None
        if before is not None and far is not None and behind is not None and near is not None:
            share = (index - before) / max(behind - before, 1)
            found[index] = far + share * (near - far)
        elif before is not None and far is not None:
            found[index] = max(usual[index], far + usual[index] - usual[before])
        elif behind is not None and near is not None:
            found[index] = min(usual[index], near + usual[index] - usual[behind])
    return found


def _knob_rows(wanted: Wanted, plan: Plan, top: Face, style: str, foot: float | None) -> Iterator[Row]:
    """Yield the rows of knobs and switches, down to a shoe's room from a footswitch where there is one."""
    if not plan.rows:
        return
    widest = max(len(row) for row in plan.rows)
    aparts = [_row_apart(wanted, row, top) for row in plan.rows]
    least = min(apart for row, apart in zip(plan.rows, aparts, strict=True) if len(row) == widest)
    if widest > 2:  # shorter rows stand under the gaps or the ends of the longest
        aparts = [
            least if len(row) != 2 else 2 * least if _ends_at_quarters(wanted, plan) else min(apart, 2 * least)
            for row, apart in zip(plan.rows, aparts, strict=True)
        ]
    size = knobs.default(style).diameter_mm
    reaches = [_reach(wanted, row, min(size, apart - GAP_MM)) for row, apart in zip(plan.rows, aparts, strict=True)]
    needs = [
        NEST_MM if _nests(wanted, far, near) else one[1] + other[0]
        for (far, near), (one, other) in zip(itertools.pairwise(plan.rows), itertools.pairwise(reaches), strict=True)
    ]
    first = max(ROW_MM, reaches[0][0] + 3.0)
    if plan.lamp == FAR and plan.lamps and foot is not None:
        first = max(first, FAR_LAMP_MM + 5.0 + reaches[0][0])
    last = top.height_mm - ROW_MM if foot is None else foot - SHOE_MM
    total, room = sum(needs), max(0.0, last - first)
    stretch = room / total if total else 0.0
    pitches = [min(PITCH_MM, need * stretch) for need in needs]
    v = first + (0.5 if foot is None else HIGH) * max(0.0, room - sum(pitches))
    for row, apart, pitch in zip(plan.rows, aparts, [*pitches, 0.0], strict=True):
        yield Row(names=row, v_mm=_stepped(v), apart_mm=_stepped(apart))
        v += pitch


def _lamp_row(plan: Plan, top: Face, foot: float) -> Row:
    names = plan.lamps
    is_paired = len(names) == len(plan.feet)
    apart = _apart(names, top, FEET_MM if is_paired else LAMPS_MM)
    if plan.lamp == BETWEEN:
        return Row(names=names, v_mm=foot, apart_mm=apart)
    if plan.lamp == OVER:
        return Row(names=names, v_mm=foot - LAMP_MM, apart_mm=apart)
    return Row(names=names, v_mm=FAR_LAMP_MM if plan.rows or plan.feet else top.height_mm / 2, apart_mm=apart)


def _row_apart(wanted: Wanted, row: Names, top: Face) -> float:
    """Return how far apart a row's names stand; a switch between two knobs leaves them where they would be alone."""
    if len(row) == 3 and wanted.named(row[1]).kind.shaft is None:
        return min(MIXED_MM, top.width_mm / 4)
    return _apart(row, top, SPACED_MM)


def _ends_at_quarters(wanted: Wanted, plan: Plan) -> bool:
    """Return whether the longest rows are two knobs with a switch between, so that rows of two stand under them."""
    longest = max(plan.rows, key=len)
    return len(longest) == 3 and wanted.named(longest[1]).kind.shaft is None


def _apart(names: Names, top: Face, most_mm: float) -> float:
    return min(most_mm, top.width_mm / max(1, len(names)))


def _stepped(mm: float) -> float:
    return round(mm / STEP_MM) * STEP_MM


def _nests(wanted: Wanted, far: Names, near: Names) -> bool:
    """Return whether one of two rows is a single switch or lamp that stands between the columns of the other."""
    return any(
        len(one) == 1 and wanted.named(one[0]).kind.shaft is None and len(other) % 2 == 0
        for one, other in ((far, near), (near, far))
    )


def _reach(wanted: Wanted, row: Names, knob_mm: float) -> tuple[float, float]:
    """Return how far a row reaches towards the far edge and the near one, scales and names counted."""
    far, near = 0.0, 0.0
    for name in row:
        control = wanted.named(name)
        kind = control.kind
        low, high = _ends(control)
        half = _bulk(control)[1] / 2 if kind.shaft is None else knob_mm / 2
        marks = SCALE_MM if kind.shaft is not None else 0.5
        far = max(far, half + marks, high[1] + BESIDE_MM)
        near = max(near, half + marks + (0.0 if kind.is_lamp else NAME_MM), BESIDE_MM - low[1])
    return far, near


def _bulk(control: Control) -> tuple[float, float]:
    """Return how wide and how long (across, down) a part is inside; its terminals, which may turn away, left out."""
    low, high = _ends(control)
    return high[0] - low[0], 2 * min(high[1], -low[1])


def _ends(control: Control) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return how far what a part has inside reaches (right, up) from its middle: least and most, as it is turned."""
    (x0, y0), (x1, y1) = _bounds(control.kind)
    if (control.turn_deg or 0.0) % 180.0 == 90.0:
        return (y0, -x1), (y1, -x0)  # a quarter right; one to the left differs in what lies at one end only
    return (x0, y0), (x1, y1)


@memoize
def _bounds(kind: Kind) -> tuple[tuple[float, float], tuple[float, float]]:
    if not kind.below:
        return (0.0, 0.0), (0.0, 0.0)
    (x0, y0, *_), (x1, y1, *_) = (end.tolist() for end in pieces_of(kind.below).bounds)
    return (x0, y0), (x1, y1)


def _scheme(wanted: Wanted, box: Enclosure, style: str, plan: Plan, rows: Sequence[Row]) -> Scheme:
    top = faces(box)["top"]
    middle = top.width_mm / 2
    parts: dict[str, Placement] = {}
    relations: list[Relation] = []
    asked: list[Relation] = []
    size = _knob_size(wanted, rows)
    for row in rows:
        for index, name in enumerate(row.names):
            u = middle + row.off_mm(index)
            parts[name] = part_of(wanted.named(name), "top", u, row.v_mm, knob_of(wanted.named(name), style, size))
        relations += _row_order(row, 2 * middle)
    relations += _columns(rows)
    if plan.lamp == OVER and len(plan.lamps) == len(plan.feet):
        relations += [on_line("over", lamp, foot, 0) for lamp, foot in zip(plan.lamps, plan.feet, strict=True)]
    for control in wanted.controls:
        at = control.pinned_at(box)
        if at is not None and control.kind.mount == "panel":
            face = control.faces[0] if control.faces else "top"
            parts[control.name] = turned_to_fit(
                control, part_of(control, face, *at, knob_of(control, style, size)), box
            )
    for group in wanted.groups:
        if group.kind == "over" and group.names[0] not in parts and group.names[1] in parts:
            under = parts[group.names[1]]
            parts[group.names[0]] = part_of(wanted.named(group.names[0]), under.face, under.u_mm, under.v_mm - LAMP_MM)
        asked += _group_order(group.kind, group.names, parts, 2 * middle)
    return Scheme(
        about=plan.about,
        parts=tuple(parts[each.name] for each in wanted.controls if each.name in parts),
        relations=wanted.true_of((*relations, *asked), [*parts.values()]),
        asked=wanted.true_of(asked, [*parts.values()]),
        liking=plan.liking,
    )


def _group_order(kind: str, names: Names, parts: dict[str, Placement], width: float) -> Iterator[Relation]:
    """Yield what a group of the list keeps."""
    if not all(name in parts for name in names):
        return
    if kind == "over":
        yield on_line("column", names[0], names[1], 0)
        return
    if kind == "pair":
        yield across_middle(names[0], names[1], width)
        yield on_line("pair", names[0], names[1], 1)
        return
    for one, other in itertools.pairwise(names):
        yield on_line(kind, one, other, 1 if kind == "row" else 0)


def _row_order(row: Row, width: float) -> Iterator[Relation]:
    """Yield that a row is straight, evenly spaced and mirrored about the middle, if it stands there."""
    names = row.names
    for first, second in itertools.pairwise(names):
        yield on_line("row", first, second, 1)
    if not row.is_aside:
        for index in range(len(names) // 2):
            yield across_middle(names[index], names[-1 - index], width)
        if len(names) % 2:
            yield in_middle(names[len(names) // 2], width / 2)
    half = (len(names) - 1) // 2 + (len(names) % 2 == 0)  # the mirror spaces the other half
    for index in range(1, len(names) - 1 if row.is_aside else half if len(names) > 3 else 1):
        three = names[index - 1 : index + 2]
        terms = ((three[0], 0, 1.0), (three[1], 0, -2.0), (three[2], 0, 1.0))
        yield Relation(kind="spacing", parts=three, terms=terms, value=0.0)


def _columns(rows: Sequence[Row]) -> Iterator[Relation]:
    """Yield that rows whose ends nearly stand under each other end in line."""
    for one, other in itertools.combinations([row for row in rows if len(row.names) > 1 and not row.is_aside], 2):
        if abs((len(one.names) - 1) * one.apart_mm - (len(other.names) - 1) * other.apart_mm) < 2 * ALIGNED_MM:
            yield on_line("column", one.names[0], other.names[0], 0)


def _knob_size(wanted: Wanted, rows: Sequence[Row]) -> float:
    """Return the largest diameter that leaves room between the knobs of every row and from row to row."""
    held = [(row, [name for name in row.names if wanted.named(name).kind.shaft is not None]) for row in rows]
    most = math.inf
    for row, names in held:
        near = [name for name, other in itertools.pairwise(row.names) if name in names and other in names]
        if near:
            most = min(most, row.apart_mm - GAP_MM)
        elif len(names) > 1:
            most = min(most, 2 * row.apart_mm - GAP_MM)
    for (one, first), (other, second) in itertools.combinations(held, 2):
        for (index, a), (there, b) in itertools.product(enumerate(one.names), enumerate(other.names)):
            if a in first and b in second:
                most = min(most, math.hypot(one.off_mm(index) - other.off_mm(there), other.v_mm - one.v_mm) - GAP_MM)
    return most
