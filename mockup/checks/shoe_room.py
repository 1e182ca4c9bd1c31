"""Room for a shoe: from a footswitch to knobs, toggles and other footswitches."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.closeness import close_pairs, closest_advice
from mockup.checks.panel.moves import cure
from mockup.clearance.figures import least_between, stack
from mockup.clearance.placed import FOOTSWITCHES
from mockup.clearance.rules import SHOE, SHOES
from mockup.clearance.table import Margin
from mockup.model.finding import Finding, Mark, Subject, mm

LIMITS = """
[switch_advice_mm]
value = 50.0
about = "room between the edges of two footswitches pressed one after the other; advice"
source = "MIL-STD-1472 foot pedals, sequential use, from memory"
"""
READS = ("enclosure", "parts", "units")
RADIUS_MM = 9.0  # of a mark: our choice
_STOMP = part_text("STOMP", "footswitch", top=90)
PLANTED = Case(_STOMP + part_text("A", "pot-16", top=62))  # 28 mm apart
SOUND = Case(_STOMP + part_text("A", "pot-16", top=40))


def check(built: Built) -> Iterator[Finding]:
    """Yield controls that a shoe on a footswitch would move, and footswitches that one shoe would press together."""
    broken = built.broken(SHOE, SHOES)
    yield from (_close(built, margin) for margin in broken)
    near = built.near(SHOE, SHOES)
    yield from close_pairs(
        built,
        [_straight(built, margin) for margin in near],
        title="Shoe comes near",
        what="the middles of {closest} are {measured} apart, less than {limit}",
        remedy="Try it with the shoes you play in, or move them {missing} further apart",
    )
    close = {margin.parts for margin in broken}
    feet = [part for part in built.design.parts if part.kind.family == FOOTSWITCHES]
    pairs = [
        (first, second, least_between(stack(first), stack(second)))
        for first, second in combinations(feet, 2)
        if first.face == second.face and (first.name, second.name) not in close
    ]
    yield from closest_advice(
        pairs,
        built.limits["switch_advice_mm"],
        title="Footswitches close together",
        what="the edges of footswitches are as close as {measured} ({limit} is advised)",
    )


def _close(built: Built, margin: Margin) -> Finding:
    straight = _straight(built, margin)
    has_knob = any(built.part(name).knob is not None for name in margin.parts)
    return Finding(
        severity="warn",
        title="One shoe presses both"
        if margin.rule == SHOES
        else f"{'Knob' if has_knob else 'Control'} within reach of a shoe",
        what="the middles of {subjects} are {measured} apart, less than {limit}",
        subjects=Subject.parts(*margin.parts),
        edits=cure(built, margin.parts, SHOE, SHOES),
        remedy="Move them {missing} further apart, on a larger box if need be",
        measured=mm(straight.room_mm),
        limit=straight.limit,
        marks=tuple(Mark.at(built.part(name), RADIUS_MM) for name in margin.parts),
    )


def _straight(built: Built, margin: Margin) -> Margin:
    """Return a margin as a ruler shows it: between the middles, the limit as much larger as the shoe is wide there."""
    first, second = (built.part(name) for name in margin.parts)
    apart = math.dist((first.u_mm, first.v_mm), (second.u_mm, second.v_mm))
    wide = replace(margin.limit, value=margin.limit.value + apart - margin.room_mm)
    return replace(margin, room_mm=apart, limit=wide)
