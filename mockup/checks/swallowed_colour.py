"""Art colours that the paint swallows: printed, they look like the bare paint beside them."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks.art.palette import palettes, word
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.model.finding import Finding
from mockup.model.limits import Limits

READS = ("decals", "finish")
PALE = 2.0  # times the limit: art that differs less than this from white was hardly there to begin with
MOST_OF_IT = 0.5  # share of the ink that, once swallowed, leaves no picture: common practice, no source


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    limit, least = limits["swallowed_de"], limits["swallowed_area_mm2"].value
    for sheet, shades in palettes(built):
        lost = [s for s in shades if s.from_paint < limit.value and s.from_film > PALE * limit.value]
        whole = sum(shade.share for shade in lost)
        for shade in (each for each in lost if each.area_mm2 >= least):
            is_all = whole > MOST_OF_IT
            name = f"{word(shade.drawn)} {rgb.to_hex(shade.drawn)}"
            yield Finding(
                check="swallowed-colour",
                severity="stop" if is_all else "warn",
                subjects=(sheet.name,),
                what=(
                    f"{name} in {sheet.name} ({shade.area_mm2:.0f} mm2, {100 * shade.share:.0f} % of its ink) is "
                    f"swallowed: printed it differs from the bare ground by {shade.from_paint:.1f} CIEDE2000"
                    + (f"; {100 * whole:.0f} % of the ink goes that way" if is_all else "")
                ),
                remedy="draw it darker or in a colour that the paint lacks, or choose a lighter paint",
                source=limit.source,
                measured=round(shade.from_paint, 1),
                limit=limit.value,
                unit=limit.unit,
                marks=(sheet.mark(shade.at),),
            )
