"""A mended layout in words and as plain data, and the words of a proposed one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from mockup.arrange.mending import Mending
from mockup.checks.report.rows import data, tally
from mockup.checks.report.sentences import listed, order, what
from mockup.model.finding import Finding
from mockup.model.units import Unit, format_length

if TYPE_CHECKING:
    from mockup.layout_mending import MendedLayout

_KEPT = {
    "row": "rows",
    "column": "columns",
    "pair": "mirrored pairs",
    "middle": "what is centred",
    "spacing": "spacing",
}


def mended_lines(found: MendedLayout, *, concede: bool = False) -> Iterator[str]:
    """Yield what a mended layout comes to, a line each: orders first, then what they cure and what they do not."""
    made = found.chosen(concede=concede)
    units = made.design.units
    if not (made.edits or made.left):
        yield f"{made.design.name}: nothing stops or warns, so nothing has to move"
        return
    for edit in made.edits:
        yield f"{order(edit, units)}."
    for note in made.notes:
        yield f"{note}."
    yield from _outcome(made, units)
    if not made.is_complete:
        yield from _way_out(found, concede=concede)


def _outcome(made: Mending, units: Unit) -> Iterator[str]:
    if made.cured:
        yield f"This cures {_count(made.cured)}:"
        yield from (f"  {what(each, units)}" for each in made.cured)
    if made.kept:
        yield f"It keeps {listed([_KEPT[each] for each in made.kept])}."
    if made.moved_mm:
        yield f"Altogether parts move {format_length(round(made.moved_mm, 1), units)}."
    for found, words in ((made.left, "Moving parts does not cure"), (made.brought, "It brings")):
        if found:
            yield f"{words} {_count(found)}:"
            yield from (f"  {what(each, units)}" for each in found)


def _way_out(found: MendedLayout, *, concede: bool) -> Iterator[str]:
    """Yield what would have to be given up."""
    given = found.conceding
    if given is None and found.is_stuck:
        yield "No smaller knob, flatter kind, larger box or limit of your own that was tried cures the rest."
    elif given is not None and not concede:
        what = "nothing stops or warns" if given.is_complete else "everything has its room"
        yield f"With {given.concession} {what}; --concede shows that change, with --write makes it."


def mended_data(found: MendedLayout, *, concede: bool = False) -> dict[str, Any]:
    """Return a mended layout as plain data."""
    made = found.chosen(concede=concede)
    units = made.design.units

    def told(findings: Sequence[Finding]) -> list[dict[str, Any]]:
        return [data(each, units) for each in findings]

    return {
        "edits": [{"edit": type(each).__name__, **asdict(each), "order": order(each, units)} for each in made.edits],
        "moved_mm": round(made.moved_mm, 3),
        "kept": list(made.kept),
        "notes": list(made.notes),
        "concession": made.concession or (found.conceding.concession if found.conceding is not None else ""),
        "cured": told(made.cured),
        "left": told(made.left),
        "brought": told(made.brought),
    }


def between_knobs(fingers_mm: float, units: Unit = "mm") -> str:
    """Return how much room a proposal leaves between knobs; "" where it has fewer than two."""
    return "" if math.isinf(fingers_mm) else f"{format_length(round(fingers_mm, 1), units)} between knobs"


def _count(findings: Sequence[Finding]) -> str:
    """Return how many findings there are: ``1 stop and 2 warnings``."""
    return " and ".join(each for each in tally(findings).split(", ") if not each.startswith("0 "))
