"""How far solids stand apart or run into each other, by the solid library: what tests measure with; no test itself."""

from __future__ import annotations

from mockup.geometry.solids import Solid, common


def overlap_volume(first: Solid, second: Solid) -> float:
    """Return the volume that two solids share, cubic millimetres."""
    return common(first, second).volume


def gap(first: Solid, second: Solid, limit_mm: float) -> float:
    """Return the least distance between two solids, at most `limit_mm`; 0 where they overlap.

    Keep the limit small: the search slows down steeply with it.
    """
    return float(first._engine.min_gap(second._engine, limit_mm))
