"""Which decal takes what the tool draws: the uppermost that holds it whole, or clear film of its own."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from mockup import films
from mockup.decal.curves import Box
from mockup.decal.lettering import Inked, blank, overhang, printed, slack_mm
from mockup.layout.fields import Loc, Problem
from mockup.model.enclosure import Face, FaceName
from mockup.model.finish import Decal
from mockup.model.units import Unit, format_length

_SIDES = (("left", "right"), ("top", "down"), ("right", "left"), ("bottom", "up"))  # out there: move it that way


@dataclass(frozen=True, kw_only=True)
class FaceMark:
    """One thing to draw on a face, and the table that asks for it; `inset_mm` is a border's own."""

    loc: Loc
    face: FaceName
    ink: Inked
    is_by_part: bool = False
    inset_mm: float | None = None


def onto_decals(
    marks: Sequence[FaceMark], decals: Sequence[Decal], sides: Mapping[FaceName, Face], units: Unit
) -> tuple[tuple[Decal, ...], list[tuple[Loc, Problem]]]:
    """Return the decals with all marks printed, and the marks that no decal holds as mistakes.

    On a face without a decal the marks get clear film of their own over the face's flat, laid last.
    """
    laid = list(decals)
    art_decals = len(laid)
    taken: dict[int, list[Inked]] = {}
    found: list[tuple[Loc, Problem]] = []
    for mark in marks:
        if not any(decal.face == mark.face for decal in laid):
            laid.append(blank(sides[mark.face], f"lettering of the {mark.face} face", films.films()[films.USUAL]))
        there = [index for index, decal in enumerate(laid) if decal.face == mark.face]
        whole = [index for index in there if max(overhang(laid[index], mark.ink.box)) <= slack_mm(laid[index])]
        if whole:
            taken.setdefault(whole[-1], []).append(mark.ink)
        else:
            closest = min(there, key=lambda index: max(overhang(laid[index], mark.ink.box)))
            found.append((mark.loc, _problem(mark, laid[closest], closest >= art_decals, units)))
    if found:
        return tuple(decals), found
    return tuple(printed(decal, taken[index]) if index in taken else decal for index, decal in enumerate(laid)), []


def _problem(mark: FaceMark, decal: Decal, is_own: bool, units: Unit) -> Problem:
    """Return what is wrong with a mark that a decal does not hold, with what would help."""
    left, top, right, bottom = (max(each - slack_mm(decal), 0.0) and each for each in overhang(decal, mark.ink.box))
    out = (left, top, right, bottom)
    film = f"the {decal.face} face's flat" if is_own else f'the decal "{decal.art.name}"'
    is_square = decal.rotation_deg % 90.0 == 0.0
    parts = [
        f"{format_length(each, units)} at the {side}" for each, (side, _) in zip(out, _SIDES, strict=True) if each > 0
    ]
    if not is_square:
        parts = [format_length(max(out), units)]
    what = f"what it draws reaches past the edge of {film}: {', '.join(parts)}"
    return Problem((), what, _remedy(mark, out, is_square, is_own, units))


def _remedy(mark: FaceMark, out: Box, is_square: bool, is_own: bool, units: Unit) -> str:
    if mark.inset_mm is not None:
        wanted = math.ceil((mark.inset_mm + max(out)) * 100) / 100
        return f'write inset = "{wanted:g} mm"' + ("" if is_own else ", or make the decal larger")
    left, top, right, bottom = out
    is_too_large = (left > 0 and right > 0) or (top > 0 and bottom > 0) or not is_square
    moves = [f"{format_length(each, units)} {way}" for each, (_, way) in zip(out, _SIDES, strict=True) if each > 0]
    move = f"move {'its part' if mark.is_by_part else 'it'} {', '.join(moves)}"
    rest = "make it smaller" if is_own else "make it smaller or the decal larger"
    return rest if is_too_large else f"{move}, or {rest}"
