"""Where a box's outline lies in flatbed scans of a face, so that its holes' place on it is known.

A scanner's lamp stands at one side: it lights one edge of the box and leaves the other one dark, which moves the
outline by up to a millimetre, always the same way on the glass. Where the face was turned by half between two scans,
that and the outline's own way are told apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from mockup.geometry.rigid import RigidMove
from mockup.measure.holes import Floats
from mockup.measure.pattern import SeenFace

PLACE_DOUBT_MM = 0.1
"""How far the holes' place on the box may be off: traced scans of light, dark and bare boxes gave 0.03 at most, real
ones are less kind."""
_INSIDE_MM, _OUTSIDE_MM, _STEP_MM = 4.0, 5.0, 0.03  # how far a side is sought, and its steps: by trial
_SAMPLES, _ENDS = 60, 0.2  # places along a side, and the share at its ends that is rounded: by trial
_DARK = 0.3  # of the face's light that the glass beside it has at most, or it is no dark room: our choice
_LEAST_SEEN, _ROUGH_MM = 0.9, 0.15  # of a side's places, and how far they lie off a line: by trial
_SKEW_DEG, _GROWN_MM = 0.4, 0.3  # between sides, and between two scans' outlines: by trial
_TURNED_DEG = 150.0  # between two scans, at least: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Outline:
    """How far (2,) an outline lies off where a face's holes would have it, how it is turned, and how much larger."""

    shift_mm: Floats
    turn_deg: float
    larger_mm: Floats


def seen_outline(seen: SeenFace, to_face: RigidMove, size_mm: tuple[float, float]) -> Outline | None:
    """Return the outline round a face of that size in a scan; None where it does not show clearly.

    `to_face` takes the scan's millimetres to the face's by its holes.
    """
    wide, high = size_mm
    smooth = ndimage.gaussian_filter(seen.grey, 1.0)
    away = np.arange(-_INSIDE_MM, _OUTSIDE_MM, _STEP_MM)
    share = np.linspace(_ENDS, 1.0 - _ENDS, _SAMPLES)
    found = []
    for start, along, out in (
        ((0.0, 0.0), (0.0, high), (-1.0, 0.0)), ((wide, 0.0), (0.0, high), (1.0, 0.0)),
        ((0.0, 0.0), (wide, 0.0), (0.0, -1.0)), ((0.0, high), (wide, 0.0), (0.0, 1.0)),
    ):  # fmt: skip
        foot = np.array(start) + share[:, None] * np.array(along)
        at = to_face.back(foot[:, None] + away[None, :, None] * np.array(out)) * seen.per_mm - 0.5
        light = ndimage.map_coordinates(smooth, [at[..., 1], at[..., 0]], order=1, mode="nearest")
        side = _side(light, (share - 0.5) * math.hypot(*along), away)
        if side is None:
            return None
        slope, level = side
        found.append((level, slope * (1 if out in ((-1.0, 0.0), (0.0, 1.0)) else -1)))
    (left, right, top, bottom), turns = np.array(found).T
    if np.ptp(turns) > math.radians(_SKEW_DEG):
        return None
    return Outline(
        shift_mm=np.array([right - left, bottom - top]) / 2,
        turn_deg=math.degrees(float(turns.mean())),
        larger_mm=np.array([left + right, top + bottom]),
    )


def _side(light: Floats, along: Floats, away: Floats) -> tuple[float, float] | None:
    """Return the line (slope, level in its middle) up to which a side is lit; None where that does not show clearly.

    `light` (n, m) is that of places `along` the side (n,), from its middle, and `away` from it (m,), outward, mm.
    """
    inside, outside = float(np.median(light[:, : len(away) // 4])), float(np.median(light[:, -len(away) // 8 :]))
    if outside > _DARK * inside:
        return None
    is_lit = light > (inside + outside) / 2
    last = is_lit.shape[1] - 1 - is_lit[:, ::-1].argmax(axis=1)
    is_seen = is_lit.any(axis=1) & (last < is_lit.shape[1] - 1)
    if is_seen.mean() < _LEAST_SEEN:
        return None
    at, ends = along[is_seen], away[last[is_seen]]
    slope, level = np.polyfit(at, ends, 1)
    rough = ends - np.polyval((slope, level), at)
    return (float(slope), float(level)) if float(np.sqrt(np.mean(rough**2))) <= _ROUGH_MM else None


def placed(scans: Sequence[tuple[SeenFace, RigidMove]], size_mm: tuple[float, float]) -> RigidMove | None:
    """Return the move that takes holes from where their pattern would have them to their place on the box.

    Each scan comes with the move that takes its millimetres to the face's by the holes. None where no two scans show
    the outline, turned by half.
    """
    known = [(move.turn_deg, seen_outline(seen, move, size_mm)) for seen, move in scans]
    shown = [(turn, outline) for turn, outline in known if outline is not None]
    if len(shown) < 2 or max(abs((turn - shown[0][0] + 180) % 360 - 180) for turn, _ in shown) < _TURNED_DEG:
        return None
    if float(np.ptp([each.larger_mm for _, each in shown], axis=0).max()) > _GROWN_MM:
        return None
    rows, values = [], []
    for turn, outline in shown:  # what the lamp does lies still on the glass, and is turned with it into the face
        cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        rows += [(1.0, 0.0, cos, -sin), (0.0, 1.0, sin, cos)]
        values += outline.shift_mm.tolist()
    own, *_ = np.linalg.lstsq(np.array(rows), np.array(values), rcond=None)
    right, down = float(own[0]), float(own[1])
    turn_deg = float(np.mean([each.turn_deg for _, each in shown]))
    middle = (size_mm[0] / 2 + right, size_mm[1] / 2 + down)
    return RigidMove(middle=middle, shift=(-right, -down), turn_deg=-turn_deg, left=np.zeros((0, 2)))
