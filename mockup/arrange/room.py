"""Where is there room for a part: the first place of the trade's habits that the checks would not stop.

The geometry and the limits are those of the checks; see `mockup.checks.panel.clearance`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from mockup.arrange.habits import Spot, spots
from mockup.arrange.sieve import possible
from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import is_within
from mockup.checks.panel.moves import TURNS_DEG, may_turn
from mockup.clearance.placed import FOOTSWITCHES
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FACES, FaceName
from mockup.model.finding import Severity

GRID_MM = 2.0  # between two places of the last search over whole faces: our choice
MOST_WISHES = 25  # places of habit without a stop that are looked at for one without a warning: our choice
_TOP_ONLY: tuple[FaceName, ...] = ("top",)


def place(design: Design, part: Placement) -> Placement | None:
    """Return a part where there is room for it: where the trade would put it, else anywhere on the box.

    First a place that draws neither stop nor warning, then one that draws no stop. `part` says what it is; where it
    stands does not matter, and a part of its name in the design is left out. None where it has no place on this box.
    """
    built = Built(replace(design, parts=tuple(each for each in design.parts if each.name != part.name)))
    second: Placement | None = None
    count = 0
    for spot in _sieved(built, part, spots(built.design, part)):
        if not _is_free(built, part, spot, "stop"):
            continue
        if _is_free(built, part, spot, "warn"):
            return spot.holds(part)
        second, count = second or spot.holds(part), count + 1
        if count == MOST_WISHES:
            break
    if second is not None:
        return second
    allowed = _TOP_ONLY if part.kind.mount == "inside" or part.kind.family == FOOTSWITCHES else FACES
    turns = (0.0, *TURNS_DEG) if may_turn(part) or part.kind.mount == "inside" else (0.0,)
    every = (
        found
        for turn in turns
        for face in allowed
        for found in _anywhere(built, replace(part, face=face, rotation_deg=part.rotation_deg + turn))
    )
    return next(every, None)


def place_on(design: Design, part: Placement, face: FaceName, wish: tuple[float, float] | None = None) -> Placement:
    """Return a part on a face: the free place nearest to a wish (u, v), the middle of the face without one.

    Where there is no room it stands at its wish all the same: a stop shows, it never forbids.
    """
    built = Built(replace(design, parts=tuple(each for each in design.parts if each.name != part.name)))
    frame = built.faces[face]
    wished = replace(part, face=face, u_mm=frame.width_mm / 2, v_mm=frame.height_mm / 2)
    if wish is not None:
        wished = replace(wished, u_mm=wish[0], v_mm=wish[1])
    if is_within(built, wished, "warn"):
        return wished
    second: Placement | None = None
    for index, moved in enumerate(_anywhere(built, wished, near=(wished.u_mm, wished.v_mm))):
        second = second or moved
        if is_within(built, moved, "warn"):
            return moved
        if index == MOST_WISHES:
            break
    return second or wished


def _is_free(built: Built, part: Placement, spot: Spot, severity: Severity) -> bool:
    """True where a part draws nothing so bad at a place; of a pair both halves have to have room."""
    here = spot.holds(part)
    if not is_within(built, here, severity):
        return False
    if spot.twin is None:
        return True
    both = Built(replace(built.design, parts=(*built.design.parts, here)))
    twin = replace(here, name=f"{part.name} again", u_mm=spot.twin[0], v_mm=spot.twin[1])
    return is_within(both, twin, severity)


def _sieved(built: Built, part: Placement, wishes: Iterable[Spot]) -> Iterator[Spot]:
    """Yield the places that simple figures do not rule out, in their order."""
    every = tuple(wishes)
    good = np.ones(len(every), bool)
    for face, depth in dict.fromkeys((spot.face, spot.depth_mm) for spot in every):
        here = [index for index, spot in enumerate(every) if (spot.face, spot.depth_mm) == (face, depth)]
        at = np.array([(every[index].u_mm, every[index].v_mm) for index in here])
        good[here] = possible(built, replace(part, face=face, depth_mm=depth), at)
    return (spot for spot, is_good in zip(every, good, strict=True) if is_good)


def _anywhere(built: Built, part: Placement, near: Sequence[float] | None = None) -> Iterator[Placement]:
    """Yield the part wherever it draws no stop on its face, row by row, or from a place outwards."""
    face = built.faces[part.face]
    across, down = np.arange(GRID_MM / 2, face.width_mm, GRID_MM), np.arange(GRID_MM / 2, face.height_mm, GRID_MM)
    places = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    if near is not None:
        places = places[np.argsort(((places - np.asarray(near)) ** 2).sum(axis=1), kind="stable")]
    for u, v in places[possible(built, part, places)].tolist():
        moved = replace(part, u_mm=u, v_mm=v)
        if is_within(built, moved, "stop"):
            yield moved
