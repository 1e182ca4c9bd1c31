"""Plugs outside: room to each other, to knobs and hardware, to the ground and to the next pedal."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance.plugs import JACKS, plug_of
from mockup.clearance.rules import GROUND, KNOB, PLUG, PLUGS
from mockup.clearance.table import Margin
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.units import round_up

LIMITS = """
[jack_plug_angled_mm]
value = 25.0
about = "how far a right-angled 6.35 mm plug stands out from its shoulder"
source = "common practice, no source"

[plug_gap_mm]
value = 1.0
about = "room between a plug's body and another plug, a knob or other hardware"
source = "common practice, no source"

[ground_gap_mm]
value = 0.5
about = "room between a plug's body and the ground, the pedal standing on its lid"
source = "common practice, no source"

[next_pedal_mm]
value = 30.0
about = "room left at each side of the pedal for right-angled plugs"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
_IN = part_text("IN", "jack-enclosed", face="far", left=15, top=14)
PLANTED = Case(_IN + part_text("OUT", "jack-enclosed", face="far", left=29, top=14))  # plugs 15 mm wide, 14 mm apart
SOUND = Case(_IN + part_text("OUT", "jack-enclosed", face="far", left=45, top=14))
RADIUS_MM = 7.5  # of a mark: common practice, no source


def check(built: Built) -> Iterator[Finding]:
    """Yield plugs that cannot be pushed in beside each other, beside hardware, over the ground or the next pedal."""
    yield from (_meeting(built, margin) for margin in built.broken(PLUGS))
    yield from (_over_ground(built, margin) for margin in built.broken(GROUND))
    yield from _next_pedal(built)


def _meeting(built: Built, margin: Margin) -> Finding:
    both = {
        PLUG: "the plugs in {subjects}",
        KNOB: "the plug in {first} and the knob of {second}",
    }.get(margin.other, "the plug in {first} and {second}")
    return Finding(
        severity="stop" if margin.is_overlap else "warn",
        title="Plug does not go in" if margin.is_overlap else "Plug too close",
        what=both
        + (" run into each other by {by}" if margin.is_overlap else " are {measured} apart, less than {limit}"),
        subjects=Subject.parts(*margin.parts),
        edits=cure(built, margin.parts, PLUGS),
        remedy="Move them apart, or use thinner plugs",
        measured=mm(margin.room_mm),
        limit=margin.limit.quantity if margin.is_overlap else margin.limit,
        marks=tuple(Mark.at(built.part(name), RADIUS_MM) for name in margin.parts),
    )


def _over_ground(built: Built, margin: Margin) -> Finding:
    room = margin.room_mm
    return Finding(
        severity="stop" if room < 0 else "warn",
        title="Plug hits the ground" if room < 0 else "Plug near the ground",
        what="the plug in {first} reaches {by} below the ground that the pedal stands on"
        if room < 0
        else "the plug in {first} is {measured} over the ground, less than {limit}",
        subjects=Subject.parts(*margin.parts),
        edits=cure(built, margin.parts, PLUGS, GROUND),
        remedy="Put feet of {feet} under the pedal",
        measured=mm(room),
        limit=margin.limit.quantity if room < 0 else margin.limit,
        facts={"feet": mm(round_up(-margin.spare_mm, built.design.units))},
        marks=tuple(Mark.at(built.part(name), RADIUS_MM) for name in margin.parts),
    )


def _next_pedal(built: Built) -> Iterator[Finding]:
    """Yield one note where right-angled plugs at a side need more than is left to the next pedal."""
    limit, angled = built.limits["next_pedal_mm"], built.limits["jack_plug_angled_mm"].value
    sides = [part for part in built.design.parts if part.face in ("left", "right") and part.kind.family == JACKS]
    out = {part.name: plug_of(part.kind, built.limits).shoulder_mm + angled for part in sides}
    wide = [name for name in out if out[name] > limit.value]
    if not wide:
        return
    most = max(out[name] for name in wide)
    yield Finding(
        severity="note",
        title="Plugs reach the next pedal",
        what="right-angled plugs in {subjects} stand out {measured}; {limit} is left to the next pedal",
        subjects=Subject.parts(*wide),
        remedy="Leave {room} at that side, or put the jacks at the far side",
        measured=mm(most),
        limit=limit,
        facts={"room": mm(round_up(most, built.design.units))},
        marks=tuple(Mark.at(built.part(name), RADIUS_MM) for name in wide),
    )
