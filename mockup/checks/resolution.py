"""Art with too few pixels for the size it is printed at."""

from __future__ import annotations

import base64
import math
from collections.abc import Iterable

from mockup.checks import Case
from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Quantity, Severity, mm
from mockup.model.units import MM_PER_INCH

LIMITS = """
[dpi_jagged]
value = 110.0
unit = "dpi"
about = "resolution at the printed size up to which edges look jagged"
source = "common practice, no source"
"""
READS = ("decals",)
_DECAL = "[[decal]]\nart = 'art.png'\nwidth = {}\n"
_PNG = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAACQAAABIAQAAAAC2TWoUAAAADklEQVR42mNgGAVDCQAAAbAAAYw4X18AAAAASUVORK5CYII="
)  # 36 by 72 pixels, grey
PLANTED = Case(_DECAL.format(50), _PNG)  # 18 dpi
SOUND = Case(_DECAL.format(2), _PNG)
_GRADES: tuple[tuple[str, Severity, str], ...] = (
    ("dpi_jagged", "stop", "edges will look jagged"),
    ("dpi_fuzzy", "warn", "small lettering will look fuzzy"),
    ("dpi_good", "note", "good enough from some distance only"),
)
_SLACK = 0.999  # a dpi tag rounds: 299.9994 is 300 (ISO/IEC 15948 11.3.5.3 counts whole pixels per metre)


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    good = built.limits["dpi_good"].value
    for sheet in sheets(built):
        dpi = min(sheet.decal.dpi)
        for name, severity, what in _GRADES:
            limit = built.limits[name]
            if dpi < limit.value * _SLACK:
                decal = sheet.decal
                wanted = [math.ceil(side / MM_PER_INCH * good) for side in (decal.width_mm, decal.height_mm)]
                yield Finding(
                    severity=severity,
                    title="Too few pixels",
                    what="{first} is printed {width} by {height} large from {pixels} pixels, {measured}: " + what,
                    subjects=(sheet.subject,),
                    remedy="Draw it again with {wanted} pixels or more; enlarging it adds nothing",
                    measured=Quantity(round(dpi, 1), limit.unit),
                    limit=limit,
                    facts={
                        "width": mm(decal.width_mm),
                        "height": mm(decal.height_mm),
                        "pixels": f"{decal.art.width_px} by {decal.art.height_px}",
                        "wanted": f"{wanted[0]} by {wanted[1]}",
                    },
                    marks=(sheet.mark_whole(),),
                )
                break
