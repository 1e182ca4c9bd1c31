"""Room for a shoe: from a footswitch to knobs, toggles and other footswitches."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import combinations

from mockup.checks.panel.built import Built
from mockup.checks.panel.face_room import CLOSE_MM, FOOTSWITCHES, apart, margins, shoe_mm
from mockup.checks.panel.moves import remedy
from mockup.checks.panel.plan import least_between, stack
from mockup.checks.report.words import is_enough, length, listed
from mockup.model.design import Placement
from mockup.model.finding import Finding, Limit, Mark
from mockup.model.limits import Limits

READS = ("enclosure", "parts", "units")


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield controls that a shoe on a footswitch would move, and footswitches that one shoe would press together."""
    for first, second in combinations(built.design.parts, 2):
        least = shoe_mm(limits, first, second)
        if first.face != second.face or least is None:
            continue
        is_both = first.kind.family == second.kind.family == FOOTSWITCHES
        far = apart(first, second)
        if not is_enough(far, least, built.design.units):
            yield _close(built, limits, first, second, far, limits["switch_apart_mm" if is_both else "knob_switch_mm"])
        elif is_both:
            room = least_between(stack(first), stack(second))
            if room < limits["switch_advice_mm"].value:
                yield _advice(built, first, second, room, limits["switch_advice_mm"])


def _close(built: Built, limits: Limits, first: Placement, second: Placement, far: float, limit: Limit) -> Finding:
    units, names = built.design.units, (first.name, second.name)
    is_both = first.kind.family == second.kind.family
    why = "one shoe can press both" if is_both else "a shoe can turn what it should leave alone"
    return Finding(
        check="shoe-room",
        severity="warn",
        subjects=names,
        what=f"The middles of {listed(names)} are {length(far, units)} apart, less than "
        f"{length(limit.value, units)}: {why}",
        remedy=remedy(built, limits, names, partial(_is_clear, built, limits))
        or f"Move them {length(limit.value - far, units)} further apart, on a larger box if need be",
        source=limit.source,
        measured=far,
        limit=limit.value,
        unit="mm",
        marks=(_mark(first), _mark(second)),
    )


def _advice(built: Built, first: Placement, second: Placement, room: float, limit: Limit) -> Finding:
    units, names = built.design.units, (first.name, second.name)
    return Finding(
        check="shoe-room",
        severity="note",
        subjects=names,
        what=f"The footswitches {listed(names)} leave {length(room, units)} between their edges; "
        f"{length(limit.value, units)} are advised where one follows the other",
        remedy="Nothing has to change; a wider box gives more room",
        source=limit.source,
        measured=room,
        limit=limit.value,
        unit="mm",
        marks=(_mark(first), _mark(second)),
    )


def _is_clear(built: Built, limits: Limits, moved: Placement, others: tuple[Placement, ...]) -> bool:
    return all(room >= -CLOSE_MM for (kind, _), room in margins(built, limits, moved, others).items() if kind == "shoe")


def _mark(part: Placement) -> Mark:
    return Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=9.0)
