"""Plugs inside: what the sleeve and tip of a plug pushed in meet behind the panel."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.checks.panel.contact import are_clear, contact
from mockup.checks.panel.moves import cure
from mockup.checks.panel.plugs import plug_in, plugs
from mockup.geometry.solids import Solid
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark, Subject
from mockup.model.units import is_enough

LIMITS = """
[tip_gap_mm]
value = 1.0
unit = "mm"
about = "room between a plug pushed in and anything inside but its own jack"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
_BEFORE = """
[[part]]
name = "IN"
kind = "jack-enclosed"
face = "near"
top = 15
[[part]]
name = "A"
kind = "footswitch"
"""
PLANTED = Case(_BEFORE + "bottom = 25\n")  # the tip reaches 28 mm in
SOUND = Case(_BEFORE + "bottom = 60\n")


def check(built: Built) -> Iterator[Finding]:
    """Yield plugs that run into a body, a wall, or the plug that comes from the other side."""
    tips = {plug.part.name: plug.tip for plug in plugs(built) if plug.tip is not None}
    done: set[frozenset[str]] = set()
    for name, tip in tips.items():
        for other, solid in tips.items():
            pair = frozenset((name, other))
            if other != name and pair not in done:
                done.add(pair)
                yield from _meeting(built, tip, (name, other), "the plug in {second}", solid)
        for other, solid in built.bodies.items():
            if other != name:
                yield from _meeting(built, tip, (name, other), "{second}", solid)
        for wall, solid in built.walls_but(built.part(name).face).items():
            yield from _meeting(built, tip, (name,), wall, solid)


def _meeting(built: Built, tip: Solid, names: tuple[str, ...], other: str, solid: Solid) -> Iterator[Finding]:
    limit = built.limits["tip_gap_mm"]
    found = contact(tip, solid, limit.value)
    if not found.is_overlap and is_enough(found.gap_mm, limit.value, built.design.units):
        return
    yield Finding(
        severity="stop" if found.is_overlap else "warn",
        title="Plug does not go in" if found.is_overlap else "Plug too close",
        what="the plug in {first} runs into " + other + " inside, by as much as a cube of {cube} ({measured})"
        if found.is_overlap
        else "the plug in {first} comes within {measured} of " + other + " inside the box, less than {limit}",
        subjects=Subject.parts(*names),
        edits=cure(built, names, partial(_is_free, built)),
        remedy="Move the jack to another side, or choose a larger box",
        measured=found.measured,
        limit=found.limit(limit),
        facts={"cube": found.cube},
        marks=tuple(Mark.at(built.part(name), 6.0) for name in names),
    )


def _is_free(built: Built, moved: Placement, others: tuple[Placement, ...]) -> bool:
    """True where, with one part moved, no plug that is pushed in meets anything inside."""
    least = built.limits["tip_gap_mm"].value
    rest = [tip for part in others if (tip := _tip(built, part)) is not None]
    own = _tip(built, moved)
    if own is not None:
        around = [*rest, *built.walls_but(moved.face).values()]
        around += [solid for name, solid in built.bodies.items() if name != moved.name]
        if not are_clear((own,), around, least):
            return False
    return not moved.kind.below or are_clear((built.body(moved),), rest, least)


def _tip(built: Built, part: Placement) -> Solid | None:
    return plug_in(built, part).tip if part.kind.family == "jack" else None
