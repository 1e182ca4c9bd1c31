"""Holes that a part's thread does not go through, and diameters that no common drill makes."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks.panel.built import Built
from mockup.checks.report.words import SHAPES, length
from mockup.model.bore import Bore
from mockup.model.design import Placement
from mockup.model.finding import Finding, Limit, Mark
from mockup.model.limits import Limits
from mockup.model.part import MEMORY, PRACTICE
from mockup.model.units import MM_PER_INCH

READS = ("finish", "parts", "units")
TWIST_MM = ((0.1, 1.0, 13.0), (0.5, 13.0, 25.0))  # step, from, to; jobber drills: ISO 235, from memory
TWIST_64THS = 64  # inch drills in steps of 1/64 up to an inch: ASME B94.11M, from memory
STEP_MM = (1.0, 4.0, 40.0)  # step, from, to of a step drill: common practice, no source
STEP_INCHES = (1 / 16, 1 / 4, 11 / 8)  # the same in inches: common practice, no source
DRILLS = f"twist drills in steps of 0.1 mm (0.5 above 13) or 1/64 in, {MEMORY}; step drills, {PRACTICE}"


def drills_mm() -> tuple[float, ...]:
    """Return every diameter that a common twist or step drill makes, in rising order, millimetres."""
    found: set[float] = set()
    for step, low, high in (*TWIST_MM, STEP_MM):
        found |= {round(step * count, 6) for count in range(round(low / step), round(high / step) + 1)}
    found |= {round(count / TWIST_64THS * MM_PER_INCH, 6) for count in range(4, TWIST_64THS + 1)}
    step, low, high = STEP_INCHES
    found |= {round(step * count * MM_PER_INCH, 6) for count in range(round(low / step), round(high / step) + 1)}
    return tuple(sorted(found))


def check(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield holes too tight or too wide for a thread, and round holes that no common drill makes."""
    finish = built.design.finish
    is_painted = finish.sheen.is_painted or finish.has_clear_coat
    odd: dict[tuple[str, float], Bore] = {}
    for bore in built.bores:
        part, wide = built.part(bore.part), bore.outline.width_mm
        if bore.outline.kind != "circle":
            continue
        if part.kind.thread is not None and bore.name == f"{part.name}/bushing":
            yield from _thread(built, limits, part, bore, limits["coat_mm"].value if is_painted else 0.0)
        if min(abs(wide - each) for each in drills_mm()) > limits["drill_off_mm"].value:
            odd.setdefault((part.name, wide), bore)
    for bore in odd.values():
        yield _odd(built, bore, limits["drill_off_mm"])


def _thread(built: Built, limits: Limits, part: Placement, bore: Bore, coat_mm: float) -> Iterator[Finding]:
    thread, units, wide = part.kind.thread, built.design.units, bore.outline.width_mm
    if thread is None:
        return
    spare = wide - thread.major_mm
    slack = limits["thread_slack_mm"]
    hole = f"The {length(wide, units)} hole of {part.name}"
    wanted = min(each for each in drills_mm() if each >= thread.major_mm + 2 * coat_mm - 1e-6)
    remedy = f"Drill {part.name} {length(wanted, units)}"
    if spare < 0:
        what = f"{hole} is {length(-spare, units)} too small for its {thread.designation} thread"
        yield _finding(bore, "stop", what, remedy, SHAPES, spare, 0.0)
    elif spare - 2 * coat_mm < -1e-9:
        tight = 2 * coat_mm - spare
        what = f"{hole} takes a {thread.designation} thread bare, but {length(coat_mm, units)} of paint and clear coat "
        what += f"each side leave it {length(tight, units)} too small"
        remedy += ", or ream the coat out of the hole before fitting"
        yield _finding(bore, "note", what, remedy, limits["coat_mm"].source, spare, 2 * coat_mm)
    elif spare > slack.value:
        what = f"{hole} is {length(spare, units)} wider than its {thread.designation} thread, so that the part wanders"
        yield _finding(bore, "warn", what, remedy, slack.source, spare, slack.value)


def _odd(built: Built, bore: Bore, limit: Limit) -> Finding:
    wide, units = bore.outline.width_mm, built.design.units
    sizes = drills_mm()
    below = max((each for each in sizes if each < wide), default=sizes[0])
    above = min((each for each in sizes if each > wide), default=sizes[-1])
    off = min(abs(wide - each) for each in sizes)
    near = (
        length(above, units)
        if wide < sizes[0] or wide > sizes[-1]
        else (f"{length(below, units)} or {length(above, units)}")
    )
    what = f"No common drill makes the {length(wide, units)} hole of {bore.part}"
    remedy = f"Drill {near}" + ("" if wide <= sizes[-1] else " and file the rest")
    return _finding(bore, "note", what, remedy, limit.source if limit.is_own else DRILLS, off, limit.value)


def _finding(bore: Bore, severity: str, what: str, remedy: str, source: str, measured: float, limit: float) -> Finding:
    return Finding(
        check="drill-sizes",
        severity="stop" if severity == "stop" else "warn" if severity == "warn" else "note",
        subjects=(bore.part,),
        what=what,
        remedy=remedy,
        source=source,
        measured=measured,
        limit=limit,
        unit="mm",
        marks=(Mark(face=bore.face, u_mm=bore.u_mm, v_mm=bore.v_mm, radius_mm=bore.outline.width_mm / 2 + 1.0),),
    )
