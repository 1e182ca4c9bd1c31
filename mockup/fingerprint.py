"""The fingerprint of a design: six signs that stand on all its pages, so that what belongs together is told by eye.

Five signs are drawn from what a page depends on, the sixth checks them. It is the weighted sum of ISBN-10
(ISO 2108:1992) with 23 in place of 11: a prime, so that any one wrong sign and any two that changed places show.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from typing import Any

from mockup.memo import memoize
from mockup.model.design import Design, Placement
from mockup.model.digest import digest
from mockup.model.finish import Artwork

SIGNS = "234679ACDEFHJKMNPQRTWXY"
"""No 0 or O, 1, I or L, 5 or S, 8 or B, U or V, G, Z: what handwriting and small print confuse; our choice."""
LENGTH = 6  # 6.4 million designs: of a hundred pedals two share theirs once in a thousand builders; our choice
_TAKEN_FOR: Mapping[str, str] = {
    "0": "DQ",
    "O": "DQ",
    "1": "7T",
    "I": "7T",
    "L": "E",
    "5": "36",
    "S": "36",
    "8": "369",
    "B": "3R",
    "U": "J",
    "V": "Y",
    "G": "6C",
    "Z": "27",
}  # what a sign that none has may be a slip for: by eye
_STEP_MM = 1e-3  # places that differ by less are one: no drill and no printer tells them apart


@memoize  # pictures and pages of one design ask again and again
def fingerprint(design: Design) -> str:
    """Return the six signs of a design: its box, parts, knobs' sizes, decals and all lettering on them.

    Names, the paint's colour, colours of knobs and lamps, limits of the checks and what the printer needs do not count:
    the pages stay right without them. A picture that is the paint counts, as art does: art is laid to what it shows.
    """
    box = design.enclosure
    size = tuple(value for _, value in sorted(vars(box).items()))
    parts = sorted(map(_part, design.parts))
    decals = [
        (
            each.face,
            *_at(each.u_mm, each.v_mm, each.width_mm, each.height_mm),
            each.rotation_deg % 360,
            each.film.name,
            *((tuple(vars(each.cut).values()),) if each.cut is not None else ()),
            *((each.process.name, each.white_under) if each.process.white is not None else ()),
        )
        for each in design.decals
    ]
    art = [_pixels(each.art) for each in design.decals]
    painted = design.finish.picture
    number = int(digest(_at(*size), parts, decals, art, *([painted.pixels] if painted is not None else [])), 16)
    drawn = [number // len(SIGNS) ** place % len(SIGNS) for place in range(LENGTH - 1)]
    return "".join(SIGNS[each] for each in (*drawn, _check(drawn)))


def read_fingerprint(text: str) -> str | None:
    """Return a fingerprint as typed (small letters, spaces and hyphens are let pass), None where it cannot be one."""
    signs = "".join(text.upper().split()).replace("-", "")
    if len(signs) != LENGTH or any(each not in SIGNS for each in signs):
        return None
    places = [SIGNS.index(each) for each in signs]
    return signs if _check(places[:-1]) == places[-1] else None


def readings(text: str) -> tuple[str, ...]:
    """Return every fingerprint that a text may stand for: signs that none has are taken for those they look like."""
    signs = "".join(text.upper().split()).replace("-", "")
    if len(signs) != LENGTH or any(each not in SIGNS and each not in _TAKEN_FOR for each in signs):
        return ()
    tried = ("".join(each) for each in itertools.product(*(_TAKEN_FOR.get(sign, sign) for sign in signs)))
    return tuple(each for each in tried if read_fingerprint(each) is not None)


def is_slip(text: str, mark: str) -> bool:
    """Return whether a text is a fingerprint but for one wrong sign, or two neighbours that changed places."""
    signs = "".join(text.upper().split()).replace("-", "")
    if len(signs) != len(mark):
        return False
    wrong = [place for place, (one, other) in enumerate(zip(signs, mark, strict=True)) if one != other]
    if len(wrong) != 2:
        return len(wrong) == 1
    first, second = wrong
    return second == first + 1 and signs[first] == mark[second] and signs[second] == mark[first]


def _check(places: Sequence[int]) -> int:
    """Return the place of the sign that makes the weighted sum of all six, weights 6 to 1, a multiple of 23."""
    weighted = sum((LENGTH - index) * place for index, place in enumerate(places))
    return -weighted % len(SIGNS)


@memoize  # it goes over every pixel, and the same art stands in every design while parts are moved
def _pixels(art: Artwork) -> str:
    return digest(art.pixels)


def _part(part: Placement) -> tuple[Any, ...]:
    knob = () if part.knob is None else (part.knob.style, *_at(part.knob.diameter_mm, part.knob.height_mm))
    place = _at(part.u_mm, part.v_mm, part.depth_mm)
    shape = digest(part.kind.cutouts, part.kind.above, part.kind.below)
    return part.face, place, round(part.rotation_deg % 360, 3), shape, knob


def _at(*values: float) -> tuple[int, ...]:
    return tuple(math.floor(value / _STEP_MM + 0.5) for value in values)
