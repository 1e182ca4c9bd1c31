"""Parts put into the nearest place that is free, one after the other: where a program starts that found nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from mockup.arrange.problem import Places, Problem
from mockup.checks.panel.moves import TURNS_DEG, may_turn
from mockup.clearance.free_places import free_places
from mockup.model.design import Placement
from mockup.model.enclosure import faces

GRID_MM = 2.0  # between two places that are tried; the program does the rest
SLACK_MM = 0.5  # what lacks no more is near enough to free
TURN_MM = 6.0  # a turn counts as much as a move of this length


def nearest_free(problem: Problem) -> Iterator[Places]:
    """Yield the parts of a problem in free places, as near as can be to where they stand.

    First those go that stand on the top or on the sides, then those on the top once more, but farther from the player
    or nearer; where nothing stands there, the first part is put towards either end of its side, at each turn that it
    may have. What finds no free place stays where it is.
    """
    sides_last = sorted(problem.parts, key=lambda part: not _is_on_top(part))
    is_bare = not any(_is_on_top(part) or not problem.is_free(part) for part in problem.parts)
    firsts: list[tuple[float, ...]] = [(turn,) for turn in _turns(sides_last[0])] if is_bare else [()]
    ends = [(sides_last, share, turns) for turns in firsts for share in (-0.5, 0.5)]
    for order, share, first in ((sides_last, 0.0, ()), ([*reversed(sides_last)], 0.0, ()), *ends):
        there: Places = tuple(part for part in order if not problem.is_free(part))
        for part in order:
            if problem.is_free(part):
                turns = _turns(part) if there or not first else first
                there = (*there, _put(problem, _wish(problem, part, share, is_first=not there), there, turns))
        by_name = {part.name: part for part in there}
        yield tuple(by_name[part.name] for part in problem.parts)


def _wish(problem: Problem, part: Placement, share: float, *, is_first: bool) -> Placement:
    face = faces(problem.box)[part.face]
    if _is_on_top(part):
        return replace(part, v_mm=part.v_mm + share * face.height_mm)
    return replace(part, u_mm=part.u_mm + share * face.width_mm) if is_first else part


def _is_on_top(part: Placement) -> bool:
    return part.face == "top" and part.kind.mount == "panel"


def _turns(part: Placement) -> tuple[float, ...]:
    return (0.0, *TURNS_DEG) if may_turn(part) or part.kind.mount == "inside" else (0.0,)


def _put(problem: Problem, part: Placement, there: Places, turns: tuple[float, ...]) -> Placement:
    face = faces(problem.box)[part.face]
    steps = [np.arange(mm / 2 % GRID_MM, mm, GRID_MM) for mm in (face.width_mm, face.height_mm)]
    places = np.stack(np.meshgrid(*steps), axis=-1).reshape(-1, 2)
    away = np.linalg.norm(places - (part.u_mm, part.v_mm), axis=1)
    places, away = (each[away <= problem.reach_mm] for each in (places, away))
    best, cost = part, np.inf
    for turn in turns:
        turned = replace(part, rotation_deg=(part.rotation_deg + turn) % 360.0)
        found = free_places(problem.box, turned, there, problem.own, places)
        free = np.flatnonzero(found.spare_mm >= -SLACK_MM)
        dearer = TURN_MM * (turn != 0.0)
        if len(free) and away[free].min() + dearer < cost:
            nearest = free[away[free].argmin()]
            u, v = places[nearest].tolist()
            best, cost = replace(turned, u_mm=u, v_mm=v), float(away[nearest]) + dearer
    return best
