"""The smallest move of one part that cures a finding and makes nothing else worse."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from mockup.checks._built import Built
from mockup.checks._margins import margins
from mockup.checks._words import step_mm
from mockup.model.design import Placement
from mockup.model.limits import Limits
from mockup.model.units import format_length

Test = Callable[[Placement, tuple[Placement, ...]], bool]
"""Asked with a moved part and all other parts: is it cured?"""

WAYS = (("left", -1.0, 0.0), ("right", 1.0, 0.0), ("up", 0.0, -1.0), ("down", 0.0, 1.0))
"""Directions on a face as somebody sees it who looks straight at it."""
TRIES = (1, 2, 3, 5, 8, 12, 18, 27, 40, 60, 90, 135, 200, 300)  # steps tried before the answer is narrowed down
SHORT_MM = 3.0  # a shorter move is better than a turn: common practice, no source
TURNS_DEG = (90.0, 270.0, 180.0)
CLOSE = 1e-9


@dataclass(frozen=True, kw_only=True)
class Move:
    """One part moved `steps` times the step of the layout's units in one of the `WAYS`."""

    name: str
    way: str
    mm: float


def remedy(built: Built, limits: Limits, names: Sequence[str], is_cured: Test, *, turns: bool = False) -> str:
    """Return a sentence that says which part to move where and by how much, or an empty text.

    The smallest move in one direction of any part of `names`; with `turns` a turn by a quarter or a half
    also counts, for parts that look the same from outside after it.
    """
    found = sorted(_moves(built, limits, names, is_cured), key=lambda move: move.mm)
    if found and (found[0].mm <= SHORT_MM or not turns):
        return _sentence(built, found[0])
    for name in reversed(names) if turns else ():
        part = built.part(name)
        if not may_turn(part):
            continue
        for turn in TURNS_DEG:
            moved = replace(part, rotation_deg=part.rotation_deg + turn)
            if _is_good(built, limits, part, moved, is_cured):
                return f"Turn {name} by {turn:g} degrees (rotation = {moved.rotation_deg % 360:g})"
    return _sentence(built, found[0]) if found else ""


def may_turn(part: Placement) -> bool:
    """True where a part may be turned on its axis without anybody seeing it from outside."""
    return (
        part.kind.mount == "panel"
        and part.kind.shaft is None
        and part.kind.family != "toggle"
        and all(cutout.outline.kind == "circle" and cutout.at == (0.0, 0.0) for cutout in part.kind.cutouts)
    )


def _sentence(built: Built, move: Move) -> str:
    return f"Move {move.name} {format_length(move.mm, built.design.units)} {move.way}"


def _moves(built: Built, limits: Limits, names: Sequence[str], is_cured: Test) -> Iterator[Move]:
    step = step_mm(built.design.units)
    for name in reversed(names):
        part = built.part(name)
        for way, across, down in WAYS:

            def is_good(steps: int, part: Placement = part, across: float = across, down: float = down) -> bool:
                shift = steps * step
                moved = replace(part, u_mm=part.u_mm + across * shift, v_mm=part.v_mm + down * shift)
                return _is_good(built, limits, part, moved, is_cured)

            steps = _least(is_good)
            if steps is not None:
                yield Move(name=name, way=way, mm=steps * step)


def _least(is_good: Callable[[int], bool]) -> int | None:
    bad = 0
    for good in TRIES:
        if is_good(good):
            break
        bad = good
    else:
        return None
    while good - bad > 1:
        middle = (good + bad) // 2
        if is_good(middle):
            good = middle
        else:
            bad = middle
    return good


def _is_good(built: Built, limits: Limits, part: Placement, moved: Placement, is_cured: Test) -> bool:
    face = built.faces[moved.face]
    if not 0 <= moved.v_mm <= face.height_mm:
        return False
    if not face.left_edge(moved.v_mm) <= moved.u_mm <= face.right_edge(moved.v_mm):
        return False
    others = tuple(each for each in built.design.parts if each.name != part.name)
    before = margins(built, limits, part, others)
    after = margins(built, limits, moved, others)
    if any(room < min(0.0, before[key]) - CLOSE for key, room in after.items()):
        return False
    return is_cured(moved, others)
