"""Copper Kettle's art: rising steam in one black ink, kept as an SVG drawn in inches."""

from __future__ import annotations

import math

from press import lettering, scale_marks

WIDTH_IN, HEIGHT_IN = 2.1, 4.1
MM = 25.4
INK = "#14100d"
CX, CY = WIDTH_IN * MM / 2, HEIGHT_IN * MM / 2  # the face's centre in millimetres


def draw() -> dict[str, bytes]:
    """Return the art file of this example."""
    marks = [_border(), *_controls(), _steam(), *_kettle(0, 17.0), *_title()]
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH_IN}in" height="{HEIGHT_IN}in" '
        f'viewBox="0 0 {WIDTH_IN * MM:.4f} {HEIGHT_IN * MM:.4f}">\n'
        f'<g transform="translate({CX:.4f} {CY:.4f})">\n' + "\n".join(marks) + "\n</g>\n</svg>\n"
    )
    return {"art.svg": svg.encode()}


def _border() -> str:
    w, h = 49.6, 100.4
    corners = "".join(
        f'<path d="M{sx * (w / 2 - 6)} {sy * h / 2}A6 6 0 0 {1 if sx * sy > 0 else 0} {sx * w / 2} {sy * (h / 2 - 6)}" '
        f'fill="none" stroke="{INK}" stroke-width="0.35"/>'
        for sx in (-1, 1)
        for sy in (-1, 1)
    )
    return f'<rect x="{-w / 2}" y="{-h / 2}" width="{w}" height="{h}" rx="1.2" fill="none" stroke="{INK}" stroke-width="0.6"/>{corners}'


def _controls() -> list[str]:
    marks = []
    for text, x, y, radius in (("HEAT", -13.74, -34.0, 8.7), ("WHISTLE", 13.74, -34.0, 8.7)):
        marks.append(scale_marks(x, y, radius, ticks=11, length=1.0, stroke=INK))
        marks.append(lettering(text, x, y + 14.2, 2.0, fill=INK, spacing=0.3))
    return marks


def _steam() -> str:
    """Return a fan of rising curls, each a sine that widens upward."""
    paths = []
    for i in range(-4, 5):
        points = []
        for step in range(41):
            t = step / 40
            y = 7.2 - 23.4 * t
            x = i * (0.9 + 4.0 * t) + 1.5 * t * math.sin(2.2 * math.pi * t + i * 0.9)
            points.append(f"{x:.3f} {y:.3f}")
        width = 0.75 - 0.09 * abs(i)
        paths.append(
            f'<path d="M{"L".join(points)}" fill="none" stroke="{INK}" stroke-width="{width:.2f}" stroke-linecap="round"/>'
        )
    return "".join(paths)


def _kettle(x: float, y: float) -> list[str]:
    return [
        f'<g transform="translate({x} {y})" fill="{INK}">'
        '<path d="M-9.5 8.5C-12.6 4 -11.2 -3.2 -6.2 -5.6L6.2 -5.6C11.2 -3.2 12.6 4 9.5 8.5Z"/>'
        '<path d="M-9.9 -1.6C-13.6 -2 -15.2 -4.6 -16.6 -7.4L-14.2 -8.4C-13.2 -5.6 -11.6 -4.4 -8.6 -4.4Z"/>'
        '<path d="M-5.2 -6.4H5.2L4.2 -8.2H-4.2Z"/><circle cx="0" cy="-9.4" r="1.15"/>'
        '<path d="M-8 -4.6C-8.4 -14.4 8.4 -14.4 8 -4.6" fill="none" stroke="#14100d" stroke-width="1.1"/>'
        '<path d="M-8.2 4.8C-8.8 1.6 -7.6 -1.4 -5 -3" fill="none" stroke="#fff" stroke-width="0.6" stroke-linecap="round"/>'
        "</g>"
    ]


def _title() -> list[str]:
    return [
        lettering("COPPER KETTLE", 0, 30.2, 2.4, fill=INK, spacing=0.45),
        lettering("WARM", -17.2, 42.0, 1.6, face="medium", fill=INK, spacing=0.4),
        lettering("DRIVE", 17.2, 42.0, 1.6, face="medium", fill=INK, spacing=0.4),
    ]
