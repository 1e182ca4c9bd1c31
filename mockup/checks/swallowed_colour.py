"""Art colours that the paint swallows: printed, they look like the bare paint beside them."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks import Case
from mockup.checks.art.palette import palettes
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.words import word
from mockup.model.finding import Finding, Quantity

READS = ("decals", "finish")
_PAINT = '[finish]\npaint = "#ffcc00"\n'
_DISC = '<circle cx="25" cy="50" r="8" fill="{}"/>'
PLANTED = Case(_PAINT, _DISC.format("#fff080"))
SOUND = Case(_PAINT, _DISC.format("#000000"))
PALE = 2.0  # times the limit: art that differs less than this from white was hardly there to begin with
MOST_OF_IT = 0.5  # share of the ink that, once swallowed, leaves no picture: common practice, no source


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    limit, least = built.limits["swallowed_de"], built.limits["swallowed_area_mm2"].value
    for sheet, shades in palettes(built):
        drawn = [shade for shade in shades if shade.at_edges <= MOST_OF_IT]  # a soft edge is no colour of its own
        lost = [s for s in drawn if s.from_paint < limit.value and s.from_film > PALE * limit.value]
        whole = sum(shade.share for shade in lost)
        for shade in (each for each in lost if each.area_mm2 >= least):
            is_all = whole > MOST_OF_IT
            yield Finding(
                severity="stop" if is_all else "warn",
                title="Picture lost on this paint" if is_all else "Colour lost on this paint",
                what="{colour} in {first} ({area}, {share} of its ink) looks like bare paint once printed ({measured} "
                "apart; {limit} is seen)" + ("; {whole} of the ink goes that way" if is_all and len(lost) > 1 else ""),
                subjects=(sheet.subject,),
                remedy="Draw it darker or in a colour that the paint lacks, or choose a lighter paint",
                measured=Quantity(shade.from_paint, limit.unit),
                limit=limit,
                facts={
                    "colour": f"{word(shade.drawn)} {rgb.to_hex(shade.drawn)}",
                    "area": Quantity(shade.area_mm2, "mm²"),
                    "share": Quantity(round(100 * shade.share), "%"),
                    "whole": Quantity(round(100 * whole), "%"),
                },
                marks=(sheet.mark(shade.at),),
            )
