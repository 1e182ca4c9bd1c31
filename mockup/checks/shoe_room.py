"""Room for a shoe: from a footswitch to knobs, toggles and other footswitches."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.checks.panel.face_room import FOOTSWITCHES, apart, shoe_mm
from mockup.checks.panel.moves import cure, keeps
from mockup.checks.panel.plan import least_between, stack
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.units import is_enough

LIMITS = """
[switch_advice_mm]
value = 50.0
unit = "mm"
about = "room between the edges of two footswitches pressed one after the other; advice"
source = "MIL-STD-1472 foot pedals, sequential use, from memory"
"""
READS = ("enclosure", "parts", "units")
_PAIR = """
[[part]]
name = "STOMP"
kind = "footswitch"
top = 90
[[part]]
name = "A"
kind = "pot-16"
"""
PLANTED = Case(_PAIR + "top = 60\n")  # 30 mm apart
SOUND = Case(_PAIR + "top = 40\n")


def check(built: Built) -> Iterator[Finding]:
    """Yield controls that a shoe on a footswitch would move, and footswitches that one shoe would press together."""
    advice = built.limits["switch_advice_mm"]
    for first, second in combinations(built.design.parts, 2):
        least = shoe_mm(built, first, second)
        if first.face != second.face or least is None:
            continue
        is_both = first.kind.family == second.kind.family == FOOTSWITCHES
        far, names = apart(first, second), (first.name, second.name)
        marks = (Mark.at(first, 9.0), Mark.at(second, 9.0))
        if not is_enough(far, least, built.design.units):
            limit = built.limits["switch_apart_mm" if is_both else "knob_switch_mm"]
            yield Finding(
                severity="warn",
                title="One shoe presses both" if is_both else "Knob within reach of a shoe",
                what="the middles of {subjects} are {measured} apart, less than {limit}",
                subjects=Subject.parts(*names),
                edits=cure(built, names, keeps(built, "shoe")),
                remedy="Move them {missing} further apart, on a larger box if need be",
                measured=mm(far),
                limit=limit,
                marks=marks,
            )
        elif is_both and (room := least_between(stack(first), stack(second))) < advice.value:
            yield Finding(
                severity="note",
                title="Footswitches close together",
                what="{subjects} leave {measured} between their edges; {limit} is advised to press one after the other",
                subjects=Subject.parts(*names),
                remedy="Nothing has to change; a wider box gives more room",
                measured=mm(room),
                limit=advice,
                marks=marks,
            )
