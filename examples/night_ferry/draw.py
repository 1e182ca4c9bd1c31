"""Night Ferry's art: a lit boat between two shores, and a name strip for the near side."""

from __future__ import annotations

import math

from press import lettering, print_ready, scale_marks, sheet

WIDTH_MM, HEIGHT_MM, DPI = 112.0, 87.0, 600
STRIP_W, STRIP_H = 70.0, 14.0
NAVY, RED, GOLD, TEAL = "#10243f", "#b3202c", "#e0a31c", "#1d5f66"


def draw() -> dict[str, bytes]:
    """Return both art files of this example."""
    marks = [*_controls(), *_water(), *_ferry(0, 0.4), *_feet()]
    body = f'<g transform="translate({WIDTH_MM / 2} {HEIGHT_MM / 2})">' + "".join(marks) + "</g>"
    top = sheet(WIDTH_MM, HEIGHT_MM, [body])
    strip = sheet(STRIP_W, STRIP_H, _strip())
    return {
        "art.png": print_ready(top, round(WIDTH_MM / 25.4 * DPI), round(HEIGHT_MM / 25.4 * DPI), DPI),
        "strip.png": print_ready(strip, round(STRIP_W / 25.4 * DPI), round(STRIP_H / 25.4 * DPI), DPI),
    }


def _controls() -> list[str]:
    marks = []
    for text, x in (("TIME", -44.0), ("ECHO", -26.0), ("DRIFT", 26.0), ("LEVEL", 44.0)):
        marks.append(scale_marks(x, -26.0, 7.6, length=1.0, stroke=NAVY))
        marks.append(lettering(text, x, -13.2, 2.1, fill=NAVY, spacing=0.3))
    marks.append(lettering("CALM", -5.6, -19.6, 1.5, face="medium", fill=RED, spacing=0.15))
    marks.append(lettering("SWELL", 5.9, -19.6, 1.5, face="medium", fill=RED, spacing=0.15))
    marks.append(lettering("TIDE", 0, -15.2, 2.1, fill=NAVY, spacing=0.3))
    return marks


def _water() -> list[str]:
    """Still water: straight strokes of the boat's lights and its shadow, shorter and sparser towards the player."""
    rows = []
    for row in range(7):
        y, reach = 8.6 + 1.55 * row, 47.0 - 4.6 * row
        step, share = 6.2 + 0.9 * row, 0.74 - 0.07 * row
        starts = [-reach + step * i + 1.9 * math.sin(2.1 * row) for i in range(round(2 * reach / step))]
        d = "".join(f"M{x:.2f} {y:.2f}h{step * share:.2f}" for x in starts)
        colour = (TEAL, NAVY, GOLD, NAVY, TEAL, GOLD, TEAL)[row]
        rows.append(f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="0.6" stroke-linecap="round"/>')
    return rows


def _ferry(x: float, y: float) -> list[str]:
    ports = "".join(
        f'<rect x="{-17.5 + 4.2 * i:.1f}" y="-1.6" width="2.3" height="1.7" rx="0.3" fill="{GOLD}"/>' for i in range(9)
    )
    upper = "".join(
        f'<rect x="{-11 + 3.4 * i:.1f}" y="-5.6" width="1.9" height="1.5" rx="0.25" fill="{GOLD}"/>' for i in range(6)
    )
    hull = (
        f'<path d="M-26 1.4H27.5L22.5 6.4H-21.8Z" fill="{RED}"/>'
        f'<path d="M-21.5 1.4V-2.6H21.5V1.4Z" fill="{NAVY}"/><path d="M-13.5 -3.2V-6.6H12V-3.2Z" fill="{NAVY}"/>'
        f'<path d="M-3 -7.2V-11H3.4L2.6 -7.2Z" fill="{RED}"/><path d="M-3 -10V-11H3.4L3.2 -10Z" fill="{NAVY}"/>'
    )
    smoke = f'<path d="M1.5 -11.8C4.5 -13.4 8 -12 11 -13.2" stroke="{NAVY}" stroke-width="0.5" fill="none" stroke-linecap="round"/>'
    return [f'<g transform="translate({x} {y})">{hull}{ports}{upper}{smoke}</g>']


def _feet() -> list[str]:
    return [
        lettering("BYPASS", -30.5, 39.8, 1.9, fill=NAVY, spacing=0.35),
        lettering("HOLD", 30.5, 39.8, 1.9, fill=NAVY, spacing=0.35),
        lettering("Night Ferry", 0, 31.8, 5.4, face="hand", fill=NAVY, spacing=0.3),
        lettering("ECHO & DRIFT", 0, 36.6, 1.6, face="medium", fill=RED, spacing=0.5),
    ]


def _strip() -> list[str]:
    stripes = "".join(
        f'<rect x="0" y="{y}" width="{STRIP_W}" height="{h}" fill="{c}"/>'
        for y, h, c in ((0, 1.2, RED), (12.8, 1.2, RED), (1.7, 0.4, NAVY), (11.9, 0.4, NAVY))
    )
    return [
        stripes,
        lettering("THE LAST BOAT LEAVES AT MIDNIGHT", STRIP_W / 2, 8.0, 2.1, fill=NAVY, spacing=0.22),
    ]
