"""Whether a box can be made at all."""

from __future__ import annotations

from mockup.model.enclosure import Enclosure


def shell_problem(box: Enclosure) -> str | None:
    """Return one plain sentence that says why the box is impossible, or None where it is sound."""
    if 2 * box.wall_mm >= min(box.width_mm, box.length_mm):
        return "the walls fill the whole box"
    if box.lid_mm + box.top_mm >= box.height_mm:
        return "lid and top are thicker than the box is high"
    if box.corner_mm <= box.inset_mm(box.height_mm) + box.edge_mm:
        return "the vertical corners are too sharp for the rounding of the top edge"
    if 2 * box.corner_mm >= min(box.width_mm, box.length_mm):
        return "the vertical corners are rounder than the box is wide"
    return None
