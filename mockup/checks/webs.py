"""Metal left between the holes of two parts."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure, keeps
from mockup.checks.panel.plan import between, of_bore
from mockup.model.finding import Finding, Mark, Subject, mm
from mockup.model.units import is_enough

READS = ("enclosure", "parts", "units")
_TWO = """
[[part]]
name = "A"
kind = "pot-16"
left = 20
top = 30
[[part]]
name = "B"
kind = "pot-16"
top = 30
"""
PLANTED = Case(_TWO + "left = 28.5\n")  # two holes of 7.5 leave 1 mm
SOUND = Case(_TWO + "left = 40\n")


def check(built: Built) -> Iterator[Finding]:
    """Yield the pairs of holes of two parts that leave too little metal between them, or none."""
    limit = built.limits["web_mm"]
    for first, second in combinations(built.bores, 2):
        if first.part == second.part or first.face != second.face:
            continue
        web = between(of_bore(first), of_bore(second))
        if is_enough(web, limit.value, built.design.units):
            continue
        names, is_cut = (first.part, second.part), web <= 0
        yield Finding(
            severity="stop" if is_cut else "warn",
            title="Holes run together" if is_cut else "Thin metal between holes",
            what="the holes of {subjects} overlap by {by}"
            if is_cut
            else "the holes of {subjects} leave {measured} between them, less than {limit}",
            subjects=Subject.parts(*names),
            edits=cure(built, names, keeps(built, "web")),
            remedy="Move one of them, or choose parts with smaller holes",
            measured=mm(web),
            limit=limit.quantity if is_cut else limit,
            marks=tuple(Mark.at(bore, of_bore(bore).reach_mm + 1.0) for bore in (first, second)),
        )
