"""A background layer left switched on: the paint's colour, or another flat tint, would be printed as ink."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from mockup.checks import Case
from mockup.checks.art.sheets import Sheet, sheets
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal import ink_over_paint
from mockup.decal.background import SAME_DE, background
from mockup.model.finding import Finding, Quantity

LIMITS = """
[background_sure_de]
value = 6.0
unit = "CIEDE2000"
about = "difference up to which a background surely shows the paint"
source = "common practice, no source; tried on drawn and photographed art"

[background_likely_de]
value = 15.0
unit = "CIEDE2000"
about = "difference up to which a background probably shows the paint"
source = "common practice, no source; tried on drawn and photographed art"
"""
READS = ("decals", "finish")
_PAINT = '[finish]\npaint = "#ebdebf"\n'
_GROUND = '<path fill="{}" d="M0 0h50v100h-50z"/><path d="M10 50h30v2h-30z"/>'
PLANTED = Case(_PAINT, _GROUND.format("#ebdebf"))
SOUND = Case(_PAINT, _GROUND.format("none"))


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for sheet in sheets(built):
        if sheet.decal.film.is_clear:  # other film needs a background to look painted
            yield from _of(built, sheet)


def _of(built: Built, sheet: Sheet) -> Iterable[Finding]:
    found = background(sheet.decal.art)
    if found.kind != "flat":
        return
    colour, is_there = np.array(found.colour), found.is_there
    on = ink_over_paint.ground(built.design.finish, sheet.decal.film)
    bare, seen = np.array(ink_over_paint.unprinted(on)), ink_over_paint.predict(colour, on)
    shown = float(ciede2000(encoded_to_lab(seen), encoded_to_lab(bare)))
    if shown <= SAME_DE:
        return  # it prints, but nobody sees it
    paint = built.design.finish.paint if built.design.finish.sheen.is_painted else on.paint
    to_paint = float(ciede2000(encoded_to_lab(colour), encoded_to_lab(np.array(paint))))
    sure, likely = built.limits["background_sure_de"], built.limits["background_likely_de"]
    limit = sure if to_paint < sure.value else likely
    is_paint = to_paint < likely.value
    if to_paint < sure.value:
        kin = "as good as the paint's own ({measured} apart)"
    else:
        kin = "close to the paint's ({measured} apart)" if is_paint else "unlike the paint's ({measured} apart)"
    yield Finding(
        severity="stop" if to_paint < sure.value else "warn" if is_paint else "note",
        title="Background would be printed",
        what="{share} of {first} is one flat colour, {colour}, " + kin + "; over the paint it prints as {seen}, "
        "{shown} from bare paint",
        subjects=(sheet.subject,),
        remedy="Switch the background layer off and save the art with transparency"
        if is_paint
        else "Switch the background off if it only stood in for the paint; keep it if it is meant as ink",
        measured=Quantity(round(to_paint, 1), limit.unit),
        limit=limit,
        facts={
            "share": Quantity(round(100 * is_there.mean()), "%"),
            "colour": rgb.to_hex(colour),
            "seen": rgb.to_hex(seen),
            "shown": Quantity(round(shown, 1), limit.unit),
        },
        marks=(sheet.mark_whole(),),
    )
