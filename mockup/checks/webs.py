"""Metal left between the holes of two parts."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.checks.panel.moves import cure
from mockup.clearance.figures import between, of_bore
from mockup.clearance.rules import WEBS
from mockup.model.finding import Finding, Mark, Subject, mm

READS = ("enclosure", "parts", "units")
_A = part_text("A", "pot-16", left=20, top=30)
PLANTED = Case(_A + part_text("B", "pot-16", left=28.5, top=30))  # two holes of 7.5 leave 1 mm
SOUND = Case(_A + part_text("B", "pot-16", left=40, top=30))


def check(built: Built) -> Iterator[Finding]:
    """Yield the pairs of parts whose holes leave too little metal between them, or none."""
    for margin in built.broken(WEBS):
        web, is_cut = margin.room_mm, margin.room_mm <= 0
        holes = [[bore for bore in built.bores if bore.part == name] for name in margin.parts]
        nearest = min(product(*holes), key=lambda pair: between(of_bore(pair[0]), of_bore(pair[1])))
        yield Finding(
            severity="stop" if is_cut else "warn",
            title="Holes run together" if is_cut else "Thin metal between holes",
            what="the holes of {subjects} overlap by {by}"
            if is_cut
            else "the holes of {subjects} leave {measured} between them, less than {limit}",
            subjects=Subject.parts(*margin.parts),
            edits=cure(built, margin.parts, WEBS),
            remedy="Move one of them, or choose parts with smaller holes",
            measured=mm(web),
            limit=margin.limit.quantity if is_cut else margin.limit,
            marks=tuple(Mark.at(bore, of_bore(bore).reach_mm + 1.0) for bore in nearest),
        )
