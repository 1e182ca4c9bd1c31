"""Lines thinner than the printer holds, and gaps finer than ink leaves open."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from mockup.checks import Case
from mockup.checks.art.guide_layer import is_on_guide
from mockup.checks.art.sheets import Sheet, sheets
from mockup.checks.art.strokes import DOUBT_PX, Stroke, strokes
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Limit, Severity, mm

LIMITS = """
[stroke_mm]
value = 0.25
about = "thinnest line that every printer and film hold"
source = "common practice, no source"

[stroke_lost_mm]
value = 0.2
about = "line so thin that it may break up or vanish"
source = "common practice, no source"

[gap_mm]
value = 0.2
about = "finest gap in ink that stays open"
source = "common practice, no source"
"""
READS = ("decals", "enclosure", "parts")
PLANTED = Case(art='<path d="M10 50h30" stroke="#000" stroke-width="0.15"/>')
SOUND = Case(art='<path d="M10 50h30" stroke="#000" stroke-width="0.4"/>')
LONG_MM = 5.0  # of gaps in one sheet, before it is worth a word that they close: our choice
MARKS = 6  # at most, on the picture


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for sheet in sheets(built):
        held, gap = built.limits["stroke_mm"], built.limits["gap_mm"]
        yield from _lines(sheet, _own(built, sheet, strokes(sheet, held.value)), held, built.limits["stroke_lost_mm"])
        gaps = _own(built, sheet, strokes(sheet, gap.value, is_gap=True))
        if sum(each.length_mm for each in gaps) >= LONG_MM:
            yield from _found(sheet, gaps, gap, "gap", "note")


def _own(built: Built, sheet: Sheet, found: Sequence[Stroke]) -> list[Stroke]:
    """Return strokes without those of a guide that was left on, which is a finding of its own."""
    return [each for each in found if not is_on_guide(built, sheet.decal.face, sheet.to_face(each.at))]


def _lines(sheet: Sheet, thin: list[Stroke], held: Limit, lost: Limit) -> Iterable[Finding]:
    """Yield the lines that may vanish as a warning, or else those that some printers do not hold as advice."""
    worst = [stroke for stroke in thin if stroke.width_mm < lost.value - DOUBT_PX / min(sheet.per_mm)]
    if worst:
        yield from _found(sheet, worst, lost, "line", "warn")
    elif thin:
        yield from _found(sheet, thin, held, "line", "note")


def _found(sheet: Sheet, thin: list[Stroke], limit: Limit, what: str, severity: Severity) -> Iterable[Finding]:
    if not thin:
        return
    many = f"{len(thin)} {what}s" if len(thin) > 1 else f"a {what}"
    yield Finding(
        severity=severity,
        is_advice=severity == "note" and what == "line",
        title="Gap may fill with ink" if what == "gap" else "Line too thin to print",
        what="{first} has {many} thinner than {limit}, {length} altogether; the thinnest is {measured}",
        subjects=(sheet.subject,),
        remedy="Open it to {limit}" if what == "gap" else "Draw it {limit} ({pixels} pixels) wide or more",
        measured=mm(round(thin[0].width_mm, 3)),
        limit=limit,
        facts={
            "many": many,
            "length": mm(round(sum(stroke.length_mm for stroke in thin))),
            "pixels": str(math.ceil(limit.value * min(sheet.per_mm))),
        },
        marks=tuple(sheet.mark(stroke.at, 1.5) for stroke in thin[:MARKS]),
    )
