"""Ink along a curve on a face: what is drawn beside it, at every distance to either side."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mockup.checks.art.sheets import Bits, sheets_on
from mockup.checks.panel.built import Built
from mockup.decal.ink_over_paint import FAINT
from mockup.geometry.planar import on_face, polygon
from mockup.model.bore import Bore
from mockup.model.enclosure import FaceName
from mockup.model.mesh import Floats

STEP_MM = 0.04  # between two distances: one pixel at 600 dpi
PLAIN = 2 * FAINT  # ink that is surely drawn


@dataclass(frozen=True, eq=False)
class Curve:
    """Points (n, 2) in face millimetres and unit normals (n, 2), evenly spread along a curve."""

    points: Floats
    normals: Floats


def circle(u_mm: float, v_mm: float, radius_mm: float, count: int = 360) -> Curve:
    """Return a circle, normals outward."""
    angle = np.linspace(0.0, 2 * math.pi, count, endpoint=False)
    around = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    return Curve(points=around * radius_mm + (u_mm, v_mm), normals=around)


def segment(start: Floats, end: Floats, spacing_mm: float = 0.25) -> Curve:
    """Return a straight line from one point (2,) to another; normals to its left in (u, v down)."""
    along = end - start
    length = float(np.hypot(*along))
    count = max(8, int(length / spacing_mm))
    share = (np.arange(count) + 0.5) / count
    normal = np.array([along[1], -along[0]]) / length
    return Curve(points=start + share[:, None] * along, normals=np.broadcast_to(normal, (count, 2)))


def closed(corners: Floats, count: int = 360) -> Curve:
    """Return a closed polygon (n, 2), counter-clockwise in (u, v), evenly spread; normals outward."""
    ends = np.roll(corners, -1, axis=0)
    along = ends - corners
    lengths = np.hypot(along[:, 0], along[:, 1])
    reached = np.concatenate([[0.0], np.cumsum(lengths)])
    at = (np.arange(count) + 0.5) / count * reached[-1]
    edge = np.clip(np.searchsorted(reached, at, side="right") - 1, 0, len(corners) - 1)
    unit = along / np.maximum(lengths, 1e-12)[:, None]
    normals = np.stack([unit[:, 1], -unit[:, 0]], axis=1)
    return Curve(points=corners[edge] + (at - reached[edge])[:, None] * unit[edge], normals=normals[edge])


def edge_of(bore: Bore) -> Curve:
    """Return the outline of a hole."""
    if bore.outline.kind == "circle":
        return circle(bore.u_mm, bore.v_mm, bore.outline.width_mm / 2)
    corners = on_face(polygon(bore.outline), (bore.u_mm, bore.v_mm), bore.rotation_deg)
    return closed(corners[::-1])  # the part frame has y up, so the order turns round


def distances(low_mm: float, high_mm: float) -> Floats:
    """Return the distances that `beside` looks at, from low to high."""
    return np.arange(low_mm, high_mm + STEP_MM / 2, STEP_MM)


def beside(built: Built, face: FaceName, curve: Curve, offsets: Floats) -> Bits:
    """Return where there is ink (points, offsets): at every offset along the normal from every point."""
    uv = curve.points[:, None, :] + offsets[:, None] * curve.normals[:, None, :]
    ink: NDArray[np.bool_] = np.zeros(uv.shape[:2], bool)
    for sheet in sheets_on(built, face):
        ink |= sheet.ink_at(uv) >= PLAIN
    return ink


def is_inside(points: Floats, area: tuple[Floats, ...]) -> Bits:
    """Return which points (n, 2) lie in an area, by counting crossings."""
    inside = np.zeros(len(points), bool)
    for ring in area:
        u, v = points[:, 0, None], points[:, 1, None]
        a, b = ring, np.roll(ring, -1, axis=0)
        spans = (a[:, 1] > v) != (b[:, 1] > v)
        rise = np.where(b[:, 1] == a[:, 1], 1.0, b[:, 1] - a[:, 1])
        crossing = a[:, 0] + (v - a[:, 1]) * (b[:, 0] - a[:, 0]) / rise
        inside ^= (spans & (u < crossing)).sum(axis=1) % 2 == 1
    return inside
