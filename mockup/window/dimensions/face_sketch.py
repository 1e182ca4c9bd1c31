"""A face of the box drawn from outside, with the holes in it and a part's place measured from all four edges."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mockup.model.design import Placement
from mockup.model.enclosure import Face
from mockup.window.dimensions.sketch import Dimension, Hole, Side, Sketch, Stroke, line

EDGES: tuple[Side, ...] = ("left", "right", "top", "bottom")


def outline(face: Face) -> Stroke:
    """Return a face's sharp outline."""
    low = face.height_mm
    corners = ((0.0, 0.0), (face.width_mm, 0.0), (face.right_edge(low), low), (face.left_edge(low), low))
    return Stroke(points=corners, is_closed=True)


def holes(parts: Iterable[Placement], picked: Sequence[str] = ()) -> tuple[Hole, ...]:
    """Return the hole of each part that has one, those of the picked parts filled."""
    return tuple(
        Hole(
            at=(part.u_mm, part.v_mm),
            radius_mm=part.kind.cutouts[0].outline.width_mm / 2,
            is_picked=part.name in picked,
        )
        for part in parts
        if part.kind.cutouts
    )


def place_sketch(
    face: Face, at: tuple[float, float], parts: Sequence[Placement], picked: str, kept: Iterable[str],
    more: Sequence[Dimension] = (),
) -> Sketch:  # fmt: skip
    """Return a face with one part's place at (u, v) measured from its four edges.

    `parts` are those on this face; `kept` names the edges that the layout measures from. `more` are numbers without a
    line that stand below.
    """
    u, v = at
    ends = {
        "left": ((face.left_edge(v), v), (u, v)),
        "right": ((u, v), (face.right_edge(v), v)),
        "top": ((u, 0.0), (u, v)),
        "bottom": ((u, v), (u, face.height_mm)),
    }
    values = {
        "left": u - face.left_edge(v), "right": face.right_edge(v) - u, "top": v, "bottom": face.height_mm - v,
    }  # fmt: skip
    others = tuple(part for part in parts if part.name != picked)
    radius = next((hole.radius_mm for hole in holes(part for part in parts if part.name == picked)), 1.0)
    middle = face.width_mm / 2
    return Sketch(
        strokes=(outline(face), line((middle, 0.0), (middle, face.height_mm), "chain")),
        holes=(*holes(others), Hole(at=at, radius_mm=radius, is_picked=True)),
        dimensions=(
            *(
                Dimension(
                    name=edge, side=edge, value=values[edge], start=ends[edge][0], end=ends[edge][1],
                    is_kept=edge in set(kept),
                )
                for edge in EDGES
            ),
            *more,
        ),
    )  # fmt: skip
