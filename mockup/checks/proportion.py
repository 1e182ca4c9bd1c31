"""Art that is stretched: the decal's width and height do not go with the picture's."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding
from mockup.model.limits import Limits
from mockup.model.units import format_length

READS = ("decals", "units")


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    limit, units = limits["stretch_percent"], built.design.units
    for sheet in sheets(built):
        decal, art = sheet.decal, sheet.decal.art
        across, down = decal.width_mm / art.width_px, decal.height_mm / art.height_px
        pixel = art.dpi[1] / art.dpi[0] if art.dpi else 1.0  # width over height of a pixel as the file has it
        slack = 1 / art.width_px + 1 / art.height_px  # a side is a whole number of pixels
        stretch = min((across / down, across / down / pixel), key=lambda ratio: abs(ratio - 1))
        percent = 100 * (max(stretch, 1 / stretch) - 1)
        if percent <= limit.value + 100 * slack:
            continue
        way = "wider" if stretch > 1 else "taller"
        fitting = decal.width_mm * art.height_px / art.width_px
        other = decal.height_mm * art.width_px / art.height_px
        yield Finding(
            check="proportion",
            severity="warn",
            subjects=(sheet.name,),
            what=(
                f"{sheet.name} comes out {percent:.1f} % {way} than drawn: {art.width_px} by {art.height_px} pixels "
                f"on {format_length(decal.width_mm, units)} by {format_length(decal.height_mm, units)}"
            ),
            remedy=(
                f"leave out one of the two: with this width it is {format_length(fitting, units)} high, with this "
                f"height {format_length(other, units)} wide"
            ),
            source=limit.source,
            measured=round(percent, 1),
            limit=limit.value,
            unit=limit.unit,
            marks=(sheet.mark_whole(),),
        )
