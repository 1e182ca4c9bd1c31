"""Room for fingers between two knobs at any turn, and between a knob and a toggle switch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import combinations

from mockup.checks.panel.built import TOGGLE, Built
from mockup.checks.panel.face_room import CLOSE_MM, knob_figure, margins
from mockup.checks.panel.moves import remedy
from mockup.checks.panel.plan import Figure, between, disc
from mockup.checks.report.words import SHAPES, is_enough, length, listed
from mockup.model.design import Placement
from mockup.model.finding import Finding, Limit, Mark
from mockup.model.limits import Limits
from mockup.model.shape import Turned

READS = ("enclosure", "parts", "units")
Pair = tuple[Placement, Placement, float]
"""Two parts and the room between what a hand takes hold of."""


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield knobs that meet or leave no room for fingers; one note for all that are closer than is advised."""
    held = [(part, figure) for part in built.design.parts if (figure := _held(built, part)) is not None]
    pairs = [
        (first, second, between(one, other))
        for (first, one), (second, other) in combinations(held, 2)
        if first.face == second.face
    ]
    knobs = [pair for pair in pairs if pair[0].knob and pair[1].knob]
    for pair in knobs:
        if not is_enough(pair[2], limits["knob_gap_mm"].value, built.design.units):
            yield _close(built, limits, pair)
    mixed = [pair for pair in pairs if (pair[0].knob is None) != (pair[1].knob is None)]
    yield from _advice(built, knobs, limits["knob_advice_mm"], "knobs")
    yield from _advice(built, mixed, limits["toggle_advice_mm"], "knobs and toggle switches")


def _held(built: Built, part: Placement) -> Figure | None:
    """Return what a hand takes hold of, seen from above: a knob at any turn, or a lever both ways."""
    knob = knob_figure(built, part)
    if knob is not None or part.kind.family != TOGGLE or part.kind.mount == "inside":
        return knob
    reach = max(
        (_lean_mm(solid) for solid in part.kind.above if isinstance(solid, Turned) and solid.tilt_deg), default=0.0
    )
    return disc(part.u_mm, part.v_mm, reach) if reach else None


def _lean_mm(lever: Turned) -> float:
    """Return how far a leaning lever reaches from its upright axis."""
    lean = math.radians(lever.tilt_deg)
    return max((z - lever.pivot_z_mm) * math.sin(lean) + r * math.cos(lean) for r, z in lever.profile)


def _close(built: Built, limits: Limits, pair: Pair) -> Finding:
    first, second, gap = pair
    limit, units, names = limits["knob_gap_mm"], built.design.units, (first.name, second.name)
    is_hit = gap <= 0
    return Finding(
        check="knob-gaps",
        severity="stop" if is_hit else "warn",
        subjects=names,
        what=f"The knobs of {listed(names)} meet when turned: they overlap by {length(-gap, units)}"
        if is_hit
        else f"The knobs of {listed(names)} leave {length(gap, units)} for fingers, less than "
        + length(limit.value, units),
        remedy=remedy(built, limits, names, partial(_is_clear, built, limits))
        or f"Choose knobs that are {length(limit.value - gap, units)} smaller together",
        source=SHAPES if is_hit else limit.source,
        measured=gap,
        limit=limit.value,
        unit="mm",
        marks=tuple(_mark(built, each) for each in (first, second)),
    )


def _advice(built: Built, pairs: list[Pair], limit: Limit, what: str) -> Iterator[Finding]:
    """Yield one note for all pairs below a published figure that small panels may go below."""
    close = sorted((pair for pair in pairs if 0 < pair[2] < limit.value), key=lambda pair: pair[2])
    if not close:
        return
    units, least = built.design.units, close[0]
    names = tuple(dict.fromkeys(each.name for pair in close for each in pair[:2]))
    yield Finding(
        check="knob-gaps",
        severity="note",
        subjects=names,
        what=f"{len(close)} {'pair' if len(close) == 1 else 'pairs'} of {what} {'is' if len(close) == 1 else 'are'} "
        f"closer than the {length(limit.value, units)} advised for one hand; "
        f"the closest, {least[0].name} and {least[1].name}, have " + length(least[2], units),
        remedy="Nothing has to change on a small panel; smaller knobs or a larger box give more room",
        source=limit.source,
        measured=least[2],
        limit=limit.value,
        unit="mm",
        marks=tuple(_mark(built, built.part(name)) for name in names),
    )


def _is_clear(built: Built, limits: Limits, moved: Placement, others: tuple[Placement, ...]) -> bool:
    return all(room >= -CLOSE_MM for (kind, _), room in margins(built, limits, moved, others).items() if kind == "knob")


def _mark(built: Built, part: Placement) -> Mark:
    held = _held(built, part)
    return Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=held.radius_mm if held else 6.0)
