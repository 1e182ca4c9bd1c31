"""Plugs outside: room to each other, to knobs and hardware, to the ground and to the next pedal."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import combinations

from mockup.checks.panel.built import Built, are_near
from mockup.checks.panel.moves import remedy
from mockup.checks.panel.plugs import FAMILIES, Plug, plug_in, plugs
from mockup.checks.report.words import SHAPES, at_least, is_enough, length, listed
from mockup.geometry.solids import Solid, gap, overlap_volume
from mockup.model.design import Placement
from mockup.model.finding import Finding, Limit, Mark
from mockup.model.limits import Limits

READS = ("enclosure", "parts", "units")
TOUCH_MM3 = 0.01  # shared volume below this is rounding


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield plugs that cannot be pushed in beside each other, beside hardware, over the ground or the next pedal."""
    all_plugs = plugs(built, limits)
    for first, second in combinations(all_plugs, 2):
        yield from _meeting(built, limits, first, second.part, second.body, f"The plugs in {_both(first, second)}")
    for plug in all_plugs:
        for part in built.design.parts:
            if part.name == plug.part.name:
                continue
            for solids, what in ((built.hardware, ""), (built.knobs, "the knob of ")):
                if part.name in solids:
                    words = f"The plug in {plug.part.name} and {what}{part.name}"
                    yield from _meeting(built, limits, plug, part, solids[part.name], words)
        yield from _ground(built, limits, plug)
    yield from _next_pedal(built, limits, all_plugs)


def _both(first: Plug, second: Plug) -> str:
    return listed((first.part.name, second.part.name))


def _meeting(built: Built, limits: Limits, plug: Plug, other: Placement, solid: Solid, words: str) -> Iterator[Finding]:
    limit, units, names = limits["plug_gap_mm"], built.design.units, (plug.part.name, other.name)
    if not are_near(plug.body.bounds(), solid.bounds(), limit.value):
        return
    shared = overlap_volume(plug.body, solid)
    is_hit = shared > TOUCH_MM3
    room = 0.0 if is_hit else gap(plug.body, solid, limit.value)
    if is_enough(room, limit.value, units):
        return
    yield _finding(
        limit,
        names,
        is_hit,
        f"{words} are in one place: they share {shared:.3g} mm³"
        if is_hit
        else f"{words} are {length(room, units)} apart, less than {length(limit.value, units)}",
        remedy(built, limits, names, partial(_is_free, built, limits)) or "Move them apart, or use thinner plugs",
        shared if is_hit else room,
        (_mark(plug.part), _mark(other)),
    )


def _ground(built: Built, limits: Limits, plug: Plug) -> Iterator[Finding]:
    limit, units = limits["ground_gap_mm"], built.design.units
    low, _ = plug.body.bounds()
    room = float(low[2])
    if is_enough(room, limit.value, units):
        return
    name = plug.part.name
    what = (
        f"The plug in {name} reaches {length(-room, units)} below the ground that the pedal stands on"
        if room < 0
        else f"The plug in {name} is {length(room, units)} over the ground, less than {length(limit.value, units)}"
    )
    yield Finding(
        check="plug-bodies",
        severity="stop" if room < 0 else "warn",
        subjects=(name,),
        what=what,
        remedy=remedy(built, limits, (name,), partial(_is_free, built, limits))
        or f"Put feet of {at_least(limit.value - room, units)} under the pedal",
        source=SHAPES if room < 0 else limit.source,
        measured=room,
        limit=limit.value,
        unit="mm",
        marks=(_mark(plug.part),),
    )


def _next_pedal(built: Built, limits: Limits, all_plugs: tuple[Plug, ...]) -> Iterator[Finding]:
    """Yield one note where right-angled plugs at a side need more than is left to the next pedal."""
    limit, units = limits["next_pedal_mm"], built.design.units
    sides = [plug for plug in all_plugs if plug.part.face in ("left", "right") and plug.tip is not None]
    out = {plug.part.name: plug.shoulder_mm + limits["jack_plug_angled_mm"].value for plug in sides}
    wide = [name for name in out if out[name] > limit.value]
    if not wide:
        return
    most = max(out[name] for name in wide)
    yield Finding(
        check="plug-bodies",
        severity="note",
        subjects=tuple(wide),
        what=f"Right-angled plugs in {listed(wide)} stand out {length(most, units)}; "
        f"{length(limit.value, units)} are left to the next pedal",
        remedy=f"Leave {at_least(most, units)} at that side, or put the jacks at the far side",
        source=limit.source,
        measured=most,
        limit=limit.value,
        unit="mm",
        marks=tuple(_mark(built.part(name)) for name in wide),
    )


def _is_free(built: Built, limits: Limits, moved: Placement, others: tuple[Placement, ...]) -> bool:
    """True where, with one part moved, its plug (or what it has outside) is clear of the others' and of the ground."""
    least = limits["plug_gap_mm"].value
    rest = [plug_in(built, limits, part).body for part in others if part.kind.family in FAMILIES]
    own = []
    if moved.kind.family in FAMILIES:
        plug = plug_in(built, limits, moved).body
        if float(plug.bounds()[0][2]) < limits["ground_gap_mm"].value:
            return False
        own.append(plug)
        hard = [solid for name, solid in (*built.hardware.items(), *built.knobs.items()) if name != moved.name]
        if not _are_clear(own, hard, least):
            return False
    if moved.kind.above:
        own.append(built.hardware_at(moved))
    if moved.knob is not None and moved.kind.shaft is not None:
        own.append(built.knob_at(moved))
    return _are_clear(own, rest, least)


def _are_clear(first: list[Solid], second: list[Solid], least_mm: float) -> bool:
    return all(
        not are_near(one.bounds(), other.bounds(), least_mm) or gap(one, other, least_mm) >= least_mm
        for one in first
        for other in second
    )


def _finding(
    limit: Limit,
    names: tuple[str, ...],
    is_hit: bool,
    what: str,
    cure: str,
    measured: float,
    marks: tuple[Mark, ...],
) -> Finding:
    return Finding(
        check="plug-bodies",
        severity="stop" if is_hit else "warn",
        subjects=names,
        what=what,
        remedy=cure,
        source=SHAPES if is_hit else limit.source,
        measured=measured,
        limit=0.0 if is_hit else limit.value,
        unit="mm³" if is_hit else "mm",
        marks=marks,
    )


def _mark(part: Placement) -> Mark:
    return Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=7.5)
