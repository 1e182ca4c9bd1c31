"""Knobs that meet each other or other hardware, cover a lamp, or stick out over the edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance.placed import knob_figure
from mockup.clearance.rules import KNOB_EDGE, KNOB_ROOM, LENS, NUT
from mockup.clearance.table import Margin
from mockup.model.finding import Finding, Mark, Subject, mm

LIMITS = """
[knob_clear_mm]
value = 0.8
about = "room between a knob and anything of another part above the panel"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
_A = part_text("A", "pot-16", top=30, knob={"style": "barrel", "diameter": 18})
PLANTED = Case(_A + part_text("EYE", "lamp-5", top=40))  # the lamp 10 mm from the axis of a knob of 18
SOUND = Case(_A + part_text("EYE", "lamp-5", top=70))


def check(built: Built) -> Iterator[Finding]:
    """Yield what a knob, turned through its whole travel, is in the way of. Two knobs: see `knob-gaps`."""
    yield from (_over_the_edge(built, margin) for margin in built.broken(KNOB_EDGE))
    broken = built.broken(KNOB_ROOM, LENS, NUT)
    for parts in dict.fromkeys(margin.parts for margin in broken):
        yield _in_the_way(built, [margin for margin in broken if margin.parts == parts])


def _over_the_edge(built: Built, margin: Margin) -> Finding:
    limit, part, room = margin.limit, built.part(margin.parts[0]), margin.room_mm
    wide = knob_figure(part)
    radius = wide.radius_mm if wide is not None else 0.0
    return Finding(
        severity="warn",
        title="Knob over the edge" if room < 0 else "Knob near the edge",
        what="the knob of {first} sticks out {by} over the edge of the {face} face"
        if room < 0
        else "the knob of {first} leaves {measured} to the edge of the {face} face",
        subjects=Subject.parts(part.name),
        edits=cure(built, margin.parts, KNOB_EDGE),
        remedy="Choose a knob of {size} or less",
        measured=mm(room),
        limit=limit,
        facts={"face": part.face, "size": mm(2 * (radius + room - limit.value))},
        marks=(Mark.at(part, radius),),
    )


def _in_the_way(built: Built, margins: Sequence[Margin]) -> Finding:
    """Return the worst of: both in one place, a lamp covered, a nut covered, too little room."""
    by_rule = {margin.rule: margin for margin in margins}
    rubs = by_rule.get(KNOB_ROOM)
    if rubs is not None and rubs.is_overlap:
        margin, title, what = rubs, "Knob cannot turn", "the knob of {first} runs {by} into {second}"
    elif LENS in by_rule:
        margin, title = by_rule[LENS], "Knob covers a lamp"
        what = "the knob of {first} covers the lens of {second} by {by}, seen from above"
    elif NUT in by_rule:
        margin, title = by_rule[NUT], "Nut out of reach"
        what = "the knob of {first} covers the nut, washer or screws of {second} by {by}, so no tool reaches them"
    else:
        margin, title = margins[0], "Knob nearly rubs"
        what = "the knob of {first} passes {second} with {measured} to spare, less than {limit}"
    part, other = (built.part(name) for name in margin.parts)
    knob = knob_figure(part)
    is_stop = margin.rule == KNOB_ROOM and margin.is_overlap
    return Finding(
        severity="stop" if is_stop else "warn",
        title=title,
        what=what,
        subjects=Subject.parts(part.name, other.name),
        edits=cure(built, margin.parts, KNOB_ROOM, LENS, NUT),
        remedy="Choose a smaller knob for {first}",
        measured=mm(margin.room_mm),
        limit=margin.limit if margin.rule == KNOB_ROOM and not is_stop else mm(0.0),
        marks=(Mark.at(part, knob.radius_mm if knob else 8.0), Mark.at(other, 6.0)),
    )
