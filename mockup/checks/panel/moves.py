"""The smallest move of one part that mends a finding and makes nothing else worse, as edits of the layout."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import combinations

from mockup.checks.panel.built import Built
from mockup.clearance.placed import TOGGLE
from mockup.clearance.table import Margin, between_parts, broken_by
from mockup.model.design import Placement
from mockup.model.edit import Address, Edit, Move, PutValue
from mockup.model.units import step_mm

WAYS = ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0))
"""Directions on a face, right and down: left, right, up and down to somebody who looks straight at it."""
TRIES = (1, 3, 6, 12, 25, 50, 100, 200, 300)  # steps tried before the answer is narrowed down
CLOSE_TRIES = tuple(range(4, 101, 4))  # where all of those step over what little room there is: our choice
SHORT_MM = 3.0  # a shorter move is better than a turn: common practice, no source
TURNS_DEG = (90.0, 270.0, 180.0)
CLOSE_MM = 0.001  # below this a margin counts as kept: rounding


def cure(built: Built, names: Sequence[str], *rules: str, turns: bool = False) -> tuple[Edit, ...]:
    """Return the edit that moves one part far enough, or nothing where no move of one part helps.

    It is the smallest move in one direction of any part of `names` after which the part keeps some rules of room; with
    `turns` a turn by a quarter or a half also counts, for parts that look the same from outside after it.
    """
    searches = [_Search(built, built.part(name), rules) for name in reversed(names)]
    best = _smallest(searches)
    if best is not None and (best[0] <= SHORT_MM or not turns):
        return (best[1],)
    for search in searches if turns else ():
        turn = search.turn_deg()
        if turn is not None:
            address = Address(way=("part", search.part.name, "rotation"))
            return (PutValue(address=address, value=(search.part.rotation_deg + turn) % 360),)
    return (best[1],) if best is not None else ()


def clearing(built: Built, name: str) -> tuple[Edit, ...]:
    """Return the edit that moves one part in one direction so that it keeps all that it breaks now, or nothing."""
    part = built.part(name)
    search = _Search(built, part, ())
    search.rules = tuple(dict.fromkeys(rule for (rule, _, _), lack in search.before.items() if lack > CLOSE_MM))
    best = _smallest([search])
    return (best[1],) if best is not None else ()


def freeing(built: Built, name: str, is_free: Callable[[Placement], bool]) -> tuple[Edit, ...]:
    """Return the smallest move of one part in one direction to where it is free and breaks nothing more, or nothing."""
    best = _smallest([_Search(built, built.part(name), (), is_free)])
    return (best[1],) if best is not None else ()


def is_no_worse(built: Built, part: Placement) -> bool:
    """Return whether a part as changed breaks no rule more than the part of that name does now."""
    search = _Search(built, built.part(part.name), ())
    return search.is_no_worse(part)


def agree(built: Built, edits: Sequence[Edit]) -> bool:
    """Return whether moves and turns that were found one by one hold together too: no two moved parts get closer."""
    moved: dict[str, Placement] = {}
    for edit in edits:
        if isinstance(edit, Move | PutValue) and edit.address.way[0] == "part":
            name = str(edit.address.way[1])
            moved[name] = _after(edit, moved.get(name, built.part(name)))
    return all(
        _lack(built, moved[first], moved[second])
        <= min(_lack(built, moved[first], built.part(second)), _lack(built, built.part(first), moved[second]))
        + CLOSE_MM
        for first, second in combinations(moved, 2)
    )


def _after(edit: Edit, part: Placement) -> Placement:
    """Return a part after a move of it, or a turn."""
    if isinstance(edit, Move):
        return replace(part, u_mm=part.u_mm + edit.right_mm, v_mm=part.v_mm + edit.down_mm)
    if isinstance(edit, PutValue) and edit.address.way[-1] == "rotation" and isinstance(edit.value, int | float):
        return replace(part, rotation_deg=float(edit.value))
    return part


def _lack(built: Built, first: Placement, second: Placement) -> float:
    """Return how much room two parts lack at most by any rule between them."""
    found = between_parts(built.design.enclosure, first, second, built.design.limits)
    return max((-each.spare_mm for each in found if not each.is_near), default=0.0)


class _Search:
    """The search for a better place of one part; how much room it lacks now is measured once.

    A good place keeps `rules`, is free by `is_free`, and breaks no other rule more than the part does now.
    """

    def __init__(
        self,
        built: Built,
        part: Placement,
        rules: Sequence[str],
        is_free: Callable[[Placement], bool] = lambda _: True,
    ) -> None:
        self.built, self.part, self.rules, self.is_free = built, part, rules, is_free
        self.others = tuple(each for each in built.design.parts if each.name != part.name)
        self.before = self._lacking(part)
        in_the_way = {name for _, names, _ in self.before for name in names}  # asked first, they most often still are
        self.others = tuple(sorted(self.others, key=lambda each: each.name not in in_the_way))

    def better_than(self, best: tuple[float, Move] | None, tries: Sequence[int]) -> tuple[float, Move] | None:
        """Return the smallest good move of the part, with its length, if it is smaller than `best`, or else `best`."""
        step, address = step_mm(self.built.design.units), Address(way=("part", self.part.name))
        for across, down in WAYS:
            below = tries[-1] + 1 if best is None else round(best[0] / step)
            steps = _least(partial(self._is_good_after, across * step, down * step), below, tries)
            if steps is not None:
                long = steps * step
                best = long, Move(address=address, right_mm=across * long, down_mm=down * long)
        return best

    def turn_deg(self) -> float | None:
        """Return the first turn of the part that is good, or None; only for what looks the same after it."""
        if not may_turn(self.part):
            return None
        return next((turn for turn in TURNS_DEG if self._is_good(0.0, 0.0, turn)), None)

    def _is_good_after(self, across_mm: float, down_mm: float, steps: int) -> bool:
        return self._is_good(steps * across_mm, steps * down_mm)

    def _is_good(self, across_mm: float, down_mm: float, turn_deg: float = 0.0) -> bool:
        part = self.part
        moved = replace(
            part, u_mm=part.u_mm + across_mm, v_mm=part.v_mm + down_mm, rotation_deg=part.rotation_deg + turn_deg
        )
        if not self.built.faces[moved.face].holds(moved.u_mm, moved.v_mm) or not self.is_free(moved):
            return False
        return self.is_no_worse(moved)

    def is_no_worse(self, part: Placement) -> bool:
        """Return whether a part keeps the rules, and breaks no other more than before."""
        return not any(self._is_bad(each) for each in self._broken(part))

    def _is_bad(self, margin: Margin) -> bool:
        """Return whether a margin is one to be cured, or worse than it was."""
        lack = -margin.spare_mm
        least = 0.0 if margin.rule in self.rules else self.before.get(margin.key, 0.0)
        return lack > least + CLOSE_MM

    def _broken(self, part: Placement) -> Iterator[Margin]:
        design = self.built.design
        return broken_by(design.enclosure, part, self.others, design.limits)

    def _lacking(self, part: Placement) -> dict[tuple[str, tuple[str, ...], str], float]:
        """Return how much room a part lacks by each rule that it breaks."""
        lacking: dict[tuple[str, tuple[str, ...], str], float] = {}
        for each in self._broken(part):
            lacking[each.key] = max(lacking.get(each.key, 0.0), -each.spare_mm)
        return lacking


def _smallest(searches: Sequence[_Search]) -> tuple[float, Move] | None:
    """Return the smallest good move of any search, with its length; where there is none, looked for more closely."""
    best: tuple[float, Move] | None = None
    for tries in (TRIES, CLOSE_TRIES):
        for search in searches:
            best = search.better_than(best, tries)
        if best is not None:
            break
    return best


def may_turn(part: Placement) -> bool:
    """True where a part may be turned on its axis without anybody seeing it from outside."""
    return (
        part.kind.mount == "panel"
        and part.kind.shaft is None
        and part.kind.family != TOGGLE
        and all(cutout.outline.kind == "circle" and cutout.at == (0.0, 0.0) for cutout in part.kind.cutouts)
    )


def _least(is_good: Callable[[int], bool], below: int, tries: Sequence[int]) -> int | None:
    """Return a number of steps under `below` that is good, such that one step less is not; None if none was found."""
    bad = 0
    for good in (*(each for each in tries if each < below - 1), below - 1):
        if good <= bad or not is_good(good):
            bad = max(bad, good)
            continue
        while good - bad > 1:
            middle = (good + bad) // 2
            if is_good(middle):
                good = middle
            else:
                bad = middle
        return good
    return None
