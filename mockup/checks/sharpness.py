"""Art that was enlarged or blurred and only claims its resolution."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks import Case
from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.decal.edges import sharpness
from mockup.model.finding import Finding, Quantity

READS = ("decals",)
_BARS = '<filter id="soft"><feGaussianBlur stdDeviation="{}"/></filter><path filter="url(#soft)" d="M5 9h2v80h-2z'
_BARS += "m6 0h2v80h-2z" * 6 + '"/>'
PLANTED = Case(art=_BARS.format(0.08))  # edges 0.08 sqrt(2 pi) = 0.2 mm wide: 127 dpi
SOUND = Case(art=_BARS.format(0))
LEAST = 1.7  # pixels to a detail; photographs straight from a camera come to about that: common practice, no source


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    fuzzy, good = built.limits["dpi_fuzzy"], built.limits["dpi_good"]
    for sheet in sheets(built):
        found = sharpness(sheet.decal)
        dpi = min(sheet.decal.dpi)
        if found is None or found.factor < LEAST or dpi < fuzzy.value:
            continue
        true = dpi / found.factor
        if true >= good.value:
            continue
        limit = fuzzy if true < fuzzy.value else good
        yield Finding(
            severity="warn" if limit is fuzzy else "note",
            title="Art enlarged or blurred",
            what="{first} claims {claimed} but is worth {measured}: "
            + (
                "every pixel of it is drawn {factor} times over"
                if found.is_stepped
                else "its sharpest edges are {factor} pixels wide"
            ),
            subjects=(sheet.subject,),
            remedy="Use the original picture, or draw it again at {good} or more",
            measured=Quantity(round(true), limit.unit),
            limit=limit,
            facts={
                "claimed": Quantity(round(dpi), limit.unit),
                "factor": f"{found.factor:.1f}",
                "good": good.quantity,
            },
            marks=(sheet.mark_whole(),),
        )
