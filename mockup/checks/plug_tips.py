"""Plugs inside: what the sleeve and tip of a plug pushed in meet behind the panel."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from mockup.checks.panel.built import Built, are_near
from mockup.checks.panel.moves import remedy
from mockup.checks.panel.plugs import plug_in, plugs
from mockup.checks.report.words import SHAPES, is_enough, length
from mockup.geometry.solids import Solid, gap, overlap_volume
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark
from mockup.model.limits import Limits

READS = ("enclosure", "parts", "units")
TOUCH_MM3 = 0.01  # shared volume below this is rounding


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield plugs that run into a body, a wall, or the plug that comes from the other side."""
    tips = {plug.part.name: plug.tip for plug in plugs(built, limits) if plug.tip is not None}
    done: set[frozenset[str]] = set()
    for name, tip in tips.items():
        part = built.part(name)
        for other, solid in tips.items():
            pair = frozenset((name, other))
            if other != name and pair not in done:
                done.add(pair)
                yield from _meeting(built, limits, part, tip, (name, other), f"the plug in {other}", solid)
        for other, solid in built.bodies.items():
            if other != name:
                yield from _meeting(built, limits, part, tip, (name, other), other, solid)
        for wall, solid in built.walls_but(part.face).items():
            yield from _meeting(built, limits, part, tip, (name,), wall, solid)


def _meeting(
    built: Built,
    limits: Limits,
    part: Placement,
    tip: Solid,
    names: tuple[str, ...],
    words: str,
    solid: Solid,
) -> Iterator[Finding]:
    limit, units = limits["tip_gap_mm"], built.design.units
    if not are_near(tip.bounds(), solid.bounds(), limit.value):
        return
    shared = overlap_volume(tip, solid)
    is_hit = shared > TOUCH_MM3
    room = 0.0 if is_hit else gap(tip, solid, limit.value)
    if is_enough(room, limit.value, units):
        return
    yield Finding(
        check="plug-tips",
        severity="stop" if is_hit else "warn",
        subjects=names,
        what=f"The plug in {part.name} runs into {words} inside the box: they share {shared:.3g} mm³"
        if is_hit
        else f"The plug in {part.name} comes within {length(room, units)} of {words} inside the box, less than "
        + length(limit.value, units),
        remedy=remedy(built, limits, names, partial(_is_free, built, limits))
        or "Move the jack to another side, or choose a larger box",
        source=SHAPES if is_hit else limit.source,
        measured=shared if is_hit else room,
        limit=0.0 if is_hit else limit.value,
        unit="mm³" if is_hit else "mm",
        marks=tuple(_mark(built.part(name)) for name in names),
    )


def _is_free(built: Built, limits: Limits, moved: Placement, others: tuple[Placement, ...]) -> bool:
    """True where, with one part moved, no plug that is pushed in meets anything inside."""
    least = limits["tip_gap_mm"].value
    rest = {part.name: tip for part in others if part.kind.family == "jack" and (tip := _tip(built, limits, part))}
    own = _tip(built, limits, moved) if moved.kind.family == "jack" else None
    if own is not None:
        around = [*rest.values(), *built.walls_but(moved.face).values()]
        around += [solid for name, solid in built.bodies.items() if name != moved.name]
        if not _are_clear(own, around, least):
            return False
    return not moved.kind.below or _are_clear(built.body(moved), list(rest.values()), least)


def _tip(built: Built, limits: Limits, part: Placement) -> Solid | None:
    return plug_in(built, limits, part).tip


def _are_clear(one: Solid, others: list[Solid], least_mm: float) -> bool:
    box = one.bounds()
    return all(not are_near(box, each.bounds(), least_mm) or gap(one, each, least_mm) >= least_mm for each in others)


def _mark(part: Placement) -> Mark:
    return Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=6.0)
