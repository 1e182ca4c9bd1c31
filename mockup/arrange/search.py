"""The least change of places that keeps every rule: programs from several starts, parts turned, order kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

import numpy as np

from mockup.arrange.nearest import nearest_free
from mockup.arrange.problem import Places, Problem, Relation, named
from mockup.arrange.program import Answer, answer, move_mm, solved
from mockup.arrange.relations import relations
from mockup.arrange.rounding import rounded
from mockup.checks.panel.moves import SHORT_MM, TURNS_DEG, may_turn
from mockup.clearance.rules import BODIES, TIPS, WIRES
from mockup.model.design import Placement
from mockup.options import Progress, silent

STARTS = 3  # where one start finds nothing, so many more are tried from places shaken by chance
SHAKEN_MM = 4.0
TURN_MM = SHORT_MM  # a turn counts as much as a move of this length
DEARER = 1.25  # order is kept where that moves the parts no more than so much farther
PAIRED = 2.05  # or, where no part moves farther for it, so much: its partner goes along
TURNED_RULES = frozenset({BODIES, WIRES, TIPS})
MOST_TURNS = 5
FAR_MM = 15.0  # lacking after a whole search from one start: then neither turns nor small shifts help
FRESH_STARTS = 2  # from which parts are put into free places one by one, where nothing else helps


@dataclass(frozen=True, kw_only=True, eq=False)
class Change:
    """New places for the parts of a problem, and what was kept in order among those that moved."""

    parts: Places
    moved_mm: float
    lacking_mm: float
    kept: tuple[Relation, ...] = ()

    @property
    def is_good(self) -> bool:
        """Whether every rule is kept."""
        return self.lacking_mm <= 0.0


def least_change(
    problem: Problem, *, is_order_first: bool = False, is_brief: bool = False, progress: Progress = silent
) -> Change:
    """Return the least change that keeps every rule, on the builder's step; or the best there is.

    Order among the parts (`relations`) is kept where that costs little, or wherever it can be with `is_order_first`.
    A search that `is_brief` tries no shifts by chance, and each turn once.
    """
    found = relations(problem.box, problem.parts)
    levels = [tuple(each for each in found if each.kind in ("middle", "pair")), found]
    progress(0, 3, "looking for places")
    free = _searched(problem, is_brief=is_brief)
    best, kept = free, tuple[Relation, ...]()
    for count, held in enumerate(each for each in dict.fromkeys(levels) if each):
        progress(count + 1, 3, "keeping order")
        if free.lacking_mm > FAR_MM:
            break
        ordered = _ordered(replace(problem, relations=held), free)
        if (is_order_first and ordered.is_good) or _is_worth(problem, free, ordered):
            best, kept = ordered, held
    done = rounded(replace(problem, relations=kept), best)
    if not done.is_good and kept:
        done, kept = rounded(problem, free), ()
    progress(3, 3, "places found")
    moved = {part.name for part, now in zip(problem.parts, done.parts, strict=True) if move_mm(part, now) > 0}
    return Change(
        parts=done.parts,
        moved_mm=done.moved_mm,
        lacking_mm=done.lacking_mm,
        kept=tuple(each for each in kept if moved & set(each.parts) and each.is_kept(done.parts)),
    )


def _ordered(held: Problem, free: Answer) -> Answer:
    """Return the best places that keep order, the parts turned as in `free`."""
    turned = tuple(
        replace(part, rotation_deg=now.rotation_deg) for part, now in zip(held.parts, free.parts, strict=True)
    )
    starts = (turned, free.parts) if free.moved_mm > 0 else (turned,)
    return min((solved(held, each) for each in starts), key=lambda each: each.rank)


def _is_worth(problem: Problem, free: Answer, ordered: Answer) -> bool:
    """Return whether places that keep order are good enough beside those that need not."""
    if ordered.lacking_mm > free.lacking_mm + 1e-3:
        return False
    if _cost(problem, ordered) <= DEARER * _cost(problem, free) + 1e-6:
        return True
    longest = [max(map(move_mm, problem.parts, each.parts)) for each in (ordered, free)]
    return longest[0] <= longest[1] + 1e-6 and _cost(problem, ordered) <= PAIRED * _cost(problem, free)


def _searched(problem: Problem, *, is_brief: bool) -> Answer:
    """Return the best places from several starts, parts turned where that saves more than it costs."""
    best = solved(problem)
    if best.is_good and _cost(problem, best) <= SHORT_MM:
        return best
    if best.lacking_mm <= FAR_MM:
        best = _turned(problem, best, 1 if is_brief else MOST_TURNS)
        for seed in range(0 if is_brief else STARTS):
            if best.is_good:
                break
            there = solved(problem, _shaken(problem, best.parts, seed))
            best = _better(problem, best, _turned(problem, there, MOST_TURNS))
    for start in islice(nearest_free(problem), FRESH_STARTS):
        if best.is_good:
            break
        if answer(problem, start).lacking_mm <= FAR_MM:
            best = _better(problem, best, solved(problem, start, rounds=3))
    return best


def _turned(problem: Problem, best: Answer, most: int) -> Answer:
    """Return the best places with up to so many parts turned by quarters, one after the other, pairs together."""
    for _ in range(most):
        tried = best
        for turned in _turns(problem, best):
            quick = solved(problem, turned, rounds=2)
            tried = _better(problem, tried, quick)
        if tried is best:
            return best
        best = _better(problem, tried, solved(problem, tried.parts))
        if best.is_good and best.moved_mm <= SHORT_MM:
            return best
    return best


def _turns(problem: Problem, best: Answer) -> Iterator[Places]:
    """Yield the places with one part, or a pair, turned: those that are in the way, or were moved far for it."""
    asked = {name for margin in problem.lacking(problem.parts) if margin.rule in TURNED_RULES for name in margin.parts}
    asked |= {name for margin in problem.lacking(best.parts) if margin.rule in TURNED_RULES for name in margin.parts}
    partners = {each.parts[0]: each.parts[1] for each in problem.relations if each.kind == "pair"}
    for name in sorted(asked):
        part = named(problem.parts, name)
        if not problem.is_free(part) or not may_turn(part):
            continue
        for turn in TURNS_DEG:
            rotation = (part.rotation_deg + turn) % 360.0
            for start in (problem.parts, best.parts):
                yield _with_turn(start, name, rotation)
            if name in partners:
                other = named(problem.parts, partners[name])
                mirrored = (other.rotation_deg + (turn if turn == 180.0 else 360.0 - turn)) % 360.0
                yield _with_turn(_with_turn(best.parts, name, rotation), other.name, mirrored)


def _with_turn(parts: Places, name: str, rotation_deg: float) -> Places:
    return tuple(replace(each, rotation_deg=rotation_deg) if each.name == name else each for each in parts)


def _cost(problem: Problem, found: Answer) -> float:
    turns = sum(one.rotation_deg != other.rotation_deg for one, other in zip(problem.parts, found.parts, strict=True))
    return found.moved_mm + TURN_MM * turns


def _better(problem: Problem, one: Answer, other: Answer) -> Answer:
    """Return the better answer, the first of two equal ones."""

    def rank(each: Answer) -> tuple[float, float]:
        return round(each.lacking_mm, 2), round(_cost(problem, each), 2)

    return other if rank(other) < rank(one) else one


def _shaken(problem: Problem, parts: Sequence[Placement], seed: int) -> Places:
    """Return places shaken by chance, the same for the same seed."""
    chance = np.random.default_rng([seed, len(parts)])
    shifts = chance.uniform(-SHAKEN_MM, SHAKEN_MM, (len(parts), 2)).tolist()
    return tuple(
        replace(part, u_mm=part.u_mm + right, v_mm=part.v_mm + down) if problem.is_free(part) else part
        for part, (right, down) in zip(parts, shifts, strict=True)
    )
