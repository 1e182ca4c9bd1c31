"""The art that a new project starts with: beams from the lamp, a scale and a name for each knob, the title."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mockup import fonts
from mockup.decal.pictures.vector import draw
from mockup.model.design import Design, Placement
from mockup.model.enclosure import faces

WIDTH_MM, HEIGHT_MM, DPI = 54.0, 104.0, 600.0
INK, ACCENT = "#10283a", "#a5342a"
BEAMS = 64  # round the lamp: our choice
FIELD = (2.5, 55.5, WIDTH_MM - 2.5, HEIGHT_MM - 8.0)  # left, top, right, bottom that beams keep inside: our choice
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
        *(mark for part in parts for mark in _legend(part, shift)),
        *_beams(parts, shift),
        _title(design.name),
    ]
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH_MM}mm" height="{HEIGHT_MM}mm" '
        f'viewBox="0 0 {WIDTH_MM} {HEIGHT_MM}" font-family="{fonts.FAMILY}" font-weight="{fonts.WEIGHTS[True]}">'
        f"{''.join(marks)}</svg>"
    )
    with fonts.paths() as files:
        return draw(svg.encode(), "starter art", dpi=DPI, fonts=(str(files[True]),)).pixels


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


def _beams(parts: list[Placement], shift: tuple[float, float]) -> list[str]:
    """Return straight beams that leave each lamp, long and short by turns, and stop at the hardware in their way."""
    spots = [(part, part.u_mm - shift[0], part.v_mm - shift[1]) for part in parts]
    stops = [(x, y, 11.6) for part, x, y in spots if part.lamp is None and part.knob is None]
    lines = []
    for x, y in ((x, y) for part, x, y in spots if part.lamp is not None):
        for beam in range(BEAMS):
            angle = math.tau * beam / BEAMS
            across, down = math.sin(angle), -math.cos(angle)
            near, far = 10.4, _reach((x, y), (across, down), stops)
            far = near + (far - near) * (1.0, 0.45, 0.75, 0.45)[beam % 4]
            if far > near + 1.0:
                ends = (f"{x + reach * across:.2f} {y + reach * down:.2f}" for reach in (near, far))
                colour, width = (ACCENT, 0.7) if beam % 4 == 0 else (INK, 0.4)
                lines.append(
                    f'<path d="M{"L".join(ends)}" stroke="{colour}" stroke-width="{width}" stroke-linecap="round"/>'
                )
    return lines


def _reach(start: tuple[float, float], along: tuple[float, float], stops: list[tuple[float, float, float]]) -> float:
    """Return how far a beam runs before it leaves the field or meets a round stop (x, y, radius), mm."""
    reach = 0.0
    while True:
        x, y = start[0] + (reach + 0.1) * along[0], start[1] + (reach + 0.1) * along[1]
        is_inside = FIELD[0] < x < FIELD[2] and FIELD[1] < y < FIELD[3]
        if not is_inside or any(math.hypot(x - u, y - v) < radius for u, v, radius in stops):
            return reach
        reach += 0.1


def _title(name: str) -> str:
    size = min(3.2, 62.0 / max(1, len(name)))  # stays on the film, however long the name
    return _text(name.upper(), WIDTH_MM / 2, HEIGHT_MM - 2.9, size, INK, 0.5)


def _text(text: str, x: float, y: float, size: float, fill: str, spacing: float = 0.15) -> str:
    safe = text.replace("&", "&amp;").replace("<", "&lt;")
    return (
        f'<text x="{x:.3f}" y="{y:.3f}" font-size="{size:.3f}" text-anchor="middle" letter-spacing="{spacing}" '
        f'fill="{fill}">{safe}</text>'
    )
