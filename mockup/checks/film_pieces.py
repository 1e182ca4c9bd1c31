"""Pieces of film that are too small to handle: they curl, float away and tear on the tweezers."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from mockup.checks import Case
from mockup.checks.art.sheets import sheets
from mockup.checks.panel.built import Built
from mockup.decal.cut import film_pieces
from mockup.model.finding import Finding, mm

LIMITS = """
[piece_mm]
value = 6.0
about = "longer side below which a piece of cut film is too small to handle"
source = "common practice, no source"
"""
READS = ("decals",)
_CUT = '[[decal]]\nart = "art.svg"\ncut = "ink"\n'
_DISCS = '<circle cx="25" cy="40" r="12"/><circle cx="25" cy="70" r="{}"/>'
PLANTED = Case(_CUT, _DISCS.format(1.0))  # 2 mm and 1 mm of film on either side: 4 mm
SOUND = Case(_CUT, _DISCS.format(4.0))


def check(built: Built) -> Iterator[Finding]:
    """Yield one finding for each decal whose film is cut into pieces that are too small."""
    limit = built.limits["piece_mm"]
    for sheet in sheets(built):
        if sheet.decal.cut is None:
            continue
        pieces = [piece[0] for piece in film_pieces(sheet.decal)]
        sides = [float(np.ptp(each, axis=0).max()) for each in pieces]
        small = [(each, side) for each, side in zip(pieces, sides, strict=True) if side < limit.value]
        if not small:
            continue
        least = min(side for _, side in small)
        yield Finding(
            severity="warn",
            title="Film too small to handle",
            what="{count} of {whole} pieces of {first} "
            + ("is" if len(small) == 1 else "are")
            + " too small to handle once cut, the smallest {measured} long",
            subjects=(sheet.subject,),
            remedy="Cut with more allowance, so that it hangs together with its neighbours, or cut round the picture",
            measured=mm(round(least, 1)),
            limit=limit,
            facts={"count": str(len(small)), "whole": str(len(pieces))},
            marks=tuple(sheet.mark(each.mean(axis=0) * sheet.per_mm) for each, _ in small),
        )
