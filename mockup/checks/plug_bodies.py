"""Plugs outside: room to each other, to knobs and hardware, to the ground and to the next pedal."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import combinations

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.checks.panel.contact import are_clear, contact
from mockup.checks.panel.moves import cure
from mockup.checks.panel.plugs import FAMILIES, Plug, plug_in, plugs
from mockup.geometry.solids import Solid
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.units import is_enough, round_up

LIMITS = """
[jack_plug_angled_mm]
value = 25.0
unit = "mm"
about = "how far a right-angled 6.35 mm plug stands out from its shoulder"
source = "common practice, no source"

[plug_gap_mm]
value = 1.0
unit = "mm"
about = "room between a plug's body and another plug, a knob or other hardware"
source = "common practice, no source"

[ground_gap_mm]
value = 0.5
unit = "mm"
about = "room between a plug's body and the ground, the pedal standing on its lid"
source = "common practice, no source"

[next_pedal_mm]
value = 30.0
unit = "mm"
about = "room left at each side of the pedal for right-angled plugs"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
_SIDE = """
[[part]]
name = "IN"
kind = "jack-enclosed"
face = "far"
left = 15
top = 14
[[part]]
name = "OUT"
kind = "jack-enclosed"
face = "far"
top = 14
"""
PLANTED = Case(_SIDE + "left = 29\n")  # plugs 15 mm wide, 14 mm apart
SOUND = Case(_SIDE + "left = 45\n")
RADIUS_MM = 7.5  # of a mark: common practice, no source


def check(built: Built) -> Iterator[Finding]:
    """Yield plugs that cannot be pushed in beside each other, beside hardware, over the ground or the next pedal."""
    all_plugs = plugs(built)
    for first, second in combinations(all_plugs, 2):
        yield from _meeting(built, first, second.part, second.body, "the plugs in {subjects}")
    for plug in all_plugs:
        for part in built.design.parts:
            if part.name == plug.part.name:
                continue
            for solids, other in ((built.hardware, "{second}"), (built.knobs, "the knob of {second}")):
                if part.name in solids:
                    both = "the plug in {first} and " + other
                    yield from _meeting(built, plug, part, solids[part.name], both)
        yield from _ground(built, plug)
    yield from _next_pedal(built, all_plugs)


def _meeting(built: Built, plug: Plug, other: Placement, solid: Solid, both: str) -> Iterator[Finding]:
    limit, names = built.limits["plug_gap_mm"], (plug.part.name, other.name)
    found = contact(plug.body, solid, limit.value)
    if not found.is_overlap and is_enough(found.gap_mm, limit.value, built.design.units):
        return
    yield Finding(
        severity="stop" if found.is_overlap else "warn",
        title="Plug does not go in" if found.is_overlap else "Plug too close",
        what=both
        + (
            " run into each other, by as much as a cube of {cube} ({measured})"
            if found.is_overlap
            else " are {measured} apart, less than {limit}"
        ),
        subjects=Subject.parts(*names),
        edits=cure(built, names, partial(_is_free, built)),
        remedy="Move them apart, or use thinner plugs",
        measured=found.measured,
        limit=found.limit(limit),
        facts={"cube": found.cube},
        marks=(Mark.at(plug.part, RADIUS_MM), Mark.at(other, RADIUS_MM)),
    )


def _ground(built: Built, plug: Plug) -> Iterator[Finding]:
    limit, units = built.limits["ground_gap_mm"], built.design.units
    low, _ = plug.body.bounds()
    room = float(low[2])
    if is_enough(room, limit.value, units):
        return
    yield Finding(
        severity="stop" if room < 0 else "warn",
        title="Plug hits the ground" if room < 0 else "Plug near the ground",
        what="the plug in {first} reaches {by} below the ground that the pedal stands on"
        if room < 0
        else "the plug in {first} is {measured} over the ground, less than {limit}",
        subjects=Subject.parts(plug.part.name),
        edits=cure(built, (plug.part.name,), partial(_is_free, built)),
        remedy="Put feet of {feet} under the pedal",
        measured=mm(room),
        limit=limit.quantity if room < 0 else limit,
        facts={"feet": mm(round_up(limit.value - room, units))},
        marks=(Mark.at(plug.part, RADIUS_MM),),
    )


def _next_pedal(built: Built, all_plugs: tuple[Plug, ...]) -> Iterator[Finding]:
    """Yield one note where right-angled plugs at a side need more than is left to the next pedal."""
    limit = built.limits["next_pedal_mm"]
    sides = [plug for plug in all_plugs if plug.part.face in ("left", "right") and plug.tip is not None]
    out = {plug.part.name: plug.shoulder_mm + built.limits["jack_plug_angled_mm"].value for plug in sides}
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


def _is_free(built: Built, moved: Placement, others: tuple[Placement, ...]) -> bool:
    """True where, with one part moved, its plug (or what it has outside) is clear of the others' and of the ground."""
    least = built.limits["plug_gap_mm"].value
    rest = [plug_in(built, part).body for part in others if part.kind.family in FAMILIES]
    own = []
    if moved.kind.family in FAMILIES:
        plug = plug_in(built, moved).body
        if float(plug.bounds()[0][2]) < built.limits["ground_gap_mm"].value:
            return False
        own.append(plug)
        hard = [solid for name, solid in (*built.hardware.items(), *built.knobs.items()) if name != moved.name]
        if not are_clear(own, hard, least):
            return False
    if moved.kind.above:
        own.append(built.hardware_at(moved))
    if moved.knob is not None and moved.kind.shaft is not None:
        own.append(built.knob_at(moved))
    return are_clear(own, rest, least)
