"""Holes that a part's thread does not go through, and diameters that none of your drills makes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mockup.checks import Case, part_text
from mockup.checks.panel.built import Built
from mockup.memo import memoize
from mockup.model.bore import Bore
from mockup.model.design import Placement
from mockup.model.finding import SHAPES, Fact, Finding, Mark, Quantity, Severity, Subject, mm
from mockup.model.part import PRACTICE
from mockup.model.units import MM_PER_INCH, round_up

LIMITS = """
[coat_mm]
value = 0.1
about = "paint and clear coat that build up on the wall of a hole, each side"
source = "common practice, no source"

[thread_slack_mm]
value = 1.0
about = "most that a hole may be wider than the thread that goes through it"
source = "common practice, no source"

[drill_off_mm]
value = 0.03
about = "how far a hole may be from the size of a common drill or drill step"
source = "common practice, no source"
"""
READS = ("drills_mm", "finish", "parts", "units")
_HOLE = part_text("A", "hole", top=40) + '[[kind]]\nname = "hole"\nhole = {}\n'
PLANTED = Case(_HOLE.format(13.3))
SOUND = Case(_HOLE.format(13.5))
TWIST_MM = ((0.5, 1.0, 13.0), (0.5, 13.5, 25.0))  # step, from, to: a usual set, then drills with a turned-down shank
MORE_MM = (
    2.4,
    2.9,
    3.4,
    3.9,
    6.6,
)  # clearance holes of M2 to M6, medium: ISO 273; the larger ones are among the halves
TAPS_MM = (1.6, 3.3, 4.2, 6.8, 10.2)  # before an M2, M4, M5, M8 and M12 tap: ISO 2306, from memory
TWIST_64THS = (4, 32)  # a usual inch set, 1/16 to 1/2 in steps of 1/64; sizes of ASME B94.11M, from memory
STEP_MM = ((1.0, 4.0, 20.0), (2.0, 20.0, 40.0))  # step, from, to of step drills: common practice, no source
STEP_INCHES = (1 / 16, 1 / 4, 11 / 8)  # the same in inches: common practice, no source
DRILLS = (
    f"drill sets of 1 to 13 mm in halves, above that to 25, with those for ISO 273 medium clearance and ISO 2306 taps; "
    f"1/16 to 1/2 in in 64ths; step drills in steps of 1 mm (2 above 20) and 1/16 in: {PRACTICE}"
)
OWN_DRILLS = "this layout's [bench] drills"


@memoize
def drills_mm() -> tuple[float, ...]:
    """Return every diameter that a common twist or step drill makes, in rising order, millimetres."""
    found: set[float] = {*MORE_MM, *TAPS_MM}
    for step, low, high in (*TWIST_MM, *STEP_MM):
        found |= {round(step * count, 6) for count in range(round(low / step), round(high / step) + 1)}
    low, high = TWIST_64THS
    found |= {round(count / 64 * MM_PER_INCH, 6) for count in range(low, high + 1)}
    step, low, high = STEP_INCHES
    found |= {round(step * count * MM_PER_INCH, 6) for count in range(round(low / step), round(high / step) + 1)}
    return tuple(sorted(found))


def _drills(built: Built) -> tuple[float, ...]:
    """Return the builder's own drills where the layout lists them, or else the common ones."""
    return built.design.drills_mm or drills_mm()


def check(built: Built) -> Iterator[Finding]:
    """Yield holes too tight or too wide for a thread, and round holes that no common drill makes."""
    finish = built.design.finish
    is_painted = finish.sheen.is_painted or finish.has_clear_coat
    odd: dict[tuple[str, float], Bore] = {}
    for bore in built.bores:
        part, wide = built.part(bore.part), bore.outline.width_mm
        if bore.outline.kind != "circle":
            continue
        if part.kind.thread is not None and (bore.purpose, bore.number) == ("bushing", 1):
            yield from _thread(built, part, bore, built.limits["coat_mm"].value if is_painted else 0.0)
        if min(abs(wide - each) for each in _drills(built)) > built.limits["drill_off_mm"].value:
            odd.setdefault((part.name, wide), bore)
    for bore in odd.values():
        yield _odd(built, bore)


def _thread(built: Built, part: Placement, bore: Bore, coat_mm: float) -> Iterator[Finding]:
    thread, slack = part.kind.thread, built.limits["thread_slack_mm"]
    if thread is None:
        return
    spare = bore.outline.width_mm - thread.major_mm
    least = thread.major_mm + 2 * coat_mm
    wanted = min((each for each in _drills(built) if each >= least - 1e-6), default=round_up(least, "mm"))
    facts: dict[str, Fact] = {"thread": thread.designation, "wanted": mm(wanted)}
    drill = "Drill {first} {wanted}"
    if spare < 0:
        yield _finding(
            bore,
            facts,
            severity="stop",
            title="Thread does not go through",
            what="the {hole} hole of {first} is {by} smaller than its {thread} thread",
            remedy=drill,
            measured=mm(spare),
            limit=mm(0.0),
        )
    elif spare - 2 * coat_mm < -1e-9:
        yield _finding(
            bore,
            facts | {"coat": mm(coat_mm), "tight": mm(2 * coat_mm - spare)},
            severity="note",
            title="Paint closes the hole",
            what="its {thread} thread goes through the bare {hole} hole of {first}, but {coat} of paint and clear coat "
            "all round make it {tight} too small",
            remedy=drill + ", or ream the coat out of the hole before fitting",
            measured=mm(spare),
            limit=replace(built.limits["coat_mm"], value=2 * coat_mm),
        )
    elif spare > slack.value:
        yield _finding(
            bore,
            facts,
            severity="warn",
            title="Hole too wide",
            what="the {hole} hole of {first} is {measured} wider than its {thread} thread, so the part can shift",
            remedy=drill,
            measured=mm(spare),
            limit=slack,
        )


def _odd(built: Built, bore: Bore) -> Finding:
    wide, sizes, limit = bore.outline.width_mm, _drills(built), built.limits["drill_off_mm"]
    below = max((each for each in sizes if each < wide), default=sizes[0])
    above = min((each for each in sizes if each > wide), default=sizes[-1])
    remedy = "Drill {above}" if wide < sizes[0] or wide > sizes[-1] else "Drill {below} or {above}"
    is_own = bool(built.design.drills_mm)
    return _finding(
        bore,
        {"below": mm(below), "above": mm(above)},
        severity="warn" if is_own else "note",
        title="No drill of that size",
        what="none of your drills makes the {hole} hole of {first}"
        if is_own
        else "no drill of the usual sets makes the {hole} hole of {first}",
        remedy=remedy + ("" if wide <= sizes[-1] else " and file the rest"),
        measured=mm(min(abs(wide - each) for each in sizes)),
        limit=limit if limit.is_own else limit.quantity,
        origin=OWN_DRILLS if is_own else DRILLS,
    )


def _finding(
    bore: Bore,
    facts: dict[str, Fact],
    *,
    severity: Severity,
    title: str,
    what: str,
    remedy: str,
    measured: Quantity,
    limit: Quantity,
    origin: str = SHAPES,
) -> Finding:
    return Finding(
        severity=severity,
        title=title,
        what=what,
        subjects=Subject.parts(bore.part),
        remedy=remedy,
        measured=measured,
        limit=limit,
        origin=origin,
        facts={"hole": mm(bore.outline.width_mm), **facts},
        marks=(Mark.at(bore, bore.outline.width_mm / 2 + 1.0),),
    )
