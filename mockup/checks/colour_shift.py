"""Art colours that come out as another colour over this paint: cyan over yellow turns green."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks.art.palette import Shade, palettes, word
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.model.finding import Finding
from mockup.model.limits import Limits

READS = ("decals", "finish")
LIVELY, DULL = 40.0, 16.0  # CIELAB chroma of a clear colour, and of what looks grey: common practice, no source
LEAST_SHARE = 0.02  # of the sheet's ink: common practice, no source


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    limit, least = limits["hue_shift_deg"], limits["swallowed_area_mm2"].value
    swallowed = limits["swallowed_de"].value
    for sheet, shades in palettes(built):
        for shade in shades:
            if shade.area_mm2 < least or shade.share < LEAST_SHARE or shade.from_paint < swallowed:
                continue
            turn, is_dulled = shade.turn_deg, shade.chroma[0] > LIVELY and shade.chroma[1] < DULL
            if turn <= limit.value and not is_dulled:
                continue
            yield Finding(
                check="colour-shift",
                severity="warn" if turn > limit.value else "note",
                subjects=(sheet.name,),
                what=_what(shade, sheet.name, turn),
                remedy="look at the proof picture; draw what must keep its colour in black, or choose another paint",
                source=limit.source,
                measured=round(turn, 0) if turn > limit.value else None,
                limit=limit.value if turn > limit.value else None,
                unit=limit.unit if turn > limit.value else "",
                marks=(sheet.mark(shade.at),),
            )


def _what(shade: Shade, name: str, turn: float) -> str:
    before, after = word(shade.drawn), word(shade.printed)
    became = f"turns {after}" if before != after else "changes"
    figure = f"its hue turns by {turn:.0f} degrees" if turn else "it loses its colour"
    return (
        f"{before} {rgb.to_hex(shade.drawn)} in {name} ({shade.area_mm2:.0f} mm2) {became} "
        f"({rgb.to_hex(shade.printed)}) over this paint: {figure}"
    )
