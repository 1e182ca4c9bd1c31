"""Lettering too small for its reading distance, at the bench and from a standing player's eye."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from mockup.checks.art.words import Piece, pieces
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import player_eye
from mockup.model.finding import Finding
from mockup.model.limits import Limits
from mockup.model.mesh import Floats

READS = ("decals", "enclosure", "labels", "parts")
_ARCMIN = 60.0  # in a degree


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    yield from _at_bench(built, limits)
    yield from _standing(built, limits)


def subtense_arcmin(height_mm: float, distance_mm: float) -> float:
    """Return the angle that a height fills, seen square on from a distance."""
    return 2 * math.degrees(math.atan(height_mm / 2 / distance_mm)) * _ARCMIN


def height_mm(arcmin: float, distance_mm: float) -> float:
    """Return the height that fills an angle at a distance: 2 d tan(a / 2)."""
    return 2 * distance_mm * math.tan(math.radians(arcmin / _ARCMIN) / 2)


def _at_bench(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield lettering that is hard to read at the bench.

    What the layout declares and is too small is a warning each; the rest, and what is only less than
    preferred, comes as one note.
    """
    least, good = limits["letter_arcmin"], limits["letter_good_arcmin"]
    distance = limits["bench_mm"].value
    sized = [(piece, subtense_arcmin(piece.label.height_mm, distance)) for piece in pieces(built)]
    small = [(piece, angle) for piece, angle in sized if piece.is_declared and angle < least.value]
    other = [(piece, angle) for piece, angle in sized if angle < good.value and (piece, angle) not in small]
    groups = [[pair] for pair in small] + ([sorted(other, key=lambda pair: pair[1])] if other else [])
    for group in groups:
        piece, angle = group[0]
        limit = least if angle < least.value else good
        tall = height_mm(limit.value, distance)
        what = (
            f"capitals of {piece.name} are {piece.label.height_mm:.2f} mm high and fill {angle:.1f} arcmin at "
            f"{distance:g} mm; {'at least' if limit is least else 'preferably'} {limit.value:g}"
        )
        more = f"; {len(group) - 1} more fill less than {good.value:g}" if len(group) > 1 else ""
        yield Finding(
            check="letter-height",
            severity="warn" if group[0] in small else "note",
            subjects=tuple(each.name for each, _ in group),
            what=what + more,
            remedy=f"make its capitals {math.ceil(tall * 100) / 100:.2f} mm high",
            source=limit.source,
            measured=round(angle, 1),
            limit=limit.value,
            unit=limit.unit,
            marks=tuple(each.mark for each, _ in group),
        )


def _standing(built: Built, limits: Limits) -> Iterator[Finding]:
    """Yield one note on what a standing player cannot read on top, which is nearly all lettering on pedals."""
    eye = player_eye(built, limits["eye_mm"].value, limits["stance_mm"].value)
    least = limits["letter_arcmin"]
    seen = [(piece, _from_eye(built, piece, eye)) for piece in pieces(built) if piece.label.face == "top"]
    small = [(piece, angle) for piece, angle in seen if angle < least.value]
    if not small:
        return
    piece, angle = min(small, key=lambda pair: pair[1])
    distance = float(np.linalg.norm(_middle(built, piece) - eye))
    yield Finding(
        check="letter-height",
        severity="note",
        subjects=tuple(each.name for each, _ in small),
        what=(
            f"{len(small)} of {len(seen)} labels on top cannot be read from a standing player's eye, "
            f"{distance / 1000:.2f} m away; the smallest, {piece.name}, fills {angle:.1f} arcmin"
        ),
        remedy=(
            f"usual on pedals; what must be read standing needs capitals about "
            f"{piece.label.height_mm * least.value / angle:.1f} mm high"
        ),
        source=least.source,
        measured=round(angle, 1),
        limit=least.value,
        unit=least.unit,
        marks=tuple(each.mark for each, _ in small),
    )


def _middle(built: Built, piece: Piece) -> Floats:
    return built.faces[piece.label.face].to_world(np.array([piece.label.u_mm, piece.label.v_mm]))


def _from_eye(built: Built, piece: Piece, eye: Floats) -> float:
    """Return the angle in arcmin between the foot and the head of a letter, as it lies on the pedal."""
    half = piece.axes[1] * piece.label.height_mm / 2
    middle = np.array([piece.label.u_mm, piece.label.v_mm])
    ends = built.faces[piece.label.face].to_world(np.stack([middle - half, middle + half])) - eye
    one, other = ends / np.linalg.norm(ends, axis=1, keepdims=True)
    return math.degrees(2 * math.asin(float(np.linalg.norm(one - other)) / 2)) * _ARCMIN
