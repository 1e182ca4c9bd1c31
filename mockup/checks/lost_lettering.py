"""Labels and scales that run past the flat of their face, where they are cut off."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.model.edit import Address, Move
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.label import LostInk

LIMITS = """
[lost_ink_mm]
value = 0.2
about = "how much of a letter, a mark or a line may be cut off at the edge of a face's flat before it is missed"
source = "common practice, no source"
"""
READS = ("enclosure", "lost")
_SCALE = '[[scale]]\npart = "DRIVE"\n'
PLANTED = Case(part_text("DRIVE", "pot-16", top=60, left=9) + _SCALE)
SOUND = Case(part_text("DRIVE", "pot-16", top=60, left=30) + _SCALE)
_MOVES = {"label": "Move its part back", "scale": "Move the part back", "border": "Move it"}
_SIDES = ("left", "top", "right", "bottom")


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    told: dict[tuple[str, str], list[LostInk]] = {}
    for ink in built.design.lost:
        told.setdefault((ink.kind, ink.name), []).append(ink)
    for same in told.values():  # a scale's marks and its numbers are one thing
        yield _cut_off(built, same)


def _cut_off(built: Built, inks: Sequence[LostInk]) -> Finding:
    limit, first = built.limits["lost_ink_mm"], inks[0]
    left, top, right, bottom = past = tuple(max(each) for each in zip(*(ink.past_mm for ink in inks), strict=True))
    is_gone = not any(_is_on(built, ink) for ink in inks)
    is_too_large = (left > 0 and right > 0) or (top > 0 and bottom > 0)
    worst = max(past)
    flat_left, flat_top, flat_right, flat_bottom = built.faces[first.face].flat
    is_across = left > 0 and right > 0
    whole = {"label": "the label {first}", "scale": "the scale of {first}", "border": "the border"}[first.kind]
    way = first.mover if not is_too_large else ()
    move = Move(address=Address(way=way), right_mm=_up(left) - _up(right), down_mm=_up(top) - _up(bottom))
    return Finding(
        severity="stop" if worst > limit.value else "warn",
        title="Lettering off the flat",
        what=f"{whole} lies wholly past the flat part of the {{face}} face, so nothing of it is printed"
        if is_gone
        else f"{whole} runs {{measured}} past the flat part of the {{face}} face at the {{side}}, and is cut off there",
        subjects=(Subject(kind="part" if first.kind == "scale" else "label", name=first.name),),
        edits=(move,) if way else (),
        remedy=f"Make it at most {{room}} {'wide' if is_across else 'high'}"
        if is_too_large
        else f"{_MOVES[first.kind]} by {{measured}}, or make it smaller",
        measured=mm(round(worst, 2)),
        limit=limit,
        facts={
            "face": first.face,
            "side": _SIDES[past.index(worst)],
            "room": mm(flat_right - flat_left if is_across else flat_bottom - flat_top),
        },
        marks=tuple(_mark(ink) for ink in inks),
    )


def _is_on(built: Built, ink: LostInk) -> bool:
    """Return whether anything of some ink may lie on the flat of its face."""
    left, top, right, bottom = built.faces[ink.face].flat
    low_u, low_v, high_u, high_v = ink.box
    return low_u < right and high_u > left and low_v < bottom and high_v > top


def _up(length_mm: float) -> float:
    """Return a length rounded up to what a layout writes."""
    return math.ceil(round(length_mm * 100, 6)) / 100


def _mark(ink: LostInk) -> Mark:
    left, top, right, bottom = ink.box
    box = (right - left, bottom - top)
    return Mark(
        face=ink.face, u_mm=(left + right) / 2, v_mm=(top + bottom) / 2, radius_mm=math.hypot(*box) / 2, box_mm=box
    )
