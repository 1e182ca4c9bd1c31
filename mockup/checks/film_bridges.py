"""Thin bridges of cut film: they tear when the film slides off its paper."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from mockup.checks import Case
from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.decal.cut import film_pieces
from mockup.geometry.flat_areas import Area, grown, pieces, size_mm2
from mockup.model.finding import Finding, mm
from mockup.model.mesh import Floats

LIMITS = """
[bridge_mm]
value = 2.0
about = "width of cut film below which a bridge between two parts of it tears"
source = "common practice, no source"
"""
READS = ("decals",)
_CUT = '[[decal]]\nart = "art.svg"\ncut = "ink"\ncut_allowance = 0.5\ncut_radius = 0\n'
_LINKED = '<circle cx="25" cy="30" r="8"/><circle cx="25" cy="65" r="8"/><rect x="{}" y="30" width="{}" height="35"/>'
PLANTED = Case(_CUT, _LINKED.format(24.8, 0.4))  # 0.4 mm and 0.5 on either side: 1.4
SOUND = Case(_CUT, _LINKED.format(23.5, 3))
LEAST_MM2 = 4.0  # what hangs on a bridge is at least so large: less is a whisker, which may tear off; our choice
_FINE_MM = 0.1  # how closely the width of a bridge is found: our choice


def check(built: Built) -> Iterator[Finding]:
    """Yield the thinnest bridge of each decal whose film has any that is too thin."""
    limit = built.limits["bridge_mm"]
    for sheet in sheets(built):
        if sheet.decal.cut is None:
            continue
        found = [each for piece in film_pieces(sheet.decal) if (each := _bridge(piece, limit.value)) is not None]
        if not found:
            continue
        width, _ = min(found, key=lambda each: each[0])
        yield Finding(
            severity="warn",
            title="Thin bridge of film",
            what="the film of {first} hangs together by a bridge {measured} wide, which tears when it is slid on",
            subjects=(sheet.subject,),
            remedy="Cut with more allowance, which widens the bridge, or draw the two parts further apart, so that "
            "they become two pieces",
            measured=mm(round(width, 1)),
            limit=limit,
            marks=tuple(sheet.mark(at * sheet.per_mm) for _, at in found),
        )


def _bridge(piece: Area, limit_mm: float) -> tuple[float, Floats] | None:
    """Return the width and the place of the thinnest bridge that is thinner than a limit, else None."""
    parts = _apart(piece, limit_mm)
    if len(parts) < 2:
        return None
    low, high = 0.0, limit_mm
    while high - low > _FINE_MM:
        middle = (low + high) / 2
        tried = _apart(piece, middle)
        low, high, parts = (low, middle, tried) if len(tried) > 1 else (middle, high, parts)
    first, second = parts[0][0], parts[1][0]
    from scipy.spatial import cKDTree  # slow to load, and few films have a bridge

    distance, nearest = cKDTree(first).query(second)
    at = int(np.argmin(distance))
    return high, np.asarray((second[at] + first[nearest[at]]) / 2)


def _apart(piece: Area, width_mm: float) -> list[Area]:
    """Return the parts that are left of a piece once all that is thinner than a width is gone."""
    return [part for part in pieces(grown(piece, -width_mm / 2)) if size_mm2(part) >= LEAST_MM2]
