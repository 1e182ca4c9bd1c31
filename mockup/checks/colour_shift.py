"""Art colours that come out as another colour over this paint: cyan over yellow turns green."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks import Case
from mockup.checks.art.palette import palettes
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.words import word
from mockup.model.finding import Finding, Quantity

LIMITS = """
[hue_shift_deg]
value = 60.0
unit = "degrees"
about = "turn of CIELAB hue, from art on white to art on this paint, that makes another colour of it"
source = "common practice, no source"
"""
READS = ("decals", "finish")
_PAINT = '[finish]\npaint = "#ffd900"\n'
_DISC = '<circle cx="25" cy="50" r="8" fill="{}"/>'
PLANTED = Case(_PAINT, _DISC.format("#00ffff"))  # cyan over yellow is green
SOUND = Case(_PAINT, _DISC.format("#000000"))
LIVELY, DULL = 40.0, 16.0  # CIELAB chroma of a clear colour, and of what looks grey: common practice, no source
LEAST_SHARE = 0.02  # of the sheet's ink: common practice, no source


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    limit, least = built.limits["hue_shift_deg"], built.limits["swallowed_area_mm2"].value
    swallowed = built.limits["swallowed_de"].value
    for sheet, shades in palettes(built):
        for shade in shades:
            if shade.area_mm2 < least or shade.share < LEAST_SHARE or shade.from_paint < swallowed:
                continue
            turn, is_dulled = shade.turn_deg, shade.chroma[0] > LIVELY and shade.chroma[1] < DULL
            if turn <= limit.value and not is_dulled:
                continue
            is_turned = turn > limit.value
            before, after = word(shade.drawn), word(shade.printed)
            yield Finding(
                severity="warn" if is_turned else "note",
                title="Colour changes over this paint",
                what="{before} in {first} ({area}) "
                + ("turns {after} once printed" if before != after else "becomes {after} once printed")
                + (": its hue turns by {turn}" if turn else ": it loses its colour"),
                subjects=(sheet.subject,),
                remedy="Look at the proof picture; draw what must keep its colour in black, or choose another paint",
                measured=Quantity(round(turn), limit.unit) if is_turned else None,
                limit=limit if is_turned else None,
                origin=limit.source,
                facts={
                    "before": f"{before} {rgb.to_hex(shade.drawn)}",
                    "after": f"{after} {rgb.to_hex(shade.printed)}",
                    "area": Quantity(shade.area_mm2, "mm²"),
                    "turn": Quantity(round(turn), limit.unit),
                },
                marks=(sheet.mark(shade.at),),
            )
