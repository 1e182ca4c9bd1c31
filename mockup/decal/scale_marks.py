"""Scale marks round a knob: where each lies, and as ink."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from mockup.colour import rgb
from mockup.decal.curves import Box
from mockup.decal.lettering import Inked, grown
from mockup.model.material import Colour
from mockup.model.mesh import Floats
from mockup.model.shape import Point


@dataclass(frozen=True, kw_only=True)
class Scale:
    """Marks round (`u_mm`, `v_mm`), which begin `inner_mm` from it.

    `marks` of them are spread over `travel_deg`, half to either side of 12 o'clock turned clockwise by
    `rotation_deg`. Every `major_every`-th from the first is `major_mm` long, the others `minor_mm`
    (0: left out). Their ends are round and count as part of their length.
    """

    u_mm: float
    v_mm: float
    inner_mm: float
    marks: int
    travel_deg: float
    rotation_deg: float
    major_every: int
    major_mm: float
    minor_mm: float
    line_mm: float


def directions(scale: Scale) -> Floats:
    """Return the direction of every mark as a unit vector (right, down), (marks, 2), clockwise."""
    share = np.linspace(-0.5, 0.5, scale.marks)
    angle = np.radians(scale.rotation_deg + scale.travel_deg * share)
    return np.stack([np.sin(angle), -np.cos(angle)], axis=1)


def majors(scale: Scale) -> tuple[int, ...]:
    """Return the numbers of the longer marks, counted from 0."""
    return tuple(range(0, scale.marks, scale.major_every))


def segments(scale: Scale) -> Floats:
    """Return both ends of every mark that is drawn, (n, 2, 2) in face millimetres, its round ends included."""
    longer = np.isin(np.arange(scale.marks), majors(scale))
    lengths = np.where(longer, scale.major_mm, scale.minor_mm)
    is_drawn = lengths > 0.0
    radii = scale.inner_mm + np.stack([np.zeros_like(lengths), lengths], axis=1)
    ends = (scale.u_mm, scale.v_mm) + radii[..., None] * directions(scale)[:, None, :]
    return np.asarray(ends[is_drawn])


def reached(scale: Scale) -> Box:
    """Return the box round the ends of all marks, face millimetres."""
    ends = segments(scale)
    (left, top), (right, bottom) = ends.min(axis=(0, 1)).tolist(), ends.max(axis=(0, 1)).tolist()
    return left, top, right, bottom


def number_centres(scale: Scale, gap_mm: float, sizes: Sequence[tuple[float, float]]) -> list[Point]:
    """Return (u, v) of the middle of each longer mark's number; `sizes` are their widths and heights.

    All lie on one circle, so that left and right match; the number that needs most room, taken as an
    ellipse, stands `gap_mm` beyond the longer marks.
    """
    towards = directions(scale)[list(majors(scale))]
    needed = float(np.hypot(*(towards * np.array(sizes)).T).max()) / 2
    away = scale.inner_mm + scale.major_mm + gap_mm + needed
    return [(u, v) for u, v in ((scale.u_mm, scale.v_mm) + away * towards).tolist()]


def inked(scale: Scale, colour: Colour) -> Inked:
    """Return the marks as ink; a mark shorter than its line is wide becomes a dot."""
    ends = segments(scale)
    along = ends[:, 1] - ends[:, 0]
    lengths = np.linalg.norm(along, axis=1, keepdims=True)
    back = np.minimum(scale.line_mm / 2, lengths / 2) * along / lengths
    lines = np.stack([ends[:, 0] + back, ends[:, 1] - back], axis=1)
    data = "".join(f"M{a:.5f} {b:.5f}L{c:.5f} {d:.5f}" for (a, b), (c, d) in lines.tolist())
    svg = f'<path d="{data}" fill="none" stroke="{rgb.to_hex(colour)}" stroke-width="{scale.line_mm:.5f}" '
    low, high = lines.min(axis=(0, 1)).tolist(), lines.max(axis=(0, 1)).tolist()
    box: Box = (low[0], low[1], high[0], high[1])
    return Inked(svg=svg + 'stroke-linecap="round"/>', box=grown(box, scale.line_mm / 2))
