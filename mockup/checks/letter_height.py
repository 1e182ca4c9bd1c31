"""Lettering too small for its reading distance, at the bench and from a standing player's eye."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from mockup.checks import Case
from mockup.checks.art.lettering import Piece, pieces
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import player_eye
from mockup.model.finding import Finding, Quantity, mm
from mockup.model.mesh import Floats

LIMITS = """
[letter_arcmin]
value = 16.0
unit = "arcmin"
about = "least angle that a capital letter's height must fill"
source = "NUREG-0700 Rev. 3, as quoted"

[letter_good_arcmin]
value = 20.0
unit = "arcmin"
about = "preferred angle for a capital letter's height"
source = "ISO 9241-303, from memory"

[bench_mm]
value = 400.0
about = "reading distance at the bench"
source = "common practice, no source"
"""
READS = ("decals", "enclosure", "labels", "parts")
_LABEL = '[[label]]\ntext = "TONE"\nface = "near"\nleft = 20\ntop = 10\nwidth = 9\nheight = {}\n'
PLANTED = Case(_LABEL.format(1.2))
SOUND = Case(_LABEL.format(3))
_ARCMIN = 60.0  # in a degree


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    yield from _at_bench(built)
    yield from _standing(built)


def subtense_arcmin(height_mm: float, distance_mm: float) -> float:
    """Return the angle that a height fills, seen square on from a distance."""
    return 2 * math.degrees(math.atan(height_mm / 2 / distance_mm)) * _ARCMIN


def height_mm(arcmin: float, distance_mm: float) -> float:
    """Return the height that fills an angle at a distance: 2 d tan(a / 2)."""
    return 2 * distance_mm * math.tan(math.radians(arcmin / _ARCMIN) / 2)


def _at_bench(built: Built) -> Iterator[Finding]:
    """Yield lettering that is hard to read at the bench.

    What the layout declares and is too small is a warning each; the rest comes as one note, what is only less than
    preferred as advice.
    """
    least, good = built.limits["letter_arcmin"], built.limits["letter_good_arcmin"]
    distance = built.limits["bench_mm"].value
    sized = [(piece, subtense_arcmin(piece.capital_mm + piece.doubt_mm, distance)) for piece in pieces(built)]
    small = [(piece, angle) for piece, angle in sized if piece.is_declared and angle < least.value]
    other = sorted(
        ((piece, angle) for piece, angle in sized if angle < good.value and (piece, angle) not in small),
        key=lambda pair: pair[1],
    )
    groups = [[pair] for pair in small] + ([other] if other else [])
    for group in groups:
        piece, angle = group[0]
        limit = least if angle < least.value else good
        tall = math.ceil(height_mm(limit.value, distance) * 100) / 100
        yield Finding(
            severity="warn" if group[0] in small else "note",
            is_advice=limit is good,
            title="Small lettering" if limit is least else "Lettering smaller than it might be",
            what="capitals of {first} are {height} high; from {distance} they need {tall} to be read "
            "({measured}, {limit} wanted)" + ("; {more} more are smaller than reads well" if len(group) > 1 else "")
            if limit is least
            else "capitals are as low as {height} ({tall} reads well from {distance})",
            subjects=tuple(each.subject for each, _ in group),
            remedy="Make its capitals {tall} high",
            measured=Quantity(angle, limit.unit),
            limit=limit,
            facts={
                "height": mm(piece.capital_mm),
                "tall": mm(tall),
                "distance": mm(distance),
                "more": str(len(group) - 1),
            },
            marks=tuple(each.mark for each, _ in group),
        )


def _standing(built: Built) -> Iterator[Finding]:
    """Yield advice on what a standing player cannot read on top, which is nearly all lettering on pedals."""
    eye = player_eye(built, built.limits["eye_mm"].value, built.limits["stance_mm"].value)
    least = built.limits["letter_arcmin"]
    seen = [(piece, _from_eye(built, piece, eye)) for piece in pieces(built) if piece.label.face == "top"]
    small = [(piece, angle) for piece, angle in seen if angle < least.value]
    if not small:
        return
    piece, angle = min(small, key=lambda pair: pair[1])
    yield Finding(
        severity="note",
        is_advice=True,
        title="Too small to read standing up",
        what="{few} on top cannot be read standing, {distance} away (that takes capitals {tall} high)",
        subjects=tuple(each.subject for each, _ in small),
        measured=Quantity(round(angle, 1), least.unit),
        limit=least,
        facts={
            "few": "the lettering" if len(small) == len(seen) else f"{len(small)} of {len(seen)} words",
            "distance": mm(round(float(np.linalg.norm(_middle(built, piece) - eye)))),
            "tall": mm(round(piece.capital_mm * least.value / angle, 1)),
        },
        marks=tuple(each.mark for each, _ in small),
    )


def _middle(built: Built, piece: Piece) -> Floats:
    return built.faces[piece.label.face].to_world(np.array([piece.label.u_mm, piece.label.v_mm]))


def _from_eye(built: Built, piece: Piece, eye: Floats) -> float:
    """Return the angle in arcmin between the foot and the head of a letter, as it lies on the pedal."""
    half = piece.axes[1] * piece.capital_mm / 2
    middle = np.array([piece.label.u_mm, piece.label.v_mm])
    ends = built.faces[piece.label.face].to_world(np.stack([middle - half, middle + half])) - eye
    one, other = ends / np.linalg.norm(ends, axis=1, keepdims=True)
    return math.degrees(2 * math.asin(float(np.linalg.norm(one - other)) / 2)) * _ARCMIN
