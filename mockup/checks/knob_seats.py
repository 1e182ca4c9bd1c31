"""Knobs that a long shaft holds up, that a short one hardly holds, or that sit on the nut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from mockup import knobs
from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import is_no_worse
from mockup.model.design import Placement
from mockup.model.edit import Address, Edit, PutLength
from mockup.model.finding import Fact, Finding, Mark, Subject, mm
from mockup.model.part import Knob, Shaft

LIMITS = """
[knob_hang_mm]
value = 2.0
about = "how much higher than need be a knob may hang because its shaft is long"
source = "common practice, no source"

[shaft_grip_mm]
value = 5.0
about = "length of shaft in a knob, from its underside, that its screw holds on to"
source = "common practice, no source"
"""
READS = ("enclosure", "parts")
_LOW, _HIGH = ({"style": "barrel", "diameter": 18, "height": mm} for mm in (10, 14))
PLANTED = Case(part_text("A", "pot-16", top=40, knob=_LOW))  # the shaft alone is 13 mm high
SOUND = Case(part_text("A", "pot-16", top=40, knob=_HIGH))
STEP_MM, MOST_MM = 0.5, 12.0  # in which a better knob is looked for, and how much larger at most: our choice
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
    high, inside = _seat_mm(knob, shaft)
    if high > hang.value + 1e-6:
        edits = _fitting(built, part, knob, shaft)
        remedy, facts = _chosen(edits, "Cut the shaft {measured} shorter")
        yield Finding(
            severity="warn",
            title="Knob hangs high",
            what="the shaft of {first} is too long for its knob, which hangs {measured} higher than it could",
            subjects=Subject.parts(part.name),
            edits=edits,
            remedy=remedy,
            measured=mm(high),
            limit=hang,
            facts=facts,
            marks=(_mark(part),),
        )
    elif inside < grip.value - 1e-6:
        edits = _fitting(built, part, knob, shaft)
        remedy, facts = _chosen(edits, "Choose a part with a longer shaft")
        yield Finding(
            severity="warn",
            title="Shaft too short for its knob",
            what="only {measured} of the shaft of {first} is in its knob, less than {limit}",
            subjects=Subject.parts(part.name),
            edits=edits,
            remedy=remedy,
            measured=mm(inside),
            limit=grip,
            facts=facts,
            marks=(_mark(part),),
        )


def _seat_mm(knob: Knob, shaft: Shaft) -> tuple[float, float]:
    """Return how much higher a knob hangs than it has to, and how much of the shaft is in it."""
    under = _underside_mm(knob, shaft)
    return under - _underside_mm(knob, replace(shaft, top_mm=0.1)), shaft.top_mm - under


def _fitting(built: Built, part: Placement, knob: Knob, shaft: Shaft) -> tuple[Edit, ...]:
    """Return the edit to the least higher, or else the least wider knob of its style that sits well, or nothing."""
    hang, grip = built.limits["knob_hang_mm"].value, built.limits["shaft_grip_mm"].value
    for key, size in (("height", knob.height_mm), ("diameter", knob.diameter_mm)):
        for mm_more in np.arange(STEP_MM, MOST_MM, STEP_MM).tolist():
            tried = replace(knob, **{f"{key}_mm": size + mm_more})
            high, inside = _seat_mm(tried, shaft)
            if high <= hang and inside >= grip and is_no_worse(built, replace(part, knob=tried)):
                return (PutLength(address=Address(way=("part", part.name, "knob", key)), mm=round(size + mm_more, 2)),)
    return ()


def _chosen(edits: Sequence[Edit], instead: str) -> tuple[str, dict[str, Fact]]:
    """Return a remedy's template, with the other knob that edits ask for, and its facts."""
    for edit in edits:
        if isinstance(edit, PutLength):
            way = "high" if edit.address.way[-1] == "height" else "across"
            return f"{instead}, or choose a knob {{size}} {way}", {"size": mm(edit.mm)}
    return instead, {}


def _underside_mm(knob: Knob, shaft: Shaft) -> float:
    """Return the height of a knob's underside over the panel."""
    return min(each.bottom_mm for each in knobs.solids(knob, shaft))


def _spare_mm(part: Placement) -> float:
    """Return how much wider a part's knob is than its nut is over the corners."""
    knob, shaft = part.knob, part.kind.shaft
    return knob.diameter_mm - shaft.nut_mm if knob is not None and shaft is not None else 0.0


def _mark(part: Placement) -> Mark:
    return Mark.at(part, part.knob.diameter_mm / 2 + 1.0 if part.knob is not None else 6.0)
