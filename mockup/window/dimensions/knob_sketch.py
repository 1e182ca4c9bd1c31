"""A knob drawn from the side, with its height and its diameter to type."""

from __future__ import annotations

from collections.abc import Iterable

from mockup import knobs
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Extruded, Solid
from mockup.window.dimensions.sketch import Dimension, Point, Sketch, Stroke, line


def knob_sketch(knob: Knob, shaft: Shaft, height_mm: float | None, diameter_mm: float | None) -> Sketch:
    """Return a knob on its panel; a figure is None where several knobs differ."""
    solids = knobs.solids(knob, shaft)
    points = [point for solid in solids for point in _profile(solid)]
    low, high = min(z for _, z in points), max(z for _, z in points)
    reach = knob.diameter_mm / 2
    return Sketch(
        strokes=(
            *(Stroke(points=tuple(_outline(solid)), is_closed=True) for solid in solids),
            line((-reach - 3.0, -low), (reach + 3.0, -low), "thin"),
        ),
        dimensions=(
            Dimension(
                name="height", side="left", value=height_mm, start=(-reach, -high), end=(-reach, -low), least=3.0,
                most=60.0, tip="Height of the knob",
            ),
            Dimension(
                name="diameter", side="bottom", value=diameter_mm, start=(-reach, -low), end=(reach, -low), least=5.0,
                most=80.0, tip="Diameter of the knob at its widest",
            ),
        ),
    )  # fmt: skip


def _outline(solid: Solid) -> Iterable[Point]:
    """Return a solid seen from the side, y down: the right half of its profile and its mirror image."""
    half = _profile(solid)
    return [*((r, -z) for r, z in half), *((-r, -z) for r, z in reversed(half))]


def _profile(solid: Solid) -> list[tuple[float, float]]:
    """Return how far a solid reaches from its axis at each height, from below upwards."""
    if isinstance(solid, Extruded):
        reach = solid.outline.width_mm / 2 + abs(solid.at[0])
        return [(reach, solid.bottom_mm), (reach, solid.top_mm)]
    return [(r + abs(solid.at[0]), z) for r, z in solid.profile]
