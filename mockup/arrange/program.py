"""Places that keep every rule, as near as can be to where parts should stand: a short sequence of linear programs.

With the direction in which each two pieces are parted held fixed, every rule is a straight line in the places, and
the least sum of moves is a linear program (HiGHS, by scipy). Then the directions are chosen again. What cannot be
kept is paid for by slack, so that there is always an answer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import coo_matrix

from mockup.arrange.problem import Places, Problem, total_mm
from mockup.clearance.directions import ways_of
from mockup.clearance.placed import placed
from mockup.clearance.rows import Rows, rows
from mockup.clearance.rules import Encounter, alone, between
from mockup.memo import memoize
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, faces
from mockup.model.mesh import Floats

ROUNDS = 6  # programs at most; two to four are usual
SIDES = 16  # of the polygon that stands for the length of a move
SLACK_COST = 1000.0  # of a millimetre that is lacking, against one that is moved
DEEPER_COST = 1.2  # of a millimetre deeper or higher inside, against one along the face: our choice
STAY_MM = 1e-6  # less than this is no move
CLOSE_MM = 0.02  # a program that saves less is the last
VAIN_MM, VAIN_SHARE = 15.0, 0.9  # so much lacking, and so much of what lacked before: more programs do not help


@dataclass(frozen=True, kw_only=True, eq=False)
class Answer:
    """Places, how far parts moved altogether, and how much room is lacking still."""

    parts: Places
    moved_mm: float
    lacking_mm: float

    @property
    def is_good(self) -> bool:
        """Whether every rule is kept."""
        return self.lacking_mm <= 0.0

    @property
    def rank(self) -> tuple[float, float]:
        """What makes one answer better than another, the least best: what is lacking, then what moves."""
        return round(self.lacking_mm, 3), round(self.moved_mm, 3)


def solved(
    problem: Problem,
    start: Places | None = None,
    *,
    extra_mm: float = 0.0,
    rounds: int = ROUNDS,
    weights: Mapping[str, float] | None = None,
) -> Answer:
    """Return the best places that a sequence of programs finds, from `start` on; moves count from the problem's places.

    `extra_mm` asks for so much more room than the limits do. `weights` make a part's move dearer or cheaper.
    """
    here = problem.parts if start is None else start
    best = answer(problem, here)
    is_roomy = extra_mm == 0 and problem.is_in_order(here)  # the start may already be what is asked for
    last = math.inf
    for _ in range(rounds):
        there = step(problem, here, extra_mm=extra_mm, weights=weights or {})
        if there is None:
            break
        found = answer(problem, there)
        gain = best.moved_mm - found.moved_mm
        is_last = is_roomy and best.is_good and found.is_good and gain < CLOSE_MM
        best = found if not is_roomy or found.rank < best.rank else best
        is_roomy = True
        is_vain = best.lacking_mm > VAIN_MM and found.lacking_mm > VAIN_SHARE * last
        last = found.lacking_mm
        if is_last or is_vain or _far(here, there) < CLOSE_MM:
            break
        here = there
    return best


def answer(problem: Problem, parts: Places) -> Answer:
    """Return places with what they cost and lack."""
    return Answer(parts=parts, moved_mm=moved_mm(problem, parts), lacking_mm=total_mm(problem.lacking(parts)))


def moved_mm(problem: Problem, parts: Places) -> float:
    """Return how far parts were moved altogether."""
    return sum(move_mm(one, other) for one, other in zip(problem.parts, parts, strict=True))


def move_mm(before: Placement, after: Placement) -> float:
    """Return how far a part was moved, along its face and deeper."""
    flat = math.hypot(after.u_mm - before.u_mm, after.v_mm - before.v_mm)
    return flat + abs(after.depth_mm - before.depth_mm)


def step(problem: Problem, here: Places, *, extra_mm: float, weights: Mapping[str, float]) -> Places | None:
    """Return where one program puts the parts, its directions chosen at `here`; None where it finds nothing at all."""
    free = [index for index, part in enumerate(problem.parts) if problem.is_free(part)]
    if not free:
        return None
    number = {problem.parts[index].name: count for count, index in enumerate(free)}
    lines = _Lines(problem, here, number, extra_mm)
    found = lines.solve([weights.get(problem.parts[index].name, 1.0) for index in free])
    if found is None:
        return None
    after = list(problem.parts)
    for count, index in enumerate(free):
        part, (right, down, deep) = problem.parts[index], found[count]
        if max(abs(right), abs(down), abs(deep)) > STAY_MM:
            after[index] = replace(
                part, u_mm=part.u_mm + right, v_mm=part.v_mm + down, depth_mm=max(0.0, part.depth_mm + deep)
            )
    turned = zip(after, here, strict=True)
    return tuple(replace(one, rotation_deg=other.rotation_deg) for one, other in turned)


class _Lines:
    """The rows of one program; its columns are the moves (right, down, deeper) of each free part, from where it is."""

    def __init__(self, problem: Problem, here: Places, number: Mapping[str, int], extra_mm: float) -> None:
        self.problem, self.number, self.extra = problem, number, extra_mm
        self.offset = {
            part.name: np.array([now.u_mm - part.u_mm, now.v_mm - part.v_mm, now.depth_mm - part.depth_mm])
            for part, now in zip(problem.parts, here, strict=True)
        }
        self.spares: list[Floats] = []
        self.cells: Cells = []
        self.slacks: list[Any] = []
        self.count = self.encounters = 0
        free = frozenset(number)
        for part in here:
            for owner_names, found in _alone(problem.box, part, problem.own, part.name in free, problem.reach_mm):
                self._add(owner_names, found)
        for first, second in combinations(here, 2):
            are_free = first.name in free, second.name in free
            if any(are_free):
                for owner_names, found in _pair(problem.box, first, second, problem.own, are_free, problem.reach_mm):
                    self._add(owner_names, found)

    def _add(self, names: Sequence[str], found: Rows) -> None:
        """Take rows in: ``slopes . (move - offset) + spare - extra + slack >= 0``."""
        spare = found.spares - self.extra
        index = self.count + np.arange(len(spare))
        for name, slopes in zip(names, found.slopes, strict=True):
            spare = spare - slopes @ self.offset[name]
            if name in self.number:
                for axis in range(3):
                    column = np.full(len(index), 3 * self.number[name] + axis)
                    self.cells.append((index, column, slopes[:, axis]))
        self.spares.append(spare)
        self.slacks.append(np.full(len(index), self.encounters))
        self.count += len(index)
        self.encounters += 1

    def solve(self, weights: Sequence[float]) -> Floats | None:
        """Return the move (n, 3) of each free part, or None where the program has no answer."""
        parts = len(self.number)
        moves, lengths, slacks = 3 * parts, 2 * parts, self.encounters
        # columns: moves, then the length along the face and the depth's change of each part, then the slacks
        cost = np.concatenate(
            [
                np.zeros(moves),
                np.repeat(weights, 2) * np.tile([1.0, DEEPER_COST], parts),
                np.full(slacks, SLACK_COST),
            ]
        )
        cells: Cells = [(row, column, -value) for row, column, value in self.cells]
        upper = [*self.spares]
        if self.count:
            index = np.arange(self.count)
            cells.append((index, moves + lengths + np.concatenate(self.slacks), -np.ones(self.count)))
        count = self.count
        turn = 2 * math.pi * np.arange(SIDES) / SIDES
        for part in range(parts):
            index = count + np.arange(SIDES + 2)
            ones = np.ones(SIDES)
            cells += [
                (index[:SIDES], np.full(SIDES, 3 * part), np.cos(turn)),
                (index[:SIDES], np.full(SIDES, 3 * part + 1), np.sin(turn)),
                (index[:SIDES], np.full(SIDES, moves + 2 * part), -ones),
                (index[SIDES:], np.full(2, 3 * part + 2), np.array([1.0, -1.0])),
                (index[SIDES:], np.full(2, moves + 2 * part + 1), -np.ones(2)),
            ]
            upper.append(np.zeros(SIDES + 2))
            count += SIDES + 2
        equal, values = self._relations(moves + lengths + slacks)
        found = linprog(
            cost,
            A_ub=_matrix(cells, (count, moves + lengths + slacks)),
            b_ub=np.concatenate(upper),
            A_eq=equal,
            b_eq=values,
            bounds=[*self._bounds(), *[(0.0, None)] * (lengths + slacks)],
            method="highs",
        )
        return None if found.x is None else np.asarray(found.x[:moves]).reshape(parts, 3)

    def _relations(self, columns: int) -> tuple[coo_matrix | None, Floats | None]:
        cells: Cells = []
        values = []
        where = {part.name: (part.u_mm, part.v_mm) for part in self.problem.parts}
        kept = [each for each in self.problem.relations if any(name in self.number for name in each.parts)]
        for index, relation in enumerate(kept):
            values.append(relation.value - sum(weight * where[name][axis] for name, axis, weight in relation.terms))
            for name, axis, weight in relation.terms:
                if name in self.number:
                    cells.append((np.array([index]), np.array([3 * self.number[name] + axis]), np.array([weight])))
        if not kept:
            return None, None
        return _matrix(cells, (len(kept), columns)), np.array(values)

    def _bounds(self) -> list[tuple[float | None, float | None]]:
        """Return how far each free part may go: within reach, and not off its face."""
        reach, frames = self.problem.reach_mm, faces(self.problem.box)
        found: list[tuple[float | None, float | None]] = []
        for part in self.problem.parts:
            if part.name not in self.number:
                continue
            face = frames[part.face]
            found += [
                (max(-reach, -part.u_mm), min(reach, face.width_mm - part.u_mm)),
                (max(-reach, -part.v_mm), min(reach, face.height_mm - part.v_mm)),
                (-min(part.depth_mm, reach), reach) if part.kind.mount == "inside" else (0.0, 0.0),
            ]
        return found


Cells = list[tuple[Any, Any, Floats]]
"""Rows, columns and values of a sparse matrix, piece by piece."""


def _matrix(cells: Cells, shape: tuple[int, int]) -> coo_matrix:
    row, column, value = (np.concatenate(each) for each in zip(*cells, strict=True))
    return coo_matrix((value, (row, column)), shape=shape).tocsr()


@memoize
def _alone(
    box: Enclosure, part: Placement, own: Mapping[str, float], is_free: bool, reach_mm: float
) -> tuple[tuple[tuple[str, ...], Rows], ...]:
    return _measured(box, alone(placed(box, part, own)), {part.name: is_free}, reach_mm)


@memoize
def _pair(
    box: Enclosure,
    first: Placement,
    second: Placement,
    own: Mapping[str, float],
    are_free: tuple[bool, bool],
    reach_mm: float,
) -> tuple[tuple[tuple[str, ...], Rows], ...]:
    free = {first.name: are_free[0], second.name: are_free[1]}
    return _measured(box, between(placed(box, first, own), placed(box, second, own)), free, 2 * reach_mm)


def _measured(
    box: Enclosure, encounters: Iterable[Encounter], free: Mapping[str, bool], within_mm: float
) -> tuple[tuple[tuple[str, ...], Rows], ...]:
    found = []
    for meets in encounters:
        names = tuple(owner.part.name for owner in meets.owners)
        lines = rows(meets, ways_of(box), tuple(free[name] for name in names), within_mm)
        if lines is not None:
            found.append((names, lines))
    return tuple(found)


def _far(one: Places, other: Places) -> float:
    return max((move_mm(a, b) for a, b in zip(one, other, strict=True)), default=0.0)
