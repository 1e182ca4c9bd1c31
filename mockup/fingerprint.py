"""The fingerprint of a design: six signs that stand on all its pages, so that what belongs together is told by eye.

Five signs are drawn from what a page depends on, the sixth checks them. It is the weighted sum of ISBN-10
(ISO 2108:1992) with 23 in place of 11: a prime, so that any one wrong sign and any two that changed places show.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from mockup.memo import memoize
from mockup.model.design import Design, Placement
from mockup.model.digest import digest

SIGNS = "234679ACDEFHJKMNPQRTWXY"
"""No 0 or O, 1, I or L, 5 or S, 8 or B, U or V, G, Z: what handwriting and small print confuse; our choice."""
LENGTH = 6  # 6.4 million designs: of a hundred pedals two share theirs once in a thousand builders; our choice
_STEP_MM = 1e-3  # places that differ by less are one: no drill and no printer tells them apart


@memoize  # pictures and pages of one design ask again and again, and it goes over every pixel of the art
def fingerprint(design: Design) -> str:
    """Return the six signs of a design: its box, parts, knobs' sizes, decals and all lettering on them.

    Names, paint, colours of knobs and lamps, limits of the checks and what the printer needs do not count: the pages
    stay right without them.
    """
    box = design.enclosure
    size = tuple(value for _, value in sorted(vars(box).items()))
    parts = sorted(map(_part, design.parts))
    decals = [
        (each.face, *_at(each.u_mm, each.v_mm, each.width_mm, each.height_mm), each.rotation_deg % 360, each.film.name)
        for each in design.decals
    ]
    art = [each.art.pixels for each in design.decals]
    number = int(digest(_at(*size), parts, decals, art), 16)
    drawn = [number // len(SIGNS) ** place % len(SIGNS) for place in range(LENGTH - 1)]
    return "".join(SIGNS[each] for each in (*drawn, _check(drawn)))


def read_fingerprint(text: str) -> str | None:
    """Return a fingerprint as typed (small letters, spaces and hyphens are let pass), None where it cannot be one."""
    signs = "".join(text.upper().split()).replace("-", "")
    if len(signs) != LENGTH or any(each not in SIGNS for each in signs):
        return None
    places = [SIGNS.index(each) for each in signs]
    return signs if _check(places[:-1]) == places[-1] else None


def _check(places: Sequence[int]) -> int:
    """Return the place of the sign that makes the weighted sum of all six, weights 6 to 1, a multiple of 23."""
    weighted = sum((LENGTH - index) * place for index, place in enumerate(places))
    return -weighted % len(SIGNS)


def _part(part: Placement) -> tuple[Any, ...]:
    knob = () if part.knob is None else (part.knob.style, *_at(part.knob.diameter_mm, part.knob.height_mm))
    place = _at(part.u_mm, part.v_mm, part.depth_mm)
    shape = digest(part.kind.cutouts, part.kind.above, part.kind.below)
    return part.face, place, round(part.rotation_deg % 360, 3), shape, knob


def _at(*values: float) -> tuple[int, ...]:
    return tuple(math.floor(value / _STEP_MM + 0.5) for value in values)
