"""Knobs that a long shaft holds up, that a short one hardly holds, or that sit on the nut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mockup import knobs
from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Extruded

LIMITS = """
[knob_hang_mm]
value = 2.0
unit = "mm"
about = "how much higher than need be a knob may hang because its shaft is long"
source = "common practice, no source"

[shaft_grip_mm]
value = 5.0
unit = "mm"
about = "length of shaft in a knob, from its underside, that its screw holds on to"
source = "common practice, no source"
"""
READS = ("parts",)
_POT = """
[[part]]
name = "A"
kind = "pot-16"
top = 40
"""
PLANTED = Case(_POT + 'knob = { style = "barrel", diameter = 18, height = 10 }\n')  # the shaft alone is 13 mm high
SOUND = Case(_POT + 'knob = { style = "barrel", diameter = 18, height = 14 }\n')
WALL_MM = 0.6  # least wall of a knob round the nut that it goes over: common practice, no source


def check(built: Built) -> Iterator[Finding]:
    """Yield knobs that do not sit where they should; one note for all that sit on their nuts."""
    on_nut = []
    for part in built.design.parts:
        knob, shaft = part.knob, part.kind.shaft
        if knob is None or shaft is None:
            continue
        if knob.diameter_mm < shaft.nut_mm + 2 * WALL_MM:
            on_nut.append(part)
        yield from _held(built, part, knob, shaft)
    if on_nut:
        narrow = min(on_nut, key=_spare_mm)
        yield Finding(
            severity="note",
            title="Knob sits on its nut",
            what="{subjects} have knobs too narrow to go over the nut, so they stand on it"
            if len(on_nut) > 1
            else "the knob of {first} is too narrow to go over the nut, so it stands on it",
            subjects=Subject.parts(*(part.name for part in on_nut)),
            remedy="Set it with a gap to the nut, or choose a knob wider than {wide}",
            measured=mm(_spare_mm(narrow)),
            limit=mm(2 * WALL_MM),
            origin="common practice, no source",
            facts={"wide": mm((narrow.kind.shaft.nut_mm if narrow.kind.shaft else 0.0) + 2 * WALL_MM)},
            marks=tuple(_mark(part) for part in on_nut),
        )


def _held(built: Built, part: Placement, knob: Knob, shaft: Shaft) -> Iterator[Finding]:
    hang, grip = built.limits["knob_hang_mm"], built.limits["shaft_grip_mm"]
    under = _underside_mm(knob, shaft)
    high, inside = under - _underside_mm(knob, replace(shaft, top_mm=0.1)), shaft.top_mm - under
    if high > hang.value + 1e-6:
        yield Finding(
            severity="warn",
            title="Knob hangs high",
            what="the shaft of {first} is too long for its knob, which hangs {measured} higher than it could",
            subjects=Subject.parts(part.name),
            remedy="Cut the shaft {measured} shorter, or choose a knob {measured} taller",
            measured=mm(high),
            limit=hang,
            marks=(_mark(part),),
        )
    elif inside < grip.value - 1e-6:
        yield Finding(
            severity="warn",
            title="Shaft too short for its knob",
            what="only {measured} of the shaft of {first} is in its knob, less than {limit}",
            subjects=Subject.parts(part.name),
            remedy="Choose a part with a longer shaft, or a knob that takes in the nut",
            measured=mm(inside),
            limit=grip,
            marks=(_mark(part),),
        )


def _underside_mm(knob: Knob, shaft: Shaft) -> float:
    """Return the height of a knob's underside over the panel."""
    return min(
        each.bottom_mm if isinstance(each, Extruded) else min(z for _, z in each.profile)
        for each in knobs.solids(knob, shaft)
    )


def _spare_mm(part: Placement) -> float:
    """Return how much wider a part's knob is than its nut is over the corners."""
    knob, shaft = part.knob, part.kind.shaft
    return knob.diameter_mm - shaft.nut_mm if knob is not None and shaft is not None else 0.0


def _mark(part: Placement) -> Mark:
    return Mark.at(part, part.knob.diameter_mm / 2 + 1.0 if part.knob is not None else 6.0)
