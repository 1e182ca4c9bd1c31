"""Lines thinner than the printer holds, and gaps finer than ink leaves open."""

from __future__ import annotations

import math
from collections.abc import Iterable

from mockup.checks.art.sheets import Sheet, sheets
from mockup.checks.art.strokes import DOUBT_PX, Stroke, strokes
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Limit, Severity
from mockup.model.limits import Limits

READS = ("decals",)
MARKS = 6  # at most, on the picture


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for sheet in sheets(built):
        yield from _lines(sheet, limits["stroke_mm"], limits["stroke_lost_mm"])
        yield from _found(sheet, strokes(sheet, limits["gap_mm"].value, is_gap=True), limits["gap_mm"], "gap", "note")


def _lines(sheet: Sheet, held: Limit, lost: Limit) -> Iterable[Finding]:
    """Yield the lines that may vanish as a warning, or else those that some printers do not hold as a note."""
    thin = strokes(sheet, held.value)
    worst = [stroke for stroke in thin if stroke.width_mm < lost.value - DOUBT_PX / min(sheet.per_mm)]
    if worst:
        yield from _found(sheet, worst, lost, "line", "warn")
    elif thin:
        yield from _found(sheet, thin, held, "line", "note")


def _found(sheet: Sheet, thin: list[Stroke], limit: Limit, what: str, severity: Severity) -> Iterable[Finding]:
    if not thin:
        return
    worst = thin[0]
    length = sum(stroke.length_mm for stroke in thin)
    many = f"{len(thin)} {what}s" if len(thin) > 1 else f"a {what}"
    yield Finding(
        check="thin-lines",
        severity=severity,
        subjects=(sheet.name,),
        what=(
            f"{sheet.name} has {many} thinner than {limit.value:g} mm, {length:.0f} mm in all; "
            f"the thinnest is {worst.width_mm:.2f} mm"
        ),
        remedy=(
            f"open it to {limit.value:g} mm, or it may fill with ink"
            if what == "gap"
            else f"draw it {limit.value:g} mm ({math.ceil(limit.value * min(sheet.per_mm))} pixels) wide or more"
        ),
        source=limit.source,
        measured=round(worst.width_mm, 3),
        limit=limit.value,
        unit=limit.unit,
        marks=tuple(sheet.mark(stroke.at, 1.5) for stroke in thin[:MARKS]),
    )
