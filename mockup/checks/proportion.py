"""Art that is stretched: the decal's width and height do not go with the picture's."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks import Case
from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Quantity, mm

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
        across, down = decal.width_mm / art.width_px, decal.height_mm / art.height_px
        pixel = art.dpi[1] / art.dpi[0] if art.dpi else 1.0  # width over height of a pixel as the file has it
        slack = 1 / art.width_px + 1 / art.height_px  # a side is a whole number of pixels
        stretch = min((across / down, across / down / pixel), key=lambda ratio: abs(ratio - 1))
        percent = 100 * (max(stretch, 1 / stretch) - 1)
        if percent <= limit.value + 100 * slack:
            continue
        yield Finding(
            severity="warn",
            title="Art is stretched",
            what="{first} comes out {measured} {way} than drawn: {pixels} pixels on {width} by {height}",
            subjects=(sheet.subject,),
            remedy="Leave out one of the two: with this width it is {high} high, with this height {wide} wide",
            measured=Quantity(round(percent, 1), limit.unit),
            limit=limit,
            facts={
                "way": "wider" if stretch > 1 else "taller",
                "pixels": f"{art.width_px} by {art.height_px}",
                "width": mm(decal.width_mm),
                "height": mm(decal.height_mm),
                "high": mm(decal.width_mm * art.height_px / art.width_px),
                "wide": mm(decal.height_mm * art.width_px / art.height_px),
            },
            marks=(sheet.mark_whole(),),
        )
