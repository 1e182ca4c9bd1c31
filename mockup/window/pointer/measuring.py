"""Lengths on the pedal as a rule would read them, in millimetres and inches."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mockup.model.enclosure import Face
from mockup.model.mesh import Floats
from mockup.model.units import Unit, format_length

Uv = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class Edges:
    """How far a place on a face is from each of its edges, by ruler held at its own height; mm."""

    left_mm: float
    right_mm: float
    top_mm: float
    bottom_mm: float

    def lines(self, units: Unit = "mm") -> tuple[str, ...]:
        """Return the four readings in words, two to a line."""
        return (
            f"left {both(self.left_mm, units)}, right {both(self.right_mm, units)}",
            f"top {both(self.top_mm, units)}, bottom {both(self.bottom_mm, units)}",
        )


@dataclass(frozen=True, kw_only=True)
class Span:
    """From one point to another: `du_mm` right and `dv_mm` down on a face, None for points in space."""

    distance_mm: float
    du_mm: float | None = None
    dv_mm: float | None = None

    def lines(self, units: Unit = "mm") -> tuple[str, ...]:
        """Return the span in words, the distance first."""
        found = (f"distance {both(self.distance_mm, units)}",)
        if self.du_mm is None or self.dv_mm is None:
            return found
        return (*found, f"across {both(abs(self.du_mm), units)}, down {both(abs(self.dv_mm), units)}")


def edges(face: Face, at: Uv) -> Edges:
    """Return how far a place (u, v) is from the edges of its face."""
    u, v = at
    return Edges(left_mm=u - face.left_edge(v), right_mm=face.right_edge(v) - u, top_mm=v, bottom_mm=face.height_mm - v)


def on_face(start: Uv, end: Uv) -> Span:
    """Return the span between two places (u, v) on one face."""
    du, dv = end[0] - start[0], end[1] - start[1]
    return Span(distance_mm=math.hypot(du, dv), du_mm=du, dv_mm=dv)


def in_space(start: Floats, end: Floats) -> Span:
    """Return the straight span between two points (3,)."""
    return Span(distance_mm=float(np.linalg.norm(np.subtract(end, start))))


def both(mm: float, units: Unit = "mm") -> str:
    """Return a length in both units, the file's own first: ``12.7 mm (0.5 in)``."""
    other: Unit = "in" if units == "mm" else "mm"
    return f"{format_length(mm, units)} ({format_length(mm, other)})"
