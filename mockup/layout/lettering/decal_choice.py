"""Which decal takes what the tool draws: the uppermost that holds it whole, or clear film of its own."""

from __future__ import annotations

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
    """One thing to draw on a face, and the table that asks for it."""

    loc: Loc
    face: FaceName
    ink: Inked
    is_by_part: bool = False


def onto_decals(
    marks: Sequence[FaceMark], decals: Sequence[Decal], sides: Mapping[FaceName, Face], units: Unit
) -> tuple[tuple[Decal, ...], list[tuple[Loc, Problem]]]:
    """Return the decals with all marks printed, and the marks that reach past the flat of their face as mistakes.

    What no decal of its face holds whole gets clear film of its own over the face's flat, laid last.
    """
    laid = list(decals)
    own: dict[FaceName, int] = {}
    taken: dict[int, list[Inked]] = {}
    found: list[tuple[Loc, Problem]] = []
    for mark in marks:
        whole = [index for index, decal in enumerate(decals) if decal.face == mark.face and _holds(decal, mark)]
        if not whole and mark.face not in own:
            own[mark.face] = len(laid)
            laid.append(blank(sides[mark.face], f"lettering of the {mark.face} face", films.films()[films.USUAL]))
        index = whole[-1] if whole else own[mark.face]
        if whole or _holds(laid[index], mark):
            taken.setdefault(index, []).append(mark.ink)
        else:
            found.append((mark.loc, _problem(mark, laid[index], units)))
    if found:
        return tuple(decals), found
    return tuple(printed(decal, taken[index]) if index in taken else decal for index, decal in enumerate(laid)), []


def _holds(decal: Decal, mark: FaceMark) -> bool:
    return max(overhang(decal, mark.ink.box)) <= slack_mm(decal)


def _problem(mark: FaceMark, film: Decal, units: Unit) -> Problem:
    """Return what is wrong with a mark that the film over a face's flat does not hold, with what would help."""
    left, top, right, bottom = (max(each - slack_mm(film), 0.0) and each for each in overhang(film, mark.ink.box))
    out = (left, top, right, bottom)
    parts = [
        f"{format_length(each, units)} at the {side}" for each, (side, _) in zip(out, _SIDES, strict=True) if each > 0
    ]
    what = f"what it draws reaches past the edge of the {film.face} face's flat: {', '.join(parts)}"
    return Problem((), what, _remedy(mark, out, units))


def _remedy(mark: FaceMark, out: Box, units: Unit) -> str:
    left, top, right, bottom = out
    if (left > 0 and right > 0) or (top > 0 and bottom > 0):
        return "make it smaller"
    moves = [f"{format_length(each, units)} {way}" for each, (_, way) in zip(out, _SIDES, strict=True) if each > 0]
    return f"move {'its part' if mark.is_by_part else 'it'} {', '.join(moves)}, or make it smaller"
