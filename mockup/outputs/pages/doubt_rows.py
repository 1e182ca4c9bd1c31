"""The main colours of a pedal's art, each with how far it may be off over this paint, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from mockup.checks.art.palette import shades
from mockup.checks.art.sheets import Sheet
from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.decal import ink_over_paint
from mockup.decal.doubt import CAUSES, chief, radius, shifted, together
from mockup.model.design import Design
from mockup.model.finish import Decal, Process
from mockup.model.material import Colour
from mockup.outputs.pages.press import DecalPiece

MOST = 12  # colours of one decal: as many as a page holds; our choice
LEAST_SHARE = 0.005  # of the art's ink: less is edges and shades between colours; our choice
DOUBTFUL = 3  # colours that a test piece holds
_PATCH_MM, _GAP_MM = 10.0, 2.0  # of a test piece: as large as a thumb covers; our choice
_PER_MM = 10.0  # pixels of it: flat colours need no more


@dataclass(frozen=True, kw_only=True)
class Doubt:
    """One colour of the art: as drawn, and the darkest, likely and lightest that it comes out, all encoded sRGB.

    `paint` is what it lies over, one of the main colours where a picture is the paint.
    `difference` is the CIEDE2000 of what is likely from the colour as drawn, `radius` that within which nine prints
    in ten lie of what is likely, `cause` what adds most to it. `share` is of the art's ink.
    """

    decal: int
    paint: Colour
    drawn: Colour
    darkest: Colour
    likely: Colour
    lightest: Colour
    share: float
    difference: float
    radius: float
    cause: str

    def facts(self) -> dict[str, Any]:
        """Return it for a program to read."""
        colours = {
            each: rgb.to_hex(getattr(self, each)) for each in ("paint", "drawn", "darkest", "likely", "lightest")
        }
        return {
            "decal": self.decal + 1,
            **colours,
            "share": round(self.share, 4),
            "difference": round(self.difference, 1),
            "within": round(self.radius, 1),
            "cause": self.cause,
        }


def doubts(design: Design) -> tuple[Doubt, ...]:
    """Return the main colours of all decals, decal by decal, the largest first."""
    return tuple(each for number, decal in enumerate(design.decals) for each in _of_decal(design, decal, number))


def most_doubtful(rows: Sequence[Doubt]) -> tuple[Doubt, ...]:
    """Return the colours most in doubt, the worst first; of colours that are drawn alike one."""
    kept: list[Doubt] = []
    for row in sorted(rows, key=lambda each: -each.radius):
        if len(kept) < DOUBTFUL and all(rgb.to_hex(row.drawn) != rgb.to_hex(each.drawn) for each in kept):
            kept.append(row)
    return tuple(kept)


def _of_decal(design: Design, decal: Decal, number: int) -> list[Doubt]:
    rows = []
    for shade in shades(design.finish, Sheet(decal))[:MOST]:
        if shade.share < LEAST_SHARE:
            continue
        on = ink_over_paint.ground(design.finish.in_colour(shade.paint), decal.ink_film)
        art = np.array(shade.drawn)
        likely = ink_over_paint.overprint(art, on.bare(), on)
        causes = ink_over_paint.doubts(art, on)
        spread = together(causes)
        dark, light = (rgb.colour(ink_over_paint.seen(shifted(likely, spread, end), on)) for end in (-1.0, 1.0))
        shown = ink_over_paint.seen(likely, on)
        rows.append(
            Doubt(
                decal=number,
                paint=shade.paint,
                drawn=shade.drawn,
                darkest=dark,
                likely=rgb.colour(shown),
                lightest=light,
                share=shade.share,
                difference=float(ciede2000(encoded_to_lab(art), encoded_to_lab(shown))),
                radius=radius(likely, spread),
                cause=CAUSES[chief(causes)],
            )
        )
    return rows


def doubt_pieces(design: Design) -> tuple[DecalPiece, ...]:
    """Return for each film and process of a pedal a piece with patches of the colours that are most in doubt on it."""
    rows, found = doubts(design), []
    for film, process in dict.fromkeys((decal.film.name, decal.process) for decal in design.decals):
        same = [(each.film.name, each.process) == (film, process) for each in design.decals]
        worst = most_doubtful([row for row in rows if same[row.decal]])
        if worst:
            found.append(_piece(design, film, process, worst))
    return tuple(found)


def _piece(design: Design, film: str, process: Process, worst: Sequence[Doubt]) -> DecalPiece:
    width_mm = len(worst) * (_PATCH_MM + _GAP_MM) - _GAP_MM
    pixels = np.full((round(_PATCH_MM * _PER_MM), round(width_mm * _PER_MM), 3), 255, np.uint8)
    for number, row in enumerate(worst):
        left = round(number * (_PATCH_MM + _GAP_MM) * _PER_MM)
        pixels[:, left : left + round(_PATCH_MM * _PER_MM)] = rgb.to_8bit(row.drawn)
    return DecalPiece(
        name=f"{design.name}: test piece",
        film=film,
        process=process.name,
        white=np.full(pixels.shape[:2], 255, np.uint8) if process.white is not None else None,
        pixels=pixels,
        width_mm=width_mm,
        height_mm=_PATCH_MM,
    )
