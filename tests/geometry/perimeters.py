"""Exact lengths of outlines, for tests: plane geometry by hand."""

from __future__ import annotations

import math

from mockup.model.shape import Outline


def perimeter(outline: Outline) -> float:
    """Return the exact length of an outline, millimetres."""
    width, height, radius = outline.width_mm, outline.height_mm, outline.width_mm / 2
    if outline.kind == "circle":
        return math.pi * width
    if outline.kind == "hexagon":
        return 2 * math.sqrt(3) * width
    if outline.kind == "rectangle":
        return 2 * (width + height) - (8 - 2 * math.pi) * outline.corner_mm
    if outline.kind == "slot":
        return 2 * (width - height) + math.pi * height
    flat = height - radius
    return 2 * radius * (math.pi - math.acos(flat / radius)) + 2 * math.sqrt(radius**2 - flat**2)
