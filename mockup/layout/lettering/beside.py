"""Standing beside a part: how far it reaches on its face, and where a label next to it lies."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.decal.curves import Box
from mockup.geometry.planar import axes, on_face, polygon
from mockup.layout.lettering.tables import Side
from mockup.model.design import Placement
from mockup.model.mesh import Floats
from mockup.model.shape import Outline, Point, Turned

TOWARDS: dict[Side, Point] = {"below": (0.0, 1.0), "above": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}
"""Each side of a part as a direction on its face (right, down)."""


def reach(part: Placement, side: Side, around: Iterable[Box] = ()) -> float:
    """Return how far a part reaches from its axis on one side, millimetres; 0 where nothing of it shows.

    Counted are its holes, what lies on the panel, the knob at its largest diameter, so that a label
    clears the knob however it is turned, and the boxes `around` it (scale marks, numbers). A leaning
    lever is not counted: it swings.
    """
    reaches = [part.knob.diameter_mm / 2] if part.knob is not None else [0.0]
    towards = on_face(TOWARDS[side], (0.0, 0.0), part.rotation_deg)  # in the part's own frame: turned back is the same
    reaches += [_reach(hole.outline, hole.at, hole.rotation_deg, towards) for hole in part.kind.cutouts]
    for solid in part.kind.above:
        if not isinstance(solid, Turned):
            reaches.append(_reach(solid.outline, solid.at, solid.rotation_deg, towards))
        elif not solid.tilt_deg:
            widest = max(radius for radius, _ in solid.profile)
            reaches.append(float(towards @ solid.at) + widest)
    du, dv = TOWARDS[side]
    for left, top, right, bottom in around:
        reaches += [(u - part.u_mm) * du + (v - part.v_mm) * dv for u in (left, right) for v in (top, bottom)]
    return max(reaches)


def centre(part: Placement, side: Side, gap_mm: float, extent: tuple[float, float]) -> Point:
    """Return (u, v) of the middle of a label beside a part, `gap_mm` from an edge `reach` has found.

    `gap_mm` counts from the part's axis; `extent` is the label's size across and down as it lies.
    """
    right, down = TOWARDS[side]
    away = gap_mm + (extent[0] if right else extent[1]) / 2
    return part.u_mm + right * away, part.v_mm + down * away


def _reach(outline: Outline, at: Point, rotation_deg: float, towards: Floats) -> float:
    own = towards @ axes(rotation_deg)
    return float(towards @ at) + float((polygon(outline) @ own).max())
