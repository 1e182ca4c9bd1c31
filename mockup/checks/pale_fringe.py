"""A pale fringe round cut-out art that has white under it, over dark paint: what an image editor leaves of a ground."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from scipy import ndimage

from mockup.checks import Case
from mockup.checks.art.sheets import Bits, ink_of, sheets
from mockup.checks.panel.built import Built
from mockup.colour.difference import contrast
from mockup.decal.painting import finishes_under
from mockup.memo import memoize
from mockup.model.finding import Finding, Quantity, mm
from mockup.model.finish import Artwork
from mockup.model.mesh import Floats

LIMITS = """
[fringe_percent]
value = 25.0
unit = "%"
about = "share of a cut-out's outline that may have a pale fringe"
source = "common practice, no source"
"""
READS = ("decals", "finish")
_DARK = '[finish]\npaint = "#1a2230"\n[[decal]]\nart = "art.svg"\nfilm = "white"\n'
_DISC = '<circle cx="25" cy="50" r="{}" fill="#fff"/><circle cx="25" cy="50" r="15" fill="#b03a1e"/>'
PLANTED = Case(_DARK, _DISC.format(15.2))  # a ring of white, 0.2 mm wide
SOUND = Case(_DARK, _DISC.format(15))
WIDE_MM = 0.35  # a fringe is no wider: what is, is drawn on purpose; common practice, no source
PALE, INKED = 40, 90  # ink of 255 that is seen as white, and that is seen as colour: our choice
CLEAR = 3.0  # contrast of white film to paint from which its rim shows: WCAG 2.2, 1.4.11


def check(built: Built) -> Iterator[Finding]:
    """Yield art whose outline is pale for less than a knife can cut away, where the paint beside it is dark."""
    finish, limit = built.design.finish, built.limits["fringe_percent"]
    for sheet in sheets(built):
        film = sheet.decal.film
        is_white = not film.is_clear or (sheet.decal.process.white is not None and sheet.decal.white_under == "drawn")
        if sheet.decal.art.file is None or not is_white or not finish.sheen.is_painted:
            continue
        paints = finishes_under(finish, sheet.decal)
        ratio = max(float(contrast(np.ones(3), np.array(each.paint))) for each in paints)
        share, width = _fringe(sheet.decal.art, sheet.per_mm) if ratio >= CLEAR else (0.0, 0.0)
        if 100 * share <= limit.value:
            continue
        yield Finding(
            severity="warn",
            title="Pale fringe round the art",
            what="{measured} of the outline of {first} has a pale fringe, {wide} wide, that shows as a white line "
            "beside the dark paint",
            subjects=(sheet.subject,),
            remedy="Contract the selection by {wide} in the image editor before you delete the ground, or cut that far "
            "inside the outline",
            measured=Quantity(round(100 * share), "%"),
            limit=limit,
            facts={"wide": mm(round(width, 2))},
            marks=(sheet.mark_whole(),),
        )


@memoize
def _fringe(art: Artwork, per_mm: tuple[float, float]) -> tuple[float, float]:
    """Return which share of a cut-out's outline has a pale fringe, and how wide that is, millimetres."""
    is_drawn: Bits = art.pixels[..., 3] >= 128
    if is_drawn.all() or not is_drawn.any():
        return 0.0, 0.0
    ink = ink_of(art)
    step = 1.0 / per_mm[0], 1.0 / per_mm[1]
    inside: Floats = ndimage.distance_transform_edt(np.pad(is_drawn, 1), sampling=(step[1], step[0]))[1:-1, 1:-1]
    is_pale = is_drawn & (ink < PALE)
    is_inked = is_drawn & (ink >= INKED)
    outline = is_drawn & (inside <= max(step) * 1.01)
    reach, (rows, columns) = ndimage.distance_transform_edt(~is_inked, sampling=(step[1], step[0]), return_indices=True)
    has_fringe = outline & is_pale & (reach <= WIDE_MM) & (inside[rows, columns] <= WIDE_MM + max(step))
    total = int(outline.sum())
    if not has_fringe.any():
        return 0.0, 0.0
    return float(has_fringe.sum()) / total, float(np.median(reach[has_fringe]))
