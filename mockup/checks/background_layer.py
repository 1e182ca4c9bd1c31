"""A background layer left switched on: the paint's colour, or another flat tint, would be printed as ink."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from mockup.checks import Case
from mockup.checks.art.sheets import Bits, Sheet, sheets
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal import ink_over_paint
from mockup.decal.background import SAME_DE, background
from mockup.decal.ink_over_paint import FAINT
from mockup.decal.painting import finishes_under
from mockup.model.finding import Finding, Quantity
from mockup.model.finish import Finish
from mockup.model.mesh import Floats

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

# What is a layer that stops short of the edge; measured on 72 sheets with and without one.
LONG_PX = 400  # longer side that it is looked for at
LEAST_AREA = 0.2  # share of the sheet in the paint's colour
FLAT = 0.7  # share of that whose neighbours have its colour too
REACH, ALONG = 0.5, 0.2  # share of its rows and of its columns that it reaches over, and the least of each: our choice
EVEN = 3  # codes of 255 that neighbours may differ by


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for sheet in sheets(built):
        if sheet.decal.ink_film.is_clear:  # on white a background is needed to look painted
            yield from _of(built, sheet)


def _of(built: Built, sheet: Sheet) -> Iterable[Finding]:
    found = background(sheet.decal.art)
    if found.kind == "flat":
        yield from _printed(built, sheet, np.array(found.colour), float(found.is_there.mean()))
    elif built.design.finish.sheen.is_painted:
        yield from _inner_layer(built, sheet)


def _inner_layer(built: Built, sheet: Sheet) -> Iterable[Finding]:
    """Yield a layer in the paint's own colour that does not reach the edge of the art."""
    height, width = sheet.ink.shape
    step = max(1, max(height, width) // LONG_PX)
    pixels, ink = sheet.colours[::step, ::step], sheet.ink[::step, ::step]
    lab = encoded_to_lab(pixels / 255.0)
    paints = [encoded_to_lab(np.array(each.paint)) for each in finishes_under(built.design.finish, sheet.decal)]
    to_paint = np.min([ciede2000(lab, each) for each in paints], axis=0)
    is_paint = (ink >= FAINT) & (to_paint < built.limits["background_sure_de"].value)
    if is_paint.mean() < LEAST_AREA or min(_reach(is_paint, axis) for axis in (0, 1)) < REACH:
        return  # bars and plates are art
    codes = pixels.astype(np.int16)
    is_even = (rgb.most(np.abs(np.diff(codes, axis=1))) <= EVEN)[:-1] & (
        rgb.most(np.abs(np.diff(codes, axis=0))) <= EVEN
    )[:, :-1]
    if is_even[is_paint[:-1, :-1]].mean() >= FLAT:  # a photograph that holds the paint's colour is not
        yield from _printed(built, sheet, np.median(pixels[is_paint], axis=0) / 255.0, float(is_paint.mean()))


def _reach(is_paint: Bits, axis: int) -> float:
    """Return the share of the rows or columns that hold the paint's colour along a good part of them."""
    return float((is_paint.mean(axis=axis) >= ALONG).mean())


def _printed(built: Built, sheet: Sheet, colour: Floats, share: float) -> Iterable[Finding]:
    def away(finish: Finish) -> float:
        """Return how far the colour is from a paint, or from bare metal."""
        paint = np.array(ink_over_paint.ground(finish).paint)
        return float(ciede2000(encoded_to_lab(colour), encoded_to_lab(paint)))

    nearest = min(finishes_under(built.design.finish, sheet.decal), key=away)
    on = ink_over_paint.ground(nearest, sheet.decal.film)
    bare, seen = np.array(ink_over_paint.unprinted(on)), ink_over_paint.predict(colour, on)
    shown = float(ciede2000(encoded_to_lab(seen), encoded_to_lab(bare)))
    if shown <= SAME_DE:
        return  # it prints, but nobody sees it
    to_paint = away(nearest)
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
            "share": Quantity(round(100 * share), "%"),
            "colour": rgb.to_hex(colour),
            "seen": rgb.to_hex(seen),
            "shown": Quantity(round(shown, 1), limit.unit),
        },
        marks=(sheet.mark_whole(),),
    )
