"""Where is there room for a part: the first place of the trade's habits that the checks would not stop.

Every place is judged at once by `mockup.clearance.free_places`, which reads the rules and limits of the checks; the one
that is taken is looked at closely besides. A full answer takes well under a second on most pedals; where a box is full
every turn and face is tried, so that a window asks in the background and may stop it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import islice

import numpy as np

from mockup.arrange.habits import Spot, spots
from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import is_within
from mockup.checks.panel.moves import TURNS_DEG, may_turn
from mockup.clearance.free_places import FreePlaces, free_places
from mockup.clearance.placed import FOOTSWITCHES
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FACES, FaceName
from mockup.model.finding import Severity
from mockup.model.mesh import Floats

GRID_MM = 2.0  # between two places of the last search over whole faces: our choice
INSIDE_GRID_MM = 4.0  # the same for what lies inside, where nobody sees it: our choice
MOST_LOOKED_AT = 12  # places that seem free and are looked at closely: our choice
FIRST_BATCH = 24  # wishes that are judged at once, then four times as many: measured, on full boxes and empty ones
_TOP_ONLY: tuple[FaceName, ...] = ("top",)
Stopped = Callable[[], bool]


def _never() -> bool:
    return False


def place(design: Design, part: Placement, *, is_stopped: Stopped = _never) -> Placement | None:
    """Return a part where there is room for it: where the trade would put it, else anywhere on the box.

    First a place that draws neither stop nor warning, then one that draws no stop. `part` says what it is; where it
    stands does not matter, and a part of its name in the design is left out. None where it has no place on this box,
    or where the search is stopped. Pure: it may run on any thread or in a worker.
    """
    built = _without(design, part)
    wishes = tuple(spots(built.design, part))
    second: list[Spot] = []
    for some in _batches(wishes):
        free = _free_spots(built, part, some, is_stopped)
        there = (spot for spot, is_kept in zip(some, free.kept, strict=True) if is_kept)
        found = next((spot for spot in islice(there, MOST_LOOKED_AT) if _is_free(built, part, spot, "warn")), None)
        if found is not None:
            return found.holds(part)
        second += [spot for spot, is_clear in zip(some, free.clear, strict=True) if is_clear]
    found = next((spot for spot in second[:MOST_LOOKED_AT] if _is_free(built, part, spot, "stop")), None)
    if found is not None:
        return found.holds(part)
    allowed = _TOP_ONLY if part.kind.mount == "inside" or part.kind.family == FOOTSWITCHES else FACES
    turns = (0.0, *TURNS_DEG) if may_turn(part) or part.kind.mount == "inside" else (0.0,)
    every = (
        found
        for turn in turns
        for depth in dict.fromkeys(spot.depth_mm for spot in wishes)
        for face in allowed
        for found in _anywhere(
            built,
            replace(part, face=face, rotation_deg=(part.rotation_deg + turn) % 360.0, depth_mm=depth),
            is_stopped=is_stopped,
        )
    )
    return next(every, None)


def place_on(
    design: Design,
    part: Placement,
    face: FaceName,
    wish: tuple[float, float] | None = None,
    *,
    is_stopped: Stopped = _never,
) -> Placement:
    """Return a part on a face: the free place nearest to a wish (u, v), the middle of the face without one.

    Where there is no room it stands at its wish all the same: a stop shows, it never forbids.
    """
    built = _without(design, part)
    frame = built.faces[face]
    wished = replace(part, face=face, u_mm=frame.width_mm / 2, v_mm=frame.height_mm / 2)
    if wish is not None:
        wished = replace(wished, u_mm=wish[0], v_mm=wish[1])
    if is_within(built, wished, "warn"):
        return wished
    near = wished.u_mm, wished.v_mm
    return next(_anywhere(built, wished, near=near, is_stopped=is_stopped), wished)


def _without(design: Design, part: Placement) -> Built:
    return Built(replace(design, parts=tuple(each for each in design.parts if each.name != part.name)))


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


def _batches(wishes: Sequence[Spot]) -> Iterator[Sequence[Spot]]:
    """Yield the wishes in batches that grow, since the first few are often enough."""
    start, size = 0, FIRST_BATCH
    while start < len(wishes):
        yield wishes[start : start + size]
        start, size = start + size, 4 * size


def _free_spots(built: Built, part: Placement, wishes: Sequence[Spot], is_stopped: Stopped) -> FreePlaces:
    """Return which wished places are free, of a pair both halves, as far as each half by itself goes."""
    spare, clear = np.zeros(len(wishes)), np.zeros(len(wishes), bool)
    for face, depth in dict.fromkeys((spot.face, spot.depth_mm) for spot in wishes):
        here = [index for index, spot in enumerate(wishes) if (spot.face, spot.depth_mm) == (face, depth)]
        at = np.array([(wishes[index].u_mm, wishes[index].v_mm) for index in here])
        twins = np.array([wishes[index].twin or (wishes[index].u_mm, wishes[index].v_mm) for index in here])
        found = _free(built, replace(part, face=face, depth_mm=depth), np.concatenate([at, twins]), is_stopped)
        spare[here] = np.minimum(found.spare_mm[: len(here)], found.spare_mm[len(here) :])
        clear[here] = found.clear[: len(here)] & found.clear[len(here) :]
    return FreePlaces(spare_mm=spare, clear=clear)


def _free(built: Built, part: Placement, places: Floats, is_stopped: Stopped) -> FreePlaces:
    """Return which of some places on its face are free for a part, every place judged once."""
    once, back = np.unique(places.round(6), axis=0, return_inverse=True)
    design = built.design
    found = free_places(design.enclosure, part, design.parts, design.limits, once, is_stopped=is_stopped)
    return FreePlaces(spare_mm=found.spare_mm[back.ravel()], clear=found.clear[back.ravel()])


def _anywhere(
    built: Built, part: Placement, near: tuple[float, float] | None = None, *, is_stopped: Stopped
) -> Iterator[Placement]:
    """Yield the part where it draws no warning on its face, then no stop, row by row or from a place outwards."""
    face = built.faces[part.face]
    grid = INSIDE_GRID_MM if part.kind.mount == "inside" else GRID_MM
    across, down = np.arange(grid / 2, face.width_mm, grid), np.arange(grid / 2, face.height_mm, grid)
    places = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    if near is not None:
        places = places[np.argsort(((places - np.asarray(near)) ** 2).sum(axis=1), kind="stable")]
    free = _free(built, part, places, is_stopped)
    levels: tuple[Severity, ...] = ("warn", "stop")
    for severity, told in zip(levels, (free.kept, free.clear), strict=True):
        for u, v in places[told][:MOST_LOOKED_AT].tolist():
            moved = replace(part, u_mm=u, v_mm=v)
            if is_within(built, moved, severity):
                yield moved
