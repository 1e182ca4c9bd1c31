"""Art that is stretched: the decal's width and height do not go with the picture's."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from mockup.checks import Case
from mockup.checks.art.sheets import sheets
from mockup.checks.art.stretch import Stretch
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, mm

LIMITS = """
[stretch_percent]
value = 1.0
unit = "%"
about = "how much more art may be stretched one way than the other"
source = "common practice, no source"
"""
READS = ("decals",)
PLANTED = Case("[[decal]]\nart = 'art.svg'\nwidth = 50\nheight = 105\n", '<rect x="10" y="10" width="5" height="5"/>')
SOUND = Case("[[decal]]\nart = 'art.svg'\nwidth = 50\n", '<rect x="10" y="10" width="5" height="5"/>')


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    limit = built.limits["stretch_percent"]
    for sheet in sheets(built):
        decal, art = sheet.decal, sheet.decal.art
        as_drawn = Stretch(size_px=(art.width_px, art.height_px), size_mm=(decal.width_mm, decal.height_mm))
        pixel = art.dpi[1] / art.dpi[0] if art.dpi else 1.0  # width over height of a pixel as the file has it
        stretch = min((as_drawn, replace(as_drawn, pixel=pixel)), key=lambda each: abs(each.ratio - 1))
        if not stretch.exceeds(limit):
            continue
        yield Finding(
            severity="warn",
            title="Art is stretched",
            what="{first} comes out {measured} {way} than drawn: {pixels} pixels on {width} by {height}",
            subjects=(sheet.subject,),
            remedy="Leave out one of the two: with this width it is {high} high, with this height {wide} wide",
            measured=stretch.measured(limit),
            limit=limit,
            facts={
                **stretch.facts,
                "high": mm(decal.width_mm * art.height_px / art.width_px),
                "wide": mm(decal.height_mm * art.width_px / art.height_px),
            },
            marks=(sheet.mark_whole(),),
        )
