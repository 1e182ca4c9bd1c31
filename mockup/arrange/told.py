"""A mended layout in words and as plain data, and the words of a proposed one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from mockup.arrange.mending import Mending
from mockup.checks.report.rows import data, tally
from mockup.checks.report.sentences import listed, order, what
from mockup.model.errors import Fault
from mockup.model.finding import Finding
from mockup.model.units import format_length

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
    """Yield what a mended layout comes to, a line each: first what stays and what else would do, then the orders."""
    made = found.chosen(concede=concede)
    units = made.design.units
    if not (made.edits or made.left):
        yield f"{made.design.name}: nothing stops or warns, so nothing has to move"
        return
    if not made.is_complete:
        yield _verdict(made)
        yield from _way_out(found, concede=concede)
    if made.brought:  # they are no cure: a list of them would hide what is one
        yield "Moves alone are no cure here; --json has those that come nearest, and what they bring."
        return
    for edit in made.edits:
        yield f"{order(edit, units)}."
    for note in made.notes:
        yield f"{note}."
    for findings, words in ((made.cured, "This cures"), (made.left, "It does not cure")):
        if findings:
            yield f"{words} {_count(findings)}:"
            yield from (f"  {what(each, units)}" for each in findings)
    if made.kept:
        yield f"It keeps {listed([_KEPT[each] for each in made.kept])}."
    if made.moved_mm:
        yield f"Altogether parts move {format_length(round(made.moved_mm, 1), units)}."


def refusal(found: MendedLayout, *, concede: bool = False) -> Fault | None:
    """Return why a mended layout is not written, None where nothing that stops or warns is new in it."""
    made = found.chosen(concede=concede)
    if not made.brought:
        return None
    what = f"is not changed: the moves would bring {_count(made.brought)}"
    if found.conceding is not None:
        return Fault(file=found.path.name, what=what, remedy=f"add --concede for {found.conceding.concession}")
    why = "--concede found nothing that helps either; " if concede or found.is_stuck else ""
    return Fault(file=found.path.name, what=what, remedy=f"{why}move, turn or leave out a part yourself")


def _verdict(made: Mending) -> str:
    """Return in a sentence what a change leaves, and what it would bring."""
    said = [f"{_count(made.left)} {_verb(made.left, 'stays', 'stay')}"] if made.left else []
    if made.brought:
        said.append(f"{_count(made.brought)} would be new")
    who = "This change" if made.concession else "Moving parts"
    return f"{who} does not clear everything: {', '.join(said)}."


def _verb(findings: Sequence[Finding], one: str, several: str) -> str:
    return one if len(findings) == 1 else several


def _way_out(found: MendedLayout, *, concede: bool) -> Iterator[str]:
    """Yield what would have to be given up."""
    given = found.conceding
    if given is None and found.is_stuck:
        yield "No smaller knob, flatter kind, larger box or limit of your own that was tried clears everything."
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
        "is_complete": made.is_complete,
        "concession": made.concession or (found.conceding.concession if found.conceding is not None else ""),
        "cured": told(made.cured),
        "left": told(made.left),
        "brought": told(made.brought),
    }


def between_knobs(fingers_mm: float) -> str:
    """Return how much room a proposal leaves between knobs; "" where it has fewer than two."""
    return "" if math.isinf(fingers_mm) else f"{format_length(round(fingers_mm, 1))} between knobs"


def _count(findings: Sequence[Finding]) -> str:
    """Return how many findings there are: ``1 stop and 2 warnings``."""
    return " and ".join(each for each in tally(findings).split(", ") if not each.startswith("0 "))
