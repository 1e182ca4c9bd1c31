"""Rings and frames drawn round hardware: where their edges run, and how far off centre they are."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from mockup.checks.art.curves import Curve, beside, circle, closed, distances
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import Shadow
from mockup.model.design import Placement
from mockup.model.mesh import Floats

INSIDE_MM, OUTSIDE_MM = 1.5, 3.0  # how far from the hardware's edge a ring is looked for: common practice, no source
ROUND = 1.25  # hardware whose farthest point is no farther than this times its nearest is taken as round
WHOLE = 0.8  # share of the way round on which an edge shows
STEADY_MM, STEADY = 0.15, 0.75  # how well, and on which share, an edge keeps to its circle: common practice, no source


@dataclass(frozen=True)
class Edge:
    """One edge of a ring: its mean distance from the hardware's edge (positive: outside it), and how far off centre."""

    at_mm: float
    off_centre_mm: float
    is_inner: bool

    @property
    def nominal_mm(self) -> float:
        """Distance to the hardware's edge where it comes closest; 0 where the two cross."""
        return max(0.0, abs(self.at_mm) - self.off_centre_mm)


@dataclass(frozen=True, eq=False)
class Rim:
    """The visible outer edge of a part's hardware on its face; `radius_mm` 0 where it is not round."""

    curve: Curve
    radius_mm: float


def rim(part: Placement, shadow: Shadow) -> Rim:
    """Return the edge of a part's hardware as seen from straight above."""
    outline = max(shadow.outline, key=len)
    reach = np.hypot(*(outline - (part.u_mm, part.v_mm)).T)
    if part.knob is not None or reach.max() <= ROUND * reach.min():
        radius = part.knob.diameter_mm / 2 if part.knob is not None else float(reach.max())
        radius = max(radius, float(reach.max())) if part.knob is None else radius
        return Rim(circle(part.u_mm, part.v_mm, radius), radius)
    return Rim(closed(outline), 0.0)


def edges(built: Built, part: Placement, edge: Rim) -> Iterator[Edge]:
    """Yield the edges of a ring or frame that run all round a part's hardware, near its own edge."""
    offsets = distances(-min(INSIDE_MM, 0.8 * (edge.radius_mm or INSIDE_MM)), OUTSIDE_MM)
    ink = beside(built, part.face, edge.curve, offsets)
    for is_inner, change in ((True, ~ink[:, :-1] & ink[:, 1:]), (False, ink[:, :-1] & ~ink[:, 1:])):
        has = change.any(axis=1)
        if has.mean() < WHOLE:
            continue
        where = (offsets[1:] + offsets[:-1])[change.argmax(axis=1)] / 2
        found = _fitted(edge.curve.normals[has], where[has])
        if found is not None:
            yield Edge(found[0], found[1], is_inner)


def _fitted(normals: Floats, where: Floats) -> tuple[float, float] | None:
    """Return (mean, swing) of distances that follow m + a cos + b sin round the way, or None if they do not."""
    terms = np.column_stack([np.ones(len(where)), normals])
    keep = np.ones(len(where), bool)
    for _ in range(4):
        if keep.sum() < 8:
            return None
        mean, *swing = np.linalg.lstsq(terms[keep], where[keep], rcond=None)[0].tolist()
        away = np.abs(terms @ np.array([mean, *swing]) - where)
        keep = away <= max(STEADY_MM, float(np.median(away)))
    if (away <= STEADY_MM).mean() < STEADY:
        return None
    return mean, math.hypot(*swing)
