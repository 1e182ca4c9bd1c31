"""Lantern Moth's art: a moth that flies from the reeds to a lamp, 1420 x 2660 px at 600 dpi."""

from __future__ import annotations

import math

from press import lettering, print_ready, scale_marks, sheet

WIDTH_PX, HEIGHT_PX, DPI = 1420, 2660, 600
WIDTH_MM, HEIGHT_MM = WIDTH_PX / DPI * 25.4, HEIGHT_PX / DPI * 25.4  # 60.1 x 112.6
INDIGO, RUST, OCHRE = "#252a5c", "#a8401c", "#c98a1b"
CX, CY = WIDTH_MM / 2, HEIGHT_MM / 2  # the face's centre; everything is placed from there


def draw() -> dict[str, bytes]:
    """Return the art file of this example."""
    marks = [*_reeds(), *_flight(), *_controls(), *_lamp(0, 0.9), *_moth(0, 18.0), *_title()]
    body = f'<g transform="translate({CX} {CY})">' + "".join(marks) + "</g>"
    svg = sheet(WIDTH_MM, HEIGHT_MM, [body])
    return {"art.png": print_ready(svg, WIDTH_PX, HEIGHT_PX, DPI)}


def _reeds() -> list[str]:
    """Blades of reed in both near corners, taller towards the sides, a few with a seed head."""
    blades, heads = "", ""
    for i in range(13):
        foot = 12.0 + 1.32 * i
        height, lean = 3.0 + 0.56 * i + 1.9 * math.sin(2.4 * i), 1.5 * math.sin(1.9 * i + 0.6)
        for side in (-1, 1):
            x, tip = side * foot, (side * (foot + lean * 0.7), 55.0 - height)
            blades += f"M{x - 0.34:.2f} 55Q{x:.2f} {55 - 0.6 * height:.2f} {tip[0]:.2f} {tip[1]:.2f}"
            blades += f"Q{x + 0.5:.2f} {55 - 0.5 * height:.2f} {x + 0.34:.2f} 55Z"
            if i % 4 == 2:
                heads += f'<ellipse cx="{tip[0]:.2f}" cy="{tip[1]:.2f}" rx="0.55" ry="1.5" fill="{RUST}"/>'
    return [f'<path d="{blades}" fill="{INDIGO}"/>', heads]


def _flight() -> list[str]:
    """The way the moth came: dots that rise on both sides and curl in to the lamp."""
    dots = []
    for i in range(19):
        t = i / 18
        a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3
        x, y = 27.4 * a + 30 * b + 16 * c + 9.2 * d, 5.6 * a - 12 * b - 14.5 * c - 1.5 * d
        dots += [
            f'<circle cx="{side * x:.2f}" cy="{y:.2f}" r="{0.42 - 0.2 * t:.3f}" fill="{RUST}"/>' for side in (-1, 1)
        ]
    return ["".join(dots)]


def _controls() -> list[str]:
    marks = []
    for text, x, y in (("FLUTTER", -17.5, -42.0), ("HOVER", 17.5, -42.0), ("GLOW", 0.0, -24.0)):
        marks.append(scale_marks(x, y, 8.4, length=1.1, stroke=INDIGO))
        marks.append(lettering(text, x, y + 12.3, 2.2, fill=INDIGO, spacing=0.35))
    marks.append(lettering("SLOW", 0, -52.3, 1.5, face="medium", fill=RUST, spacing=0.25))
    marks.append(lettering("QUICK", 0, -38.0, 1.5, face="medium", fill=RUST, spacing=0.25))
    return marks


def _lamp(x: float, y: float) -> list[str]:
    """Rays round the lamp, long and short by turns."""
    rays = []
    for i in range(32):
        angle = math.tau * i / 32
        near, far = 5.2, (7.8, 6.2, 6.9, 6.2)[i % 4]
        rays.append(
            f"M{x + near * math.sin(angle):.3f} {y - near * math.cos(angle):.3f}"
            f"L{x + far * math.sin(angle):.3f} {y - far * math.cos(angle):.3f}"
        )
    return [
        f'<path d="{"".join(rays)}" stroke="{OCHRE}" stroke-width="0.45" stroke-linecap="round"/>',
        f'<circle cx="{x}" cy="{y}" r="4.6" fill="none" stroke="{RUST}" stroke-width="0.35"/>',
    ]


def _moth(x: float, y: float) -> list[str]:
    """One wing pair drawn and mirrored; what is left unprinted shows the paint."""
    fore = "M0.6 -3.2C6 -9.5 17 -12.2 25.2 -9.8C25.6 -6.2 23 -1.6 19.2 1.2C13.5 4.6 6 4.2 1 1.4Z"
    hind = "M1 1.6C6.5 4.6 13 5 18.2 2.6C19 6.6 16 11.2 11.4 12.2C7 13 3 9.4 1 5Z"
    wing = [
        f'<path d="{hind}" fill="{RUST}"/>',
        f'<path d="{fore}" fill="{INDIGO}"/>',
        '<path d="M3 -3.6C9 -8.2 16 -9.8 23 -8.4M2.6 -1.2C9 -4 16 -5.6 22.4 -4.6M2.6 0.8C8 0.6 14 0 19.6 -1.4" '
        'stroke="#fff" stroke-width="0.28" fill="none" stroke-linecap="round"/>',
        '<circle cx="14.6" cy="-4.4" r="3.3" fill="#fff"/>',
        f'<circle cx="14.6" cy="-4.4" r="2.5" fill="{OCHRE}"/><circle cx="14.6" cy="-4.4" r="1.35" fill="{INDIGO}"/>',
        '<path d="M3 3.6C7 6 12.6 6.4 17.4 4.6" stroke="#fff" stroke-width="0.25" fill="none"/>',
        f'<circle cx="10.4" cy="7" r="2.3" fill="#fff"/><circle cx="10.4" cy="7" r="1.55" fill="{INDIGO}"/>',
    ]
    wing += [
        f'<circle cx="{20.6 - 1.75 * i:.2f}" cy="{0.1 + 0.95 * i - 0.12 * i * i:.2f}" r="0.34" fill="#fff"/>'
        for i in range(7)
    ]
    feeler = f'<path d="M0.7 -5.2C2.4 -9 5.6 -11.4 9.4 -12.6" stroke="{INDIGO}" stroke-width="0.4" fill="none" stroke-linecap="round"/>'
    combs = "".join(
        f"M{1.2 + 8 * t:.2f} {-6 - 6.6 * t**0.8:.2f}l{0.5 + 0.7 * (1 - t):.2f} {0.9 * (1 - 0.5 * t):.2f}"
        for t in (i / 9 for i in range(10))
    )
    wing += [feeler, f'<path d="{combs}" stroke="{INDIGO}" stroke-width="0.25"/>']
    body = [
        f'<ellipse cx="0" cy="-3.6" rx="1.9" ry="2.3" fill="{INDIGO}"/>',
        f'<path d="M-1.7 -2C-2.1 4 -1.2 9.6 0 11.8C1.2 9.6 2.1 4 1.7 -2Z" fill="{INDIGO}"/>',
        *(
            f'<path d="M{-1.55 + 0.1 * i:.2f} {0.6 + 1.7 * i:.2f}Q0 {1.5 + 1.7 * i:.2f} {1.55 - 0.1 * i:.2f} {0.6 + 1.7 * i:.2f}" '
            f'stroke="{OCHRE}" stroke-width="0.42" fill="none"/>'
            for i in range(5)
        ),
    ]
    half = "".join(wing)
    return [f'<g transform="translate({x} {y})">{half}<g transform="scale(-1 1)">{half}</g>{"".join(body)}</g>']


def _title() -> list[str]:
    return [
        lettering("Lantern Moth", 0, 35.3, 4.6, face="hand", fill=INDIGO, spacing=0.3),
        lettering("PHASER", -18.2, 41.4, 1.5, face="medium", fill=RUST, spacing=0.6),
        lettering("AT DUSK", 18.2, 41.4, 1.5, face="medium", fill=RUST, spacing=0.6),
    ]
