"""Where something lies on a face, from what a ruler reads.

A ruler is held against the face, looking straight at it. Across, it starts at the edge of the
face at the thing's own height, which on a drafted side differs from its height at the top.
"""

from __future__ import annotations

from mockup.model.enclosure import Face
from mockup.model.shape import Outline, turned


def centre(
    face: Face,
    extent: tuple[float, float] | None = None,
    *,
    left: float | None = None,
    right: float | None = None,
    top: float | None = None,
    bottom: float | None = None,
) -> tuple[float, float]:
    """Return (u, v) of something's centre, from millimetres to the face's edges.

    A part, which has no `extent`, is measured to its centre; no side given = half-way. A decal is measured to its own
    edges; `extent` is its size across and down as it lies, turned, and no side given = middle of the flat. Across, the
    ruler is held at the height of its middle.
    """
    across, down = extent or (0.0, 0.0)
    first_u, first_v, last_u, last_v = face.flat if extent else (0.0, 0.0, face.width_mm, face.height_mm)
    v = (first_v + last_v) / 2
    if top is not None:
        v = top + down / 2
    elif bottom is not None:
        v = face.height_mm - bottom - down / 2
    u = (first_u + last_u) / 2
    if left is not None:
        u = face.left_edge(v) + left + across / 2
    elif right is not None:
        u = face.right_edge(v) - right - across / 2
    return u, v


def reach(outline: Outline, rotation_deg: float) -> tuple[float, float]:
    """Return how far a hole reaches across and down; of a hexagon or a d the circle inside it."""
    if outline.kind == "rectangle":
        return turned(outline.width_mm, outline.height_mm, rotation_deg)
    if outline.kind == "slot":
        across, down = turned(outline.width_mm - outline.height_mm, 0.0, rotation_deg)
        return across + outline.height_mm, down + outline.height_mm
    size = min(outline.width_mm, outline.height_mm) if outline.kind == "d" else outline.width_mm
    return size, size


def size_on_film(
    pixels: tuple[int, int],
    width_mm: float | None,
    height_mm: float | None,
    mm_per_px: tuple[float, float] | None,
) -> tuple[float, float] | None:
    """Return the printed (width, height) in millimetres, or None where nothing says how large it is.

    Both given: as given. One given: the other by the proportion of the pixels. None: from the
    resolution, `mm_per_px` across and down.
    """
    across, down = pixels
    if width_mm is not None and height_mm is not None:
        return width_mm, height_mm
    if width_mm is not None:
        return width_mm, width_mm * down / across
    if height_mm is not None:
        return height_mm * across / down, height_mm
    if mm_per_px is not None:
        return across * mm_per_px[0], down * mm_per_px[1]
    return None
