"""The box drawn from above and cut through from the side, with its measures to type."""

from __future__ import annotations

import math
from collections.abc import Collection

from mockup.enclosure.lid import screw_places
from mockup.model.enclosure import Enclosure
from mockup.model.shape import Point
from mockup.window.dimensions.sketch import Dimension, Hole, Quantity, Side, Sketch, Stroke, rounded


def plan_sketch(box: Enclosure, kept: Collection[str]) -> Sketch:
    """Return the box from above: far side up; `kept` are the measures that the layout says itself."""
    half_w, half_l = box.width_mm / 2, box.length_mm / 2
    flat_w, flat_l = half_w - box.wall_mm, half_l - box.wall_mm
    inner = max(box.corner_mm - box.wall_mm, 0.5)
    return Sketch(
        strokes=(
            rounded(-half_w, -half_l, half_w, half_l, box.corner_mm),
            rounded(-flat_w, -flat_l, flat_w, flat_l, inner, "thin"),
        ),
        holes=tuple(Hole(at=(x, -y), radius_mm=box.post_mm / 2) for x, y in screw_places(box)),
        dimensions=(
            _line("length", "left", box.length_mm, ((-half_w, -half_l), (-half_w, half_l)), kept, (20.0, 600.0)),
            _line("width", "bottom", box.width_mm, ((-half_w, half_l), (half_w, half_l)), kept, (20.0, 600.0)),
            _field("corner", "right", box.corner_mm, "Corners", kept, (0.5, 60.0)),
            _field("post", "right", box.post_mm, "Posts", kept, (1.0, 30.0)),
            _field("screw", "right", box.screw_mm, "Screws", kept, (1.0, 8.0)),
        ),
    )


def section_sketch(box: Enclosure, kept: Collection[str]) -> Sketch:
    """Return the box cut through across, the lid below."""
    lean = math.tan(math.radians(box.draft_deg))
    half, high, lid = box.width_mm / 2, box.height_mm, box.lid_mm
    top_half = half - (high - lid) * lean
    under, ceiling = half - box.wall_mm, high - box.top_mm
    top_under = under - (ceiling - lid) * lean
    outside = ((-half, -lid), (-top_half, -high), (top_half, -high), (half, -lid))
    inside = ((-under, -lid), (-top_under, -ceiling), (top_under, -ceiling), (under, -lid))
    return Sketch(
        strokes=(
            Stroke(points=outside, is_closed=True),
            Stroke(points=inside, style="thin"),
            Stroke(points=((-half, -lid), (-half, 0.0), (half, 0.0), (half, -lid))),
        ),
        dimensions=(
            _line("height", "left", high, ((-half, -high), (-half, 0.0)), kept, (12.0, 200.0)),
            _line("top", "right", box.top_mm, ((half, -high), (half, -ceiling)), kept, (0.5, 10.0)),
            _field("seam", "right", box.seam_mm, "Seam", kept, (0.0, 2.0)),
            _line("lid", "right", lid, ((half, -lid), (half, 0.0)), kept, (0.5, 10.0)),
            _line("wall", "bottom", box.wall_mm, ((-half, 0.0), (-under, 0.0)), kept, (0.5, 10.0)),
            _field("edge", "bottom", box.edge_mm, "Top edge", kept, (0.0, 20.0)),
            _field("lip", "right", box.lip_mm, "Lid's lip", kept, (0.0, 10.0)),
            _field("lip_wall", "right", box.lip_wall_mm, "Lip's wall", kept, (0.2, 5.0)),
            _field("feet", "right", box.feet_mm, "Feet", kept, (0.0, 20.0)),
            _field("draft", "bottom", box.draft_deg, "Draft", kept, (0.0, 15.0), quantity="angle"),
        ),
    )


def _line(
    name: str, side: Side, value: float, ends: tuple[Point, Point], kept: Collection[str], bounds: tuple[float, float]
) -> Dimension:
    return Dimension(
        name=name, side=side, value=value, start=ends[0], end=ends[1], is_kept=name in kept, least=bounds[0],
        most=bounds[1],
        tip=f"{name.capitalize()}, outside" if name in ("length", "width", "height") else name.capitalize(),
    )  # fmt: skip


def _field(
    name: str, side: Side, value: float, caption: str, kept: Collection[str], bounds: tuple[float, float],
    *, quantity: Quantity = "length",
) -> Dimension:  # fmt: skip
    return Dimension(
        name=name, side=side, value=value, caption=caption, is_kept=name in kept, least=bounds[0], most=bounds[1],
        quantity=quantity,
    )  # fmt: skip
