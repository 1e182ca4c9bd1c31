"""Art with too few pixels for the size it is printed at."""

from __future__ import annotations

import math
from collections.abc import Iterable

from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Severity
from mockup.model.limits import Limits
from mockup.model.units import MM_PER_INCH

READS = ("decals",)
_GRADES: tuple[tuple[str, Severity, str], ...] = (
    ("dpi_jagged", "stop", "edges will look jagged"),
    ("dpi_fuzzy", "warn", "small lettering will look fuzzy"),
    ("dpi_good", "note", "it will do from some distance"),
)
_SLACK = 0.999  # a dpi tag rounds: 299.9994 is 300 (ISO/IEC 15948 11.3.5.3 counts whole pixels per metre)


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    good = limits["dpi_good"].value
    for sheet in sheets(built):
        dpi = min(sheet.decal.dpi)
        for name, severity, what in _GRADES:
            limit = limits[name]
            if dpi < limit.value * _SLACK:
                across = math.ceil(sheet.decal.width_mm / MM_PER_INCH * good)
                down = math.ceil(sheet.decal.height_mm / MM_PER_INCH * good)
                yield Finding(
                    check="resolution",
                    severity=severity,
                    subjects=(sheet.name,),
                    what=(
                        f"{sheet.name} is printed {sheet.decal.width_mm:.1f} by {sheet.decal.height_mm:.1f} mm large "
                        f"from {sheet.decal.art.width_px} by {sheet.decal.art.height_px} pixels: {dpi:.0f} dpi; {what}"
                    ),
                    remedy=f"draw it again with {across} by {down} pixels or more; enlarging it adds nothing",
                    source=limit.source,
                    measured=round(dpi, 1),
                    limit=limit.value,
                    unit=limit.unit,
                    marks=(sheet.mark_whole(),),
                )
                break
