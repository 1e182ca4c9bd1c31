"""Places brought onto the step in which a builder marks holes, and every move that is not needed taken back."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from mockup.arrange.problem import Places, Problem
from mockup.arrange.program import Answer, answer, move_mm, solved
from mockup.model.design import Placement
from mockup.model.units import step_mm

EXTRA_STEPS = (0.0, 0.5, 1.0, 2.0)  # room asked for beyond the limits, in steps, so that rounding breaks none
FINER = 10.0  # where a step is too coarse
HOPELESS_MM = 1.0  # lacking before anything is rounded: then no step is fine enough
STAY_MM = 0.025  # what moves less stays where it is


def rounded(problem: Problem, found: Answer) -> Answer:
    """Return good places on the builder's step near those found, on a tenth of it where it is too tight for that.

    Where there are none, the best there are; what lacks much is not searched for them.
    """
    best: Answer | None = None
    for step in (step_mm(problem.units), step_mm(problem.units) / FINER):
        for extra in EXTRA_STEPS if found.lacking_mm <= HOPELESS_MM else (0.0,):
            exact = found if extra == 0 else _roomier(problem, found, extra * step)
            tries = [answer(problem, parts) for parts in _on_step(problem, exact.parts, step)]
            best = min([*tries, *([best] if best is not None else [])], key=lambda each: each.rank)
            if best.is_good:
                return _spared(problem, best)
    assert best is not None
    return best


def _roomier(problem: Problem, found: Answer, extra_mm: float) -> Answer:
    """Return places with room to spare, only the moved parts free; all of them where that is not enough."""
    moved = frozenset(each.name for each in _moved(problem, found.parts, STAY_MM))
    still = frozenset(part.name for part in problem.parts) - moved
    near = solved(replace(problem, pinned=problem.pinned | still), found.parts, extra_mm=extra_mm, rounds=2)
    return near if near.is_good else solved(problem, found.parts, extra_mm=extra_mm, rounds=2)


def _moved(problem: Problem, parts: Places, least_mm: float) -> Iterator[Placement]:
    for before, after in zip(problem.parts, parts, strict=True):
        if move_mm(before, after) >= least_mm or before.rotation_deg != after.rotation_deg:
            yield after


def _on_step(problem: Problem, parts: Places, step: float) -> Iterator[Places]:
    """Yield places with every move rounded to the nearest step, and with every move rounded outward."""
    for outward in (0.0, 0.45):
        yield tuple(_stepped(before, after, step, outward) for before, after in zip(problem.parts, parts, strict=True))


def _stepped(before: Placement, after: Placement, step: float, outward: float) -> Placement:
    def on_step(move: float) -> float:
        return math.copysign(math.floor(abs(move) / step + 0.5 + outward + 1e-9) * step, move)

    right, down = on_step(after.u_mm - before.u_mm), on_step(after.v_mm - before.v_mm)
    deeper = on_step(after.depth_mm - before.depth_mm)
    return replace(
        after, u_mm=before.u_mm + right, v_mm=before.v_mm + down, depth_mm=max(0.0, before.depth_mm + deeper)
    )


def _spared(problem: Problem, good: Answer) -> Answer:
    """Return good places with every move taken back that nothing needs, a whole part or one way of it."""
    held = {name for relation in problem.relations for name in relation.parts}
    best = good
    for index, before in enumerate(problem.parts):
        after = best.parts[index]
        if before.name in held or move_mm(before, after) == 0.0:
            continue  # what holds together was moved together
        ways = (
            replace(after, u_mm=before.u_mm, v_mm=before.v_mm, depth_mm=before.depth_mm),
            replace(after, u_mm=before.u_mm),
            replace(after, v_mm=before.v_mm),
        )
        for back in ways:
            parts = (*best.parts[:index], back, *best.parts[index + 1 :])
            tried = answer(problem, parts)
            if tried.is_good and tried.moved_mm < best.moved_mm - 1e-9:
                best = tried
                break
    return best
