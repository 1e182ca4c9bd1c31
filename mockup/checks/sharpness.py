"""Art that was enlarged or blurred and only claims its resolution."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks.art.edges import sharpness
from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding
from mockup.model.limits import Limits

READS = ("decals",)
LEAST = 1.7  # pixels to a detail; photographs straight from a camera come to about that: common practice, no source


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    fuzzy, good = limits["dpi_fuzzy"], limits["dpi_good"]
    for sheet in sheets(built):
        found = sharpness(sheet)
        dpi = min(sheet.decal.dpi)
        if found is None or found.factor < LEAST or dpi < fuzzy.value:
            continue
        true = dpi / found.factor
        if true >= good.value:
            continue
        limit = fuzzy if true < fuzzy.value else good
        how = (
            f"every pixel of it is drawn {found.factor:.1f} times over"
            if found.is_stepped
            else f"its sharpest edges are {found.factor:.1f} pixels wide"
        )
        yield Finding(
            check="sharpness",
            severity="warn" if limit is fuzzy else "note",
            subjects=(sheet.name,),
            what=f"{sheet.name} has {dpi:.0f} dpi but was enlarged or blurred: {how}, worth {true:.0f} dpi",
            remedy=f"use the original picture or draw it again at {good.value:g} dpi or more",
            source=limit.source,
            measured=round(true, 0),
            limit=limit.value,
            unit=limit.unit,
            marks=(sheet.mark_whole(),),
        )
