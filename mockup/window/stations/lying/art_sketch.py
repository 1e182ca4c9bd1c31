"""A decal on its face as a drawing that takes numbers: how large it is, where it lies, how it is turned."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mockup.model.enclosure import Face
from mockup.window.dimensions.face_sketch import outline
from mockup.window.dimensions.sketch import Dimension, Side, Sketch, Stroke, rectangle
from mockup.window.pointer.lying import Lying

_LEAST_MM, _MOST_MM = 0.1, 1000.0  # what a layout takes


def art_sketch(face: Face, lying: Lying, table: Mapping[str, Any]) -> Sketch:
    """Return a face with a decal on it; `table` is its table in the layout: what it gives is kept, the rest follows."""
    left, top, right, bottom = face.flat
    (x1, y1), (x2, y2), (x3, y3), (x4, y4) = lying.corners
    across, down = lying.reach
    near = lying.v_mm + down / 2
    return Sketch(
        strokes=(
            outline(face),
            rectangle(left, top, right, bottom, "thin"),
            Stroke(points=((x1, y1), (x2, y2), (x3, y3), (x4, y4)), style="picked", is_closed=True),
        ),
        dimensions=(
            Dimension(
                name="width", side="bottom", value=lying.width_mm, start=(lying.u_mm - across / 2, near),
                end=(lying.u_mm + across / 2, near), is_kept="width" in table, least=_LEAST_MM, most=_MOST_MM,
                tip="Its width; the height follows, art is never stretched",
            ),
            Dimension(
                name="height", side="left", value=lying.height_mm,
                start=(lying.u_mm - across / 2, lying.v_mm - down / 2),
                end=(lying.u_mm - across / 2, lying.v_mm + down / 2), is_kept="height" in table, least=_LEAST_MM,
                most=_MOST_MM, tip="Its height; the width follows, art is never stretched",
            ),
            *place_dimensions(face, lying, table),
            Dimension(
                name="rotation", side="right", value=lying.rotation_deg, quantity="angle", caption="Turned",
                is_kept="rotation" in table, least=-360.0, most=360.0, tip="Clockwise, degrees",
            ),
        ),
    )  # fmt: skip


def place_dimensions(face: Face, lying: Lying, table: Mapping[str, Any]) -> tuple[Dimension, ...]:
    """Return where something lies, as dimensions that stand at the right."""
    return tuple(
        Dimension(
            name=side, side="right", value=mm, caption=f"From the {side}", is_kept=side in table,
            tip=f"From the face's {side} edge to its own; it is in the middle while nothing is kept",
        )
        for side, mm in edge_distances(face, lying, table).items()
    )  # fmt: skip


def edge_distances(face: Face, lying: Lying, table: Mapping[str, Any]) -> dict[Side, float]:
    """Return how far something lies from the two edges that its table gives, else from left and top, mm."""
    across, down = lying.reach
    ruled: dict[Side, float] = {
        "left": lying.u_mm - across / 2 - face.left_edge(lying.v_mm),
        "right": face.right_edge(lying.v_mm) - lying.u_mm - across / 2,
        "top": lying.v_mm - down / 2,
        "bottom": face.height_mm - lying.v_mm - down / 2,
    }
    axes: tuple[tuple[Side, Side], ...] = (("left", "right"), ("top", "bottom"))
    return {side: ruled[side] for side in (second if second in table else first for first, second in axes)}
