"""Where sockets, a board and a battery go once the top is set out: free places, the trade's first choices first.

Inputs stand on the right and outputs on the left, facing each other; power is in the middle of the far side; what lies
inside rests near the lid. Every place is free by the rules of room before it is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from mockup.arrange.layouts.alone import has_room
from mockup.arrange.layouts.control_parts import knob_of, part_of, usual_turns
from mockup.arrange.layouts.controls import Control, Wanted
from mockup.arrange.problem import Places, Relation
from mockup.arrange.relations import side_order
from mockup.clearance.free_places import free_places
from mockup.clearance.plugs import JACKS
from mockup.clearance.table import broken_by
from mockup.memo import memoize
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face, FaceName, faces
from mockup.model.mesh import Floats, Ints

Way = Literal["left and right", "at the far side"]
WAYS: tuple[Way, ...] = ("left and right", "at the far side")
"""Where jacks stand, in the trade's order."""
GRID_MM = 1.0  # between two places that are tried on a side
INSIDE_GRID_MM = 4.0
LEVELS_MM = (0.0, -2.0, 2.0, -4.0, 4.0, 6.0, -6.0, 8.0)  # below half a side's height
LID_GAPS_MM = (1.2, 4.2)  # from the lid to what lies inside
SPARE_MM = 0.12  # beyond the limits, so that places may be rounded
HIGH_COST, LONG_COST = 0.12, 0.03  # of a millimetre off half the height, off the wish
FIRST_BATCH = 80  # places that are judged at once, then four times as many
MOST_ASKED = 40  # pairs of places that are looked at closely
MOST_TAKEN = 24  # steps of the search


@dataclass(frozen=True, kw_only=True, eq=False)
class Sides:
    """All parts in their places, the top's among them; `cost` is what the sides are short of the trade's first choice.

    With `is_free` every rule is kept; without it some parts stand where they would usually, in each other's way.
    """

    about: Way
    parts: Places
    relations: tuple[Relation, ...]
    cost: float
    is_free: bool = True


@dataclass(frozen=True, kw_only=True)
class _Choice:
    """Places for the one or two parts of a step, and their cost."""

    parts: Places
    cost: float


_Step = Callable[[Places], Iterator[_Choice]]


def sides(wanted: Wanted, box: Enclosure, top: Places, style: str, way: Way) -> Sides | None:
    """Return all controls of a list round a top that is set out, jacks in one `way`; None where that is no way.

    Where no free places are found for all, some stand in the way: see `Sides`.
    """
    maker = _Maker(wanted, box, style, way)
    steps = maker.steps(top)
    if steps is None:
        return None
    found = maker.search(top, steps, 0.0) or maker.search(top, [*reversed(steps)], 0.0)
    is_free = found is not None
    if found is None:
        found = maker.guessed(top, steps)
    parts, cost = found
    by_name = {part.name: part for part in parts}
    ordered = tuple(by_name[each.name] for each in wanted.controls)
    relations = () if is_free else wanted.true_of(side_order(ordered, faces(box)), ordered)
    return Sides(about=way, parts=ordered, relations=relations, cost=cost, is_free=is_free)


class _Maker:
    """The search for free places, part by part, and back where one finds none."""

    def __init__(self, wanted: Wanted, box: Enclosure, style: str, way: Way) -> None:
        self.wanted, self.box, self.style, self.way = wanted, box, style, way
        self.faces = faces(box)
        self.taken = 0
        self.is_guess = False

    def steps(self, top: Places) -> list[_Step] | None:
        """Return the steps, each of which places one part or a pair; None where this way has no jack to place."""
        there = {part.name for part in top}
        left = [each for each in self.wanted.controls if each.name not in there]
        jacks = [each for each in left if each.kind.family == JACKS]
        free = [each for each in jacks if not each.faces]
        if self.way != WAYS[0] and not (free and all(has_room(each, self.box, "far", self.style) for each in free)):
            return None
        pairs, single = self._paired(jacks)
        inside = [each for each in left if each.kind.mount == "inside"]
        rest = [each for each in left if each not in jacks and each not in inside]
        steps: list[_Step] = [self._pair_step(*pair) for pair in pairs]
        steps += [self._single_step(each) for each in (*single, *rest)]
        inside.sort(key=lambda each: -each.kind.depth_mm)
        return [*steps, *(self._inside_step(each) for each in inside)]

    def search(self, there: Places, steps: Sequence[_Step], cost: float) -> tuple[Places, float] | None:
        """Return places for all that the steps are for, from the first choices on; None where there are none."""
        if not steps:
            return there, cost
        for choice in steps[0](there):
            self.taken += 1
            if self.taken > MOST_TAKEN:
                return None
            found = self.search((*there, *choice.parts), steps[1:], cost + choice.cost)
            if found is not None:
                return found
        return None

    def guessed(self, there: Places, steps: Sequence[_Step]) -> tuple[Places, float]:
        """Return places for all, usual ones where none is free."""
        cost = 0.0
        self.taken, self.is_guess = 0, True
        for step in steps:
            choice = next(step(there), None) or next(step(()))
            there, cost = (*there, *choice.parts), cost + choice.cost
        return there, cost

    def _paired(self, jacks: Sequence[Control]) -> tuple[list[tuple[Control, Control]], list[Control]]:
        """Return inputs with outputs that may face them or stand beside them, and jacks without such a partner."""
        loose = [each for each in jacks if each.pin is None]
        inputs = [each for each in loose if each.is_input] or [each for each in loose if not each.faces][::2]
        left = [each for each in loose if each not in inputs]
        pairs = []
        for one in inputs:
            other = next((each for each in left if self._pair_faces(one, each) is not None), None)
            if other is not None:
                left.remove(other)
                pairs.append((one, other))
        paired = [each for pair in pairs for each in pair]
        return pairs, [each for each in jacks if each not in paired]

    def _pair_faces(self, one: Control, other: Control) -> tuple[FaceName, FaceName] | None:
        """Return the faces on which an input and an output mirror each other; None where the list forbids it."""
        ways: tuple[tuple[FaceName, FaceName], ...] = ("right", "left"), ("far", "far")
        if not one.faces and not other.faces:
            return ways[self.way != WAYS[0]]
        return next((way for way in ways if one.faces in ((), way[:1]) and other.faces in ((), way[1:])), None)

    def _pair_step(self, one: Control, other: Control) -> _Step:
        names = self._pair_faces(one, other)
        assert names is not None

        def choices(there: Places) -> Iterator[_Choice]:
            yield from self._mirrored(one, other, names, there)
            if names[0] != "far" or one.faces:
                for first in self._best(one, names[:1], there):
                    for second in self._best(other, names[1:], (*there, *first.parts)):
                        yield _Choice(parts=(*first.parts, *second.parts), cost=first.cost + second.cost + 1.0)

        return choices

    def _single_step(self, control: Control) -> _Step:
        allowed = control.faces
        if not allowed and control.kind.family == JACKS:
            allowed = ("far",) if self.way != WAYS[0] else ("right", "left") if control.is_input else ("left", "right")
        if control.faces and control.pin is not None:
            return lambda there: iter([_Choice(parts=(self._made(control, control.faces[0]),), cost=0.0)])
        return lambda there: self._best(control, allowed or ("far", "left", "right"), there)

    def _made(self, control: Control, face: FaceName) -> Placement:
        at = control.pinned_at(self.box) or (self.faces[face].width_mm / 2, self.faces[face].height_mm / 2)
        return part_of(control, face, *at, knob_of(control, self.style))

    def _alone(self, part: Placement, there: Places, places: Floats, batch: Ints) -> Ints:
        """Return which of a batch of places leave a part its room in the empty box; all for a guess beside nothing."""
        if self.is_guess and not there:
            return batch
        spare = _lone_spares(self.box, replace(part, name=""), places[batch])
        free: Ints = batch[spare >= SPARE_MM]
        return free

    def _free(self, part: Placement, there: Places, places: Floats, among: Ints) -> Ints:
        """Return which of the places `among` all, free in the empty box, leave a part its room beside others."""
        if not there or not len(among):
            return among
        found = free_places(self.box, part, there, {}, places[among], with_box=False)
        free: Ints = among[found.spare_mm >= SPARE_MM]
        return free

    def _grid(self, face: Face) -> Floats:
        half = face.width_mm / 2
        away = np.arange(0.0, half, GRID_MM)
        across = np.concatenate([half + away, half - away[1:]])
        levels = [v for off in LEVELS_MM if 0 < (v := face.height_mm / 2 + off) < face.height_mm]
        return np.stack(np.meshgrid(across, levels), axis=-1).reshape(-1, 2)

    def _mirrored(
        self, one: Control, other: Control, names: tuple[FaceName, FaceName], there: Places
    ) -> Iterator[_Choice]:
        """Yield places in which two jacks mirror each other: right and left, or both at the far side."""
        is_far = names[0] == "far"
        face = self.faces[names[0]]
        places = self._grid(face)
        if is_far:  # seen from outside, the player's right is on the left
            places = places[places[:, 0] < face.width_mm / 2 - 7.0]
        mirrored = np.column_stack([face.width_mm - places[:, 0], places[:, 1]])
        half = np.array([face.width_mm / 2, face.height_mm / 2])
        off = np.abs(places - half)
        along = LONG_COST * (np.abs(off[:, 0] - face.width_mm / 4) if is_far else off[:, 0])
        cost = along + HIGH_COST * off[:, 1] + (2.0 if is_far else 0.0)
        for batch in _batches(cost):
            found = []
            for turn, dearer in usual_turns(one, self._made(one, names[0])):
                first = replace(self._made(one, names[0]), rotation_deg=turn)
                second = replace(self._made(other, names[1]), rotation_deg=(360.0 - turn) % 360.0)
                good = np.intersect1d(
                    self._alone(first, there, places, batch), self._alone(second, there, mirrored, batch)
                )
                good = self._free(first, there, places, good)
                good = self._free(second, there, mirrored, good)
                for index in good.tolist():
                    u, v = places[index].tolist()
                    here = replace(first, u_mm=u, v_mm=v)
                    beside = replace(second, u_mm=face.width_mm - u, v_mm=v)
                    found.append(_Choice(parts=(here, beside), cost=float(cost[index]) + dearer))
            asked = sorted(found, key=lambda each: each.cost)[:MOST_ASKED]
            yield from _spread(
                each for each in asked if not there or not any(broken_by(self.box, each.parts[0], each.parts[1:], {}))
            )

    def _best(self, control: Control, allowed: Sequence[FaceName], there: Places) -> Iterator[_Choice]:
        """Yield the best free places of a part on the faces that it may have, far from each other."""
        for rank, name in enumerate(allowed):
            face = self.faces[name]
            places = self._grid(face)
            facing = self._facing(control, name)
            wish = face.width_mm / 2 if facing is None else facing[0]
            if facing is not None:
                places = np.concatenate([places, [facing]])
            if name in ("left", "right") and control.kind.family != JACKS:
                wish = 20.0 if name == "left" else face.width_mm - 20.0
            high = face.height_mm / 2 if facing is None else facing[1]
            cost = LONG_COST * np.abs(places[:, 0] - wish) + HIGH_COST * np.abs(places[:, 1] - high)
            for batch in _batches(cost):
                found = []
                for turn, dearer in usual_turns(control, self._made(control, name)):
                    part = replace(self._made(control, name), rotation_deg=turn)
                    for index in self._free(part, there, places, self._alone(part, there, places, batch)).tolist():
                        u, v = places[index].tolist()
                        here = replace(part, u_mm=u, v_mm=v)
                        found.append(_Choice(parts=(here,), cost=float(cost[index]) + dearer + 1.5 * rank))
                yield from _spread(sorted(found, key=lambda each: each.cost))

    def _facing(self, control: Control, name: FaceName) -> tuple[float, float] | None:
        """Return where on one side a jack faces one that is pinned on the other; None where there is none."""
        other = {"left": "right", "right": "left"}.get(name)
        for each in self.wanted.controls:
            is_other = each.kind == control.kind and each.is_input != control.is_input and each.faces == (other,)
            at = each.pinned_at(self.box) if is_other and control.kind.family == JACKS else None
            if at is not None:
                return self.faces[name].width_mm - at[0], at[1]
        return None

    def _inside_step(self, control: Control) -> _Step:
        def choices(there: Places) -> Iterator[_Choice]:
            top = self.faces["top"]
            low = self.box.body_mm - self.box.top_mm - control.kind.depth_mm
            size = np.array([top.width_mm, top.height_mm])
            steps = [np.arange(mm / 2 % INSIDE_GRID_MM, mm, INSIDE_GRID_MM) for mm in size]
            places = np.stack(np.meshgrid(*steps), axis=-1).reshape(-1, 2)
            cost = LONG_COST * np.abs(places - size / 2).sum(axis=1)
            at = control.pinned_at(self.box)
            if at is not None:
                places, cost = np.array([at]), np.zeros(1)
            turns = (control.turn_deg,) if control.turn_deg is not None else (90.0, 0.0, 270.0, 180.0)
            found = []
            for gap in LID_GAPS_MM:
                for turn in turns:
                    part = replace(
                        self._made(control, "top"), rotation_deg=turn, depth_mm=round(max(0.0, low - gap), 1)
                    )
                    lone = self._alone(part, there, places, np.arange(len(places)))
                    for index in self._free(part, there, places, lone).tolist():
                        u, v = places[index].tolist()
                        here = replace(part, u_mm=u, v_mm=v)
                        found.append(_Choice(parts=(here,), cost=float(cost[index]) + 0.01 * gap))
                    if found and not there:
                        break
                if found:
                    break
            yield from _spread(sorted(found, key=lambda each: each.cost))

        return choices


@memoize  # asked for again for every scheme of the top
def _lone_spares(box: Enclosure, part: Placement, places: Floats) -> Floats:
    return free_places(box, part, (), {}, places).spare_mm


def _batches(cost: Floats) -> Iterator[Ints]:
    """Yield the numbers of places in batches that grow, the cheapest first: the first few are often enough."""
    order = np.argsort(cost, kind="stable")
    start, size = 0, FIRST_BATCH
    while start < len(order):
        yield order[start : start + size]
        start, size = start + size, 4 * size


def _spread(choices: Iterable[_Choice], count: int = 3) -> Iterator[_Choice]:
    """Yield the best choices that lie well apart."""
    taken: list[_Choice] = []
    for each in choices:
        first = each.parts[0]
        if all(
            one.parts[0].face != first.face
            or abs(one.parts[0].u_mm - first.u_mm) + abs(one.parts[0].v_mm - first.v_mm) > APART_MM
            for one in taken
        ):
            taken.append(each)
            yield each
            if len(taken) == count:
                return


APART_MM = 14.0  # between two choices that are worth trying one after the other
