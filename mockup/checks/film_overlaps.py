"""Films that lie across one another on a face, so that one's edge and ink show through the other."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np

from mockup.checks import Case
from mockup.checks.art.sheets import Sheet, sheets
from mockup.checks.panel.built import Built
from mockup.decal.ink_over_paint import FAINT
from mockup.geometry.planar import box_on_face
from mockup.geometry.polygons import area, shared_area
from mockup.model.finding import Finding, Limit, Quantity
from mockup.model.mesh import Floats

LIMITS = """
[film_overlap_mm2]
value = 2.0
unit = "mm²"
about = "area that two films on a face may share, where neither lies wholly on the other"
source = "common practice, no source"
"""
READS = ("decals",)
_FILM = '[[decal]]\nart = "art.svg"\nleft = {}\ntop = {}\nwidth = {}\n'
_ART = '<path d="M2 2h46v96h-46z"/>'
PLANTED = Case(_FILM.format(6, 20, 30) + _FILM.format(30, 30, 15), _ART)  # from 30 to 36 over the other's edge
SOUND = Case(_FILM.format(6, 20, 30) + _FILM.format(39, 30, 15), _ART)
WHOLE = 0.98  # share of a film that has to lie on the other one to be meant: a film under or over art, our choice
STEP_MM = 0.5  # how finely ink is looked for: our choice


def check(built: Built) -> Iterator[Finding]:
    """Yield films of which one lies across the other's edge; one wholly on another is meant, but not ink over ink."""
    limit = built.limits["film_overlap_mm2"]
    own = [each for each in sheets(built) if each.decal.art.file is not None]  # what the tool draws it lays itself
    for first, second in combinations(own, 2):
        if first.decal.face != second.decal.face:
            continue
        one, other = _corners(first), _corners(second)
        shared = shared_area([one], [other])
        if shared <= limit.value:
            continue
        is_same = first.subject == second.subject
        if shared >= WHOLE * min(area([one]), area([other])):
            yield from _darkened(first, second, shared, limit)
            continue
        inked = _share_of_ink(first, second)
        yield Finding(
            severity="warn" if inked > 0.0 else "note",
            title="Films lie across one another",
            what=("two films of {first}" if is_same else "{subjects}")
            + " share {measured}, "
            + (
                "with ink there: the edge of one shows in the other, and where both print they darken each other"
                if inked > 0.0
                else "without ink there: two edges of film show"
            ),
            subjects=(first.subject,) if is_same else (first.subject, second.subject),
            remedy="Move them apart, cut one back to the other's edge, or print both as one picture",
            measured=Quantity(shared, "mm²"),
            limit=limit,
            marks=(first.mark_whole(), second.mark_whole()),
        )


def _darkened(first: Sheet, second: Sheet, shared: float, limit: Limit) -> Iterator[Finding]:
    """Yield a note where a film lies wholly on another one and clear film prints over ink: no ink hides another."""
    if not (first.decal.film.is_clear and second.decal.film.is_clear):
        return
    twice = _share_of_ink(first, second, is_twice=True) * shared
    if twice > limit.value:
        yield Finding(
            severity="note",
            title="Ink printed over ink",
            what="{second} lies on {first}, and both print on {measured} of it: there they darken each other",
            subjects=(first.subject, second.subject),
            remedy="Take away what lies under it, or print both as one picture",
            measured=Quantity(twice, "mm²"),
            limit=limit,
            marks=(second.mark_whole(),),
        )


def _corners(sheet: Sheet) -> Floats:
    decal = sheet.decal
    return box_on_face((decal.width_mm, decal.height_mm), (decal.u_mm, decal.v_mm), decal.rotation_deg)


def _share_of_ink(first: Sheet, second: Sheet, *, is_twice: bool = False) -> float:
    """Return which share of what two films have in common either prints on, or both do."""
    one, other = _corners(first), _corners(second)
    low, high = np.maximum(one.min(axis=0), other.min(axis=0)), np.minimum(one.max(axis=0), other.max(axis=0))
    across, down = (np.arange(start + STEP_MM / 2, end, STEP_MM) for start, end in zip(low, high, strict=True))
    uv = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    both = first.indices(uv)[2] & second.indices(uv)[2]
    if not both.any():
        return 0.0
    inks = [each.ink_at(uv[both]) >= 2 * FAINT for each in (first, second)]
    return float((inks[0] & inks[1] if is_twice else inks[0] | inks[1]).mean())
