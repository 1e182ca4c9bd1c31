"""The art that a new project starts with: waves, a moon round the lamp, and each control's name."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mockup import fonts
from mockup.decal.vector import draw
from mockup.model.design import Design, Placement
from mockup.model.enclosure import faces

WIDTH_MM, HEIGHT_MM, DPI = 54.0, 104.0, 600.0
INK, ACCENT = "#10283a", "#a5342a"
TRAVEL_DEG = 150.0  # a pointer's reach to either side of 12 o'clock: common practice, no source


def starter_art(design: Design) -> NDArray[np.uint8]:
    """Return art for the top face, pixels (h, w, 4), made to fit where the design's parts are.

    It is `WIDTH_MM` by `HEIGHT_MM` at `DPI`, meant to lie centred on the flat of the top.
    """
    face = faces(design.enclosure)["top"]
    left, top, right, bottom = face.flat
    shift = ((left + right - WIDTH_MM) / 2, (top + bottom - HEIGHT_MM) / 2)
    parts = [part for part in design.parts if part.face == "top"]
    marks = [
        _frame(),
        *(mark for part in parts for mark in _legend(part, shift)),
        *_sea(parts, shift),
        _title(design.name),
    ]
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH_MM}mm" height="{HEIGHT_MM}mm" '
        f'viewBox="0 0 {WIDTH_MM} {HEIGHT_MM}" font-family="{fonts.FAMILY}" font-weight="{fonts.WEIGHTS[True]}">'
        f"{''.join(marks)}</svg>"
    )
    with fonts.paths() as files:
        return draw(svg.encode(), "starter art", dpi=DPI, fonts=(str(files[True]),)).pixels


def _frame() -> str:
    inset = 1.2
    return (
        f'<rect x="{inset}" y="{inset}" width="{WIDTH_MM - 2 * inset}" height="{HEIGHT_MM - 2 * inset}" rx="4" '
        f'fill="none" stroke="{INK}" stroke-width="0.45"/>'
    )


def _legend(part: Placement, shift: tuple[float, float]) -> list[str]:
    x, y = part.u_mm - shift[0], part.v_mm - shift[1]
    if part.knob is not None:
        radius = part.knob.diameter_mm / 2 + 1.2
        ticks = []
        for step in range(11):
            angle = math.radians(TRAVEL_DEG * (step / 5 - 1))
            (x1, y1), (x2, y2) = (
                (x + reach * math.sin(angle), y - reach * math.cos(angle))
                for reach in (radius, radius + (1.5 if step in (0, 10) else 0.9))
            )
            ticks.append(f"M{x1:.3f} {y1:.3f}L{x2:.3f} {y2:.3f}")
        return [
            f'<path d="{"".join(ticks)}" stroke="{INK}" stroke-width="0.35" stroke-linecap="round"/>',
            _text(part.name, x, y + radius + 4.2, 2.9, INK),
        ]
    if part.lamp is not None:
        rings = "".join(
            f'<circle cx="{x:.3f}" cy="{y:.3f}" r="{radius}" fill="none" stroke="{ACCENT}" stroke-width="{width}"/>'
            for radius, width in ((6.3, 0.5), (7.5, 0.35), (8.6, 0.25))
        )
        return [rings]
    return []


def _sea(parts: list[Placement], shift: tuple[float, float]) -> list[str]:
    """Return waves that grow towards the player and part around the hardware."""
    islands = [
        (part.u_mm - shift[0], part.v_mm - shift[1], 9.6 if part.lamp is not None else 11.6)
        for part in parts
        if part.knob is None
    ]
    rows = []
    for row in range(11):
        y = 55.5 + 3.9 * row
        height, length = 0.35 + 0.07 * row, 4.4 + 0.35 * row
        path, is_drawing = "", False
        for step in range(461):
            x = 4.0 + 0.1 * step
            at = y + height * math.sin(math.tau * x / length + 1.1 * row)
            is_open = all(math.hypot(x - u, at - v) > radius for u, v, radius in islands)
            if is_open:
                path += f"{'L' if is_drawing else 'M'}{x:.2f} {at:.3f}"
            is_drawing = is_open
        rows.append(
            f'<path d="{path}" fill="none" stroke="{INK}" stroke-width="{0.25 + 0.045 * row:.3f}" '
            'stroke-linecap="round" stroke-linejoin="round"/>'
        )
    return rows


def _title(name: str) -> str:
    size = min(3.2, 62.0 / max(1, len(name)))  # stays inside the frame, however long the name
    return _text(name.upper(), WIDTH_MM / 2, HEIGHT_MM - 2.9, size, INK, 0.5)


def _text(text: str, x: float, y: float, size: float, fill: str, spacing: float = 0.15) -> str:
    safe = text.replace("&", "&amp;").replace("<", "&lt;")
    return (
        f'<text x="{x:.3f}" y="{y:.3f}" font-size="{size:.3f}" text-anchor="middle" letter-spacing="{spacing}" '
        f'fill="{fill}">{safe}</text>'
    )
