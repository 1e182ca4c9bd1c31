"""Which decal takes what the tool draws: the uppermost that holds it whole, or clear film of its own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from mockup import films
from mockup.decal.lettering import Inked, blank, overhang, printed, slack_mm
from mockup.model.enclosure import Face, FaceName
from mockup.model.finish import INKJET, Decal, Process
from mockup.model.label import LostInk


@dataclass(frozen=True, kw_only=True)
class FaceMark:
    """One thing to draw on a face; what it is, how it is called and what it moves with, as of `LostInk`."""

    kind: Literal["label", "scale", "border"]
    name: str
    face: FaceName
    ink: Inked
    mover: tuple[str, ...] = ()


def onto_decals(
    marks: Sequence[FaceMark], decals: Sequence[Decal], sides: Mapping[FaceName, Face], process: Process = INKJET
) -> tuple[tuple[Decal, ...], tuple[LostInk, ...]]:
    """Return the decals with all marks printed, and of the marks that reach past the flat of their face what is lost.

    What no decal of its face holds whole gets clear film of its own over the face's flat, printed by a process and laid
    last; the flat's edge cuts it.
    """
    laid = list(decals)
    own: dict[FaceName, int] = {}
    taken: dict[int, list[Inked]] = {}
    lost: list[LostInk] = []
    for mark in marks:
        whole = [index for index, decal in enumerate(decals) if decal.face == mark.face and _holds(decal, mark)]
        film = laid[own[mark.face]] if mark.face in own else None
        if not whole and film is None:
            own_film = blank(sides[mark.face], f"lettering of the {mark.face} face", films.films()[films.USUAL])
            film = replace(own_film, process=process)
        if not whole and film is not None:
            past = tuple(each if each > slack_mm(film) else 0.0 for each in overhang(film, mark.ink.box))
            if any(past):
                left, top, right, bottom = past
                lost.append(_lost(mark, (left, top, right, bottom)))
            if not _touches(sides[mark.face], mark):
                continue
            if mark.face not in own:
                own[mark.face] = len(laid)
                laid.append(film)
        taken.setdefault(whole[-1] if whole else own[mark.face], []).append(mark.ink)
    done = (printed(decal, taken[index]) if index in taken else decal for index, decal in enumerate(laid))
    return tuple(done), tuple(lost)


def _holds(decal: Decal, mark: FaceMark) -> bool:
    return max(overhang(decal, mark.ink.box)) <= slack_mm(decal)


def _touches(face: Face, mark: FaceMark) -> bool:
    left, top, right, bottom = face.flat
    low_u, low_v, high_u, high_v = mark.ink.box
    return low_u < right and high_u > left and low_v < bottom and high_v > top


def _lost(mark: FaceMark, past_mm: tuple[float, float, float, float]) -> LostInk:
    return LostInk(kind=mark.kind, name=mark.name, face=mark.face, box=mark.ink.box, past_mm=past_mm, mover=mark.mover)
