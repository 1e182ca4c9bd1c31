"""Flat areas by their outlines: grown, shrunk, taken apart.

An area is a tuple of closed outlines (n, 2) of which inner ones are holes, millimetres, x right and y down.
"""

from __future__ import annotations

from collections.abc import Sequence

import manifold3d
import numpy as np

from mockup.model.mesh import Floats

Area = tuple[Floats, ...]
_FINE_MM = 0.02  # how far an outline may be off once points are taken out: a tenth of what a knife holds; our choice
_STEPS = 96  # of a whole turn at rounded corners: off by 0.0005 of the radius


def grown(area: Sequence[Floats], by_mm: float) -> Area:
    """Return an area that reaches so much further, with round corners; less far where that is below zero."""
    section = _section(area).offset(by_mm, manifold3d.JoinType.Round, 2.0, _STEPS)
    return _outlines(section.simplify(_FINE_MM))


def whole(area: Sequence[Floats]) -> Area:
    """Return an area without its holes; what lies in one is part of it then."""
    outer = [each for each in _outlines(_section(area)) if _signed_mm2(each) > 0.0]
    return _outlines(manifold3d.CrossSection(outer, manifold3d.FillRule.NonZero)) if outer else ()


def pieces(area: Sequence[Floats]) -> tuple[Area, ...]:
    """Return the pieces of an area that do not hang together, the largest first."""
    return tuple(sorted(map(_outlines, _section(area).decompose()), key=lambda each: -size_mm2(each)))


def size_mm2(area: Sequence[Floats]) -> float:
    """Return how large an area is."""
    return float(sum(map(_signed_mm2, area)))


def _section(area: Sequence[Floats]) -> manifold3d.CrossSection:
    return manifold3d.CrossSection([np.ascontiguousarray(each) for each in area], manifold3d.FillRule.EvenOdd)


def _outlines(section: manifold3d.CrossSection) -> Area:
    return tuple(np.array(each, np.float64) for each in section.to_polygons())


def _signed_mm2(outline: Floats) -> float:
    x, y = outline.T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2.0
