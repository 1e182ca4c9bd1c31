"""Plugs inside: what the sleeve and tip of a plug pushed in meet behind the panel."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance.rules import PLUG, TIPS
from mockup.model.finding import Finding, Mark, Subject, mm

LIMITS = """
[tip_gap_mm]
value = 1.0
about = "room between a plug pushed in and anything inside but its own jack"
source = "common practice, no source"
"""
READS = ("enclosure", "parts", "units")
FIGURES = ("body", "terminals", "inside")
_IN = part_text("IN", "jack-enclosed", face="near", top=15)
PLANTED = Case(_IN + part_text("A", "footswitch", bottom=25))  # the tip reaches 28 mm in
SOUND = Case(_IN + part_text("A", "footswitch", bottom=60))


def check(built: Built) -> Iterator[Finding]:
    """Yield plugs that run into a body, a wall, or the plug that comes from the other side."""
    for margin in built.broken(TIPS):
        other = "the plug in {second}" if margin.other == PLUG else margin.other or "{second}"
        yield Finding(
            severity="stop" if margin.is_overlap else "warn",
            title="Plug does not go in" if margin.is_overlap else "Plug too close",
            what="the plug in {first} runs {by} into " + other + " inside"
            if margin.is_overlap
            else "the plug in {first} comes within {measured} of " + other + " inside the box, less than {limit}",
            subjects=Subject.parts(*margin.parts),
            edits=cure(built, margin.parts, TIPS),
            remedy="Move the jack to another side, or choose a larger box",
            measured=mm(margin.room_mm),
            limit=margin.limit.quantity if margin.is_overlap else margin.limit,
            marks=tuple(Mark.at(built.part(name), 6.0) for name in margin.parts),
        )
