"""Metal left between the holes of two parts."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import combinations

from mockup.checks.panel.built import Built
from mockup.checks.panel.face_room import CLOSE_MM, margins
from mockup.checks.panel.moves import remedy
from mockup.checks.panel.plan import between, of_bore
from mockup.checks.report.words import SHAPES, is_enough, length
from mockup.model.bore import Bore
from mockup.model.design import Placement
from mockup.model.finding import Finding, Mark
from mockup.model.limits import Limits

READS = ("enclosure", "parts", "units")


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield the pairs of holes of two parts that leave too little metal between them, or none."""
    limit, units = limits["web_mm"], built.design.units
    for first, second in combinations(built.bores, 2):
        if first.part == second.part or first.face != second.face:
            continue
        web = between(of_bore(first), of_bore(second))
        if is_enough(web, limit.value, units):
            continue
        names = (first.part, second.part)
        is_cut = web <= 0
        what = f"The holes of {names[0]} and {names[1]} " + (
            f"run into each other by {length(-web, units)}"
            if is_cut
            else f"leave {length(web, units)} of metal between them, less than {length(limit.value, units)}"
        )
        yield Finding(
            check="webs",
            severity="stop" if is_cut else "warn",
            subjects=names,
            what=what,
            remedy=remedy(built, limits, names, partial(_is_clear, built, limits))
            or "Move one of them, or choose parts with smaller holes",
            source=SHAPES if is_cut else limit.source,
            measured=web,
            limit=limit.value,
            unit="mm",
            marks=(_mark(first), _mark(second)),
        )


def _is_clear(built: Built, limits: Limits, moved: Placement, others: tuple[Placement, ...]) -> bool:
    rooms = margins(built, limits, moved, others)
    return all(room >= -CLOSE_MM for (kind, _), room in rooms.items() if kind == "web")


def _mark(bore: Bore) -> Mark:
    return Mark(face=bore.face, u_mm=bore.u_mm, v_mm=bore.v_mm, radius_mm=of_bore(bore).reach_mm + 1.0)
