"""The least concession with which a change of places mends what moves alone cannot, proven by the real checks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from mockup.arrange.concessions import Concession, concessions
from mockup.arrange.larger_boxes import spread
from mockup.arrange.mending import After, Mending, problem_of, proven
from mockup.arrange.part_edits import joined
from mockup.arrange.search import least_change
from mockup.clearance.table import broken
from mockup.model.design import Design
from mockup.model.edit import Edit
from mockup.model.errors import InputError
from mockup.model.finding import Finding
from mockup.options import Progress, silent

MOST = 20  # concessions that are tried
SPREAD_REACH_MM = 60.0  # how far a part may move in a larger box


def has_too_little_room(design: Design) -> bool:
    """Return whether any rule of room is broken, by more than rounding."""
    margins = broken(design.enclosure, design.parts, design.limits)
    return any(margin.is_told(design.units) for margin in margins)


def least_concession(
    design: Design, after: After, mended: Mending, *, pinned: Iterable[str] = (), progress: Progress = silent
) -> Mending | None:
    """Return the change with the least concession that gives everything its room, or None where none of those does.

    `mended` is the best that moves alone can do. Nothing that stops or warns is new in the answer; what is left has
    nothing to do with room.
    """
    held = frozenset(pinned)
    tried = concessions(design, mended.design, held)[:MOST]
    for count, concession in enumerate(tried):
        progress(count, len(tried), f"trying {concession.what}")
        found = _with(concession, design, after, mended.before, held - concession.frees)
        if found is not None:
            return found
    return None


def _with(
    concession: Concession, design: Design, after: After, before: tuple[Finding, ...], pinned: frozenset[str]
) -> Mending | None:
    """Return the change that a concession allows, None where something still lacks room or something new is wrong."""
    first, notes = concession.edits, tuple[str, ...]()
    try:
        given = after(first)
        if given.enclosure != design.enclosure:
            along = spread(design, given)
            first, notes = (*first, *along.edits), along.notes
            given = after(first)
    except InputError:
        return None  # the layout has no place for it: parts lie off the other box
    is_larger = given.enclosure != design.enclosure
    problem = problem_of(given, pinned)
    if is_larger:  # every part moves there anyway: order is worth more than a short way
        problem = replace(problem, reach_mm=SPREAD_REACH_MM)
    change = least_change(problem, is_order_first=is_larger, is_brief=True)
    if not change.is_good:
        return None

    def further(edits: Iterable[Edit]) -> Design:
        return after(joined((*first, *edits)))

    found = proven(given, further, before, change)
    if found.brought or has_too_little_room(found.design):
        return None
    return replace(
        found,
        edits=joined((*first, *found.edits)),
        notes=tuple(dict.fromkeys((*notes, *found.notes))),
        concession=concession.what,
    )
