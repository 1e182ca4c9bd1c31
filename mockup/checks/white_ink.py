"""White that vanishes: an inkjet prints no white, so white lettering on clear film takes the paint's colour."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from mockup.checks import Case
from mockup.checks.art.legibility import Standing, standing
from mockup.checks.art.lettering import Piece, pieces
from mockup.checks.art.sheets import Sheet, sheets
from mockup.checks.art.white import is_white, white_mm2
from mockup.checks.panel.built import Built
from mockup.colour import rgb
from mockup.colour.difference import FLARE, ciede2000, encoded_to_lab
from mockup.decal import ink_over_paint
from mockup.decal.painting import finishes_under
from mockup.limits import wanted_contrast
from mockup.model.finding import Finding, Mark, Quantity

LIMITS = """
[white_lost]
value = 1.5
unit = ":1"
about = "contrast ratio below which white lettering is gone once it shows the paint"
source = "common practice, no source"

[white_area_mm2]
value = 20.0
unit = "mm²"
about = "least area of drawn white, no lettering, that is worth a word when it will show the paint"
source = "common practice, no source"
"""
READS = ("decals", "finish", "labels")
_DISC = '<circle cx="25" cy="50" r="8" fill="{}"/>'
PLANTED = Case('[finish]\npaint = "#203040"\n', _DISC.format("#ffffff"))
SOUND = Case('[finish]\npaint = "#203040"\n', _DISC.format("none"))
SAME_DE = 6.0  # CIEDE2000 from white up to which paint is as good as white: our choice
REMEDY = "Print it on white film or with white under it, choose a lighter paint, or draw it with a dark outline"


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    lost = []
    for piece in pieces(built):
        found = standing(built, piece) if is_white(built, piece) else None
        if found is not None and found.low < wanted_contrast(built.limits, piece.capital_mm).value:
            lost.append((piece, found))
    if lost:
        yield _words(built, lost)
    told = {piece.strokes.sheet.decal for piece, _ in lost if piece.strokes is not None}
    for sheet in sheets(built):
        if sheet.decal not in told and sheet.decal.film.is_clear:
            yield from _areas(built, sheet)


def _words(built: Built, lost: list[tuple[Piece, Standing]]) -> Finding:
    """Return one finding about all white lettering that does not read: it has one cause."""
    piece, worst = min(lost, key=lambda each: each[1].likely)
    limit = built.limits["white_lost"]
    is_gone = worst.likely < limit.value
    on = ink_over_paint.ground(finishes_under(built.design.finish, piece.label)[0])
    area = sum(
        float(each.strokes.mask.mean()) * each.label.width_mm * each.label.height_mm for each, _ in lost if each.strokes
    )
    return Finding(
        severity="stop" if is_gone else "warn",
        title="White lettering will vanish" if is_gone else "White lettering will be hard to read",
        what="the printer has no white, so {subjects}, drawn in white ({area}), will show the paint, {paint}; "
        + ("{worst} then stands out by {measured}" if len(lost) > 1 else "it then stands out by {measured}")
        + " from what is round it",
        subjects=tuple(each.subject for each, _ in lost),
        remedy=REMEDY,
        measured=Quantity(worst.likely, ":1"),
        limit=limit if is_gone else wanted_contrast(built.limits, piece.capital_mm),
        facts={
            "worst": piece.subject,
            "area": Quantity(round(area, 1), "mm²"),
            "paint": rgb.to_hex(np.array(ink_over_paint.unprinted(on))),
        },
        marks=tuple(each.mark for each, _ in lost),
    )


def _areas(built: Built, sheet: Sheet) -> Iterable[Finding]:
    """Yield what is white in art that has no ground, such as a plate under lettering, where the paint is not white."""
    area, limits = white_mm2(sheet), built.limits
    limit = limits["white_area_mm2"]
    grounds = (
        ink_over_paint.ground(each, sheet.decal.film) for each in finishes_under(built.design.finish, sheet.decal)
    )
    bare = np.array(min(map(ink_over_paint.unprinted, grounds), key=rgb.luminance))  # where white is missed most
    if area < limit.value or float(ciede2000(encoded_to_lab(bare), encoded_to_lab(np.ones(3)))) <= SAME_DE:
        return
    yield Finding(
        severity="warn"
        if (1.0 + FLARE) / (float(rgb.luminance(bare)) + FLARE) >= limits["white_lost"].value
        else "note",
        title="Drawn white will not print",
        what="{measured} of {first} is opaque white, which the printer leaves out: it will show the paint, {paint}",
        subjects=(sheet.subject,),
        remedy="Print it on white film or choose a lighter paint; if the paint is meant to show, take the white away",
        measured=Quantity(round(area, 1), "mm²"),
        limit=limit,
        facts={"paint": rgb.to_hex(bare)},
        marks=(Mark.round(sheet.decal),),
    )
