"""Room for fingers between two knobs at any turn, and between a knob and a toggle switch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.closeness import close_pairs, closest_advice
from mockup.checks.panel.moves import cure
from mockup.clearance.figures import Figure, between, disc
from mockup.clearance.placed import TOGGLE, knob_figure
from mockup.clearance.rules import KNOBS
from mockup.clearance.table import Margin
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.shape import Turned

LIMITS = """
[knob_gap_near_mm]
value = 6.0
about = "room between two knobs, at any turn, from which nothing is said"
source = "common practice, no source"

[knob_advice_mm]
value = 25.0
about = "room between two knobs for one hand; advice, small panels may go below"
source = "MIL-STD-1472 Figure 7, from memory (1472E 5.4.2.2.1.2 points to it and excuses small panels)"

[toggle_advice_mm]
value = 19.0
about = "room between a toggle switch and a knob for one hand; advice"
source = "MIL-STD-1472E Table VII"
"""
READS = ("enclosure", "parts", "units")
_KNOB = {"style": "barrel", "diameter": 18}
_A = part_text("A", "pot-16", left=20, top=20, knob=_KNOB)
PLANTED = Case(_A + part_text("B", "pot-16", left=40, top=20, knob=_KNOB))  # 2 mm between them
SOUND = Case(_A + part_text("B", "pot-16", left=40, top=80, knob=_KNOB))
_ADVISED = "{kind} are as close as {measured} ({limit} is advised for one hand)"


def check(built: Built) -> Iterator[Finding]:
    """Yield knobs that meet or leave no room for fingers, and what is advised for one hand."""
    held = [(part, figure) for part in built.design.parts if (figure := _held(part)) is not None]
    broken, near = built.broken(KNOBS), built.near(KNOBS)
    yield from (_close(built, margin) for margin in broken)
    yield from close_pairs(
        built,
        near,
        title="Little room for fingers",
        what="the knobs of {closest} leave {measured} for fingers, less than {limit}",
        remedy="Try it with knobs of that size, or choose knobs that are {missing} smaller together",
    )
    told = {margin.parts for margin in (*broken, *near)}
    pairs = [
        (first, second, between(one, other))
        for (first, one), (second, other) in combinations(held, 2)
        if first.face == second.face and not {(first.name, second.name), (second.name, first.name)} & told
    ]
    knobs = [pair for pair in pairs if pair[0].knob and pair[1].knob]
    mixed = [pair for pair in pairs if (pair[0].knob is None) != (pair[1].knob is None)]
    for kind, close, limit in (
        ("knobs", knobs, "knob_advice_mm"),
        ("knobs and toggle switches", mixed, "toggle_advice_mm"),
    ):
        yield from closest_advice(close, built.limits[limit], title="Tight for one hand", what=_ADVISED, kind=kind)


def _held(part: Placement) -> Figure | None:
    """Return what a hand takes hold of, seen from above: a knob at any turn, or a lever both ways."""
    knob = knob_figure(part)
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


def _close(built: Built, margin: Margin) -> Finding:
    limit, names, is_hit = margin.limit, margin.parts, margin.room_mm <= 0
    return Finding(
        severity="stop" if is_hit else "warn",
        title="Knobs meet when turned" if is_hit else "No room for fingers",
        what="the knobs of {subjects} overlap by {by} at some turn"
        if is_hit
        else "the knobs of {subjects} leave {measured} for fingers, less than {limit}",
        subjects=Subject.parts(*names),
        edits=cure(built, names, KNOBS),
        remedy="Choose knobs that are {missing} smaller together",
        measured=mm(margin.room_mm),
        limit=limit.quantity if is_hit else limit,
        marks=tuple(_mark(built.part(name)) for name in names),
    )


def _mark(part: Placement) -> Mark:
    held = _held(part)
    return Mark.at(part, held.radius_mm if held else 6.0)
