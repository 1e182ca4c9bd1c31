"""The gallery's art: twelve pedals of our own invention, one motif each, drawn where their layouts put the parts.

Run ``python examples/gallery/draw.py`` to draw all of it again.
"""

from __future__ import annotations

import math
import re
import sys
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from press import lettering, sheet  # noqa: E402  # the examples are scripts, not a package

from mockup.enclosure.sizes import SIZES  # noqa: E402
from mockup.model.enclosure import faces  # noqa: E402

Place = tuple[float, float]
_LONG = re.compile(r"-?\d+\.\d{3,}")


def draw() -> dict[str, bytes]:
    """Return every art file by its path under this folder."""
    return {f"{name}/art.svg": _art(name, motif).encode() for name, motif in MOTIFS.items()}


def _art(name: str, motif: Callable[[Board], list[str]]) -> str:
    board = Board(tomllib.loads((HERE / name / "layout.toml").read_text(encoding="utf-8")))
    marks = [*motif(board), *board.names()]
    body = f'<g transform="translate({board.width / 2:g} {board.height / 2:g})">\n' + "\n".join(marks) + "\n</g>"
    return _LONG.sub(lambda each: f"{float(each[0]):.2f}", sheet(board.width, board.height, [body]))


class Board:
    """A layout's top face: its size and where its parts are, in millimetres from the middle, y down."""

    def __init__(self, layout: dict[str, Any]) -> None:
        box = layout["box"]
        measured = {key: box[key] for key in ("width", "length") if key in box}
        size = SIZES[box["size"]]
        wide, long = measured.get("width", size.width_mm), measured.get("length", size.length_mm)
        face = faces(type(size)(**{**vars(size), "width_mm": wide, "length_mm": long}))["top"]
        self.width, self.height = math.floor(face.width_mm - 6.4), math.floor(face.height_mm - 6.4)
        self.parts: dict[str, Place] = {}
        self.radius: dict[str, float] = {}
        self.name = layout["name"]
        self.ink = layout.get("lettering", {}).get("colour", "#17130f")
        for part in layout["part"]:
            if part.get("face", "top") == "top":
                x = part["left"] - face.width_mm / 2 if "left" in part else 0.0
                x = face.width_mm / 2 - part["right"] if "right" in part else x
                y = part["top"] - face.height_mm / 2 if "top" in part else 0.0
                y = face.height_mm / 2 - part["bottom"] if "bottom" in part else y
                self.parts[part["name"]] = (x, y)
                self.radius[part["name"]] = part.get("knob", {}).get("diameter", 0.0) / 2

    def names(self) -> list[str]:
        """Return the knobs' names, each below its knob."""
        return [
            lettering(name, *self.below(name), 1.9, fill=self.ink, spacing=0.3)
            for name, radius in self.radius.items()
            if radius
        ]

    def below(self, name: str) -> Place:
        """Return where a knob's name stands: its baseline's middle."""
        x, y = self.parts[name]
        return x, y + self.radius[name] + 5.6

    def title(self, x: float, y: float, size: float, *, face: str = "hand", fill: str | None = None) -> str:
        """Return the pedal's name."""
        return lettering(self.name.upper(), x, y, size, face=face, fill=fill or self.ink, spacing=0.4)


def path(points: list[Place], *, stroke: str = "none", width: float = 0.4, fill: str = "none") -> str:
    """Return a line through points."""
    line = "L".join(f"{x:.2f} {y:.2f}" for x, y in points)
    return f'<path d="M{line}" stroke="{stroke}" stroke-width="{width}" fill="{fill}" stroke-linecap="round" stroke-linejoin="round"/>'


def circle(x: float, y: float, r: float, *, fill: str = "none", stroke: str = "none", width: float = 0.4) -> str:
    """Return a circle."""
    return f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{r:.2f}" fill="{fill}" stroke="{stroke}" stroke-width="{width}"/>'


def ground(board: Board, fill: str) -> str:
    """Return the whole sheet in one colour."""
    w, h = board.width, board.height
    return f'<rect x="{-w / 2}" y="{-h / 2}" width="{w}" height="{h}" fill="{fill}"/>'


def frame(board: Board, inset: float = 1.1, width: float = 0.5) -> str:
    """Return a rounded border."""
    w, h = board.width - 2 * inset, board.height - 2 * inset
    return f'<rect x="{-w / 2}" y="{-h / 2}" width="{w}" height="{h}" rx="3" fill="none" stroke="{board.ink}" stroke-width="{width}"/>'


def scattered(count: int, width: float, height: float) -> list[tuple[float, float, float]]:
    """Return evenly spread points (x, y, 0 to 1) about the middle (Roberts 2018, R2 sequence)."""
    g = 1.324717957244746  # real root of x^3 = x + 1
    return [
        ((i / g % 1 - 0.5) * width, (i / g**2 % 1 - 0.5) * height, i * 0.6180339887 % 1) for i in range(1, count + 1)
    ]


def slow_comet(b: Board) -> list[str]:
    """A comet over a night sky, printed whole on white film."""
    stars = [circle(x, y, 0.12 + 0.3 * s**4, fill="#f5ecd0") for x, y, s in scattered(90, b.width - 3, b.height - 3)]
    tail = [
        path([(4 - t * 0.7 + 7 * k, 3 - t * 0.5 - 4.4 * k * (1 - t / 44)) for t in range(0, 40, 2)],
             stroke=colour, width=0.9)
        for k, colour in ((-0.5, "#f2b25c"), (-0.25, "#f6d08a"), (0, "#fdf1cf"), (0.25, "#f6d08a"), (0.5, "#e98a5a"))
    ]  # fmt: skip
    head = [circle(5, 4, r, fill=c) for r, c in ((4.6, "#e98a5a"), (3.7, "#f6d08a"), (2.6, "#fff8e2"))]
    return [ground(b, "#1b2a52"), *stars, *tail, *head, b.title(0, 21.5, 7, fill="#f5ecd0")]


def paper_tiger(b: Board) -> list[str]:
    """Stripes that close in from both sides."""
    marks = []
    for i in range(9):
        y = -20 + 6.4 * i
        for side in (-1, 1):
            reach = 12 + 4 * math.sin(i * 1.7 + side)
            edge = side * (b.width / 2 - 0.9)
            tip = (edge - side * reach, y + 2.2)
            marks.append(
                f'<path d="M{edge:.2f} {y:.2f}Q{(edge + tip[0]) / 2:.2f} {y - 2.0:.2f} {tip[0]:.2f} {tip[1]:.2f}'
                f'Q{(edge + tip[0]) / 2:.2f} {y + 1.6:.2f} {edge:.2f} {y + 3.4:.2f}Z" fill="{b.ink}"/>'
            )
    return [*marks, b.title(0, 12, 6.6), lettering("GROWL", 0, 18, 1.8, fill=b.ink, spacing=1.4)]


def moss_engine(b: Board) -> list[str]:
    """Three gears in mesh."""

    def gear(x: float, y: float, teeth: int, turn: float) -> str:
        r = teeth * 0.55
        points = [
            (x + rr * math.cos(a), y + rr * math.sin(a))
            for k in range(teeth)
            for rr, a in ((r + d, turn + (k + f) * 2 * math.pi / teeth) for d, f in ((-0.7, 0), (0.7, 0.15), (0.7, 0.42), (-0.7, 0.57)))
        ]  # fmt: skip
        return path([*points, points[0]], stroke=b.ink, width=0.6) + circle(x, y, r * 0.35, stroke=b.ink, width=0.6)

    return [frame(b), gear(-9, -5, 20, 0.0), gear(9.6, -12.6, 16, 0.13), gear(8.6, 4.6, 14, 0.2), b.title(0, 20, 5.6)]


def salt_mill(b: Board) -> list[str]:
    """Grains that fall from the knob."""
    grains = [
        circle(x * (0.25 + 0.75 * (y / 20 + 0.5)), y + 1, 0.2 + 0.35 * s, fill=b.ink)
        for x, y, s in scattered(110, 26, 20)
    ]
    return [*grains, b.title(0, 17.5, 4.2)]


def velvet_anvil(b: Board) -> list[str]:
    """An anvil as a smith would cut it from sheet."""
    outline = "M-26 -2H24L30 -7H-18C-22 -7 -25 -5 -26 -2ZM-12 -2H12C9 3 8 5 8 9H16V14H-14V9H-6C-6 5 -8 2 -12 -2Z"
    sparks = [
        path([(20 + 5 * math.cos(a), -9 + 5 * math.sin(a)), (20 + 9 * math.cos(a), -9 + 9 * math.sin(a))],
             stroke="#f0d9a8", width=0.5)
        for a in (-2.6, -2.2, -1.8, -1.4, -1.0, -0.6)
    ]  # fmt: skip
    return [f'<path d="{outline}" fill="{b.ink}"/>', *sparks, b.title(0, 24.5, 7)]


def glass_orchard(b: Board) -> list[str]:
    """A row of round trees, each a few rings of clear colour."""
    marks = []
    for i, (x, colour) in enumerate(zip(range(-48, 49, 16), ("#3f8f6b", "#d8a13a", "#c2553f", "#5b7fb5", "#8a5a9a", "#3f8f6b", "#d8a13a"), strict=True)):  # fmt: skip
        y = 16 + 2.5 * math.sin(i * 2.1)
        marks += [path([(x, y + 7), (x, y + 17)], stroke="#4a3a2c", width=0.9)]
        marks += [
            f'<circle cx="{x}" cy="{y:.2f}" r="{r}" fill="{colour}" fill-opacity="0.38"/>' for r in (7.2, 5.2, 3.0)
        ]
    return [*marks, path([(-56, 33), (56, 33)], stroke=b.ink, width=0.4), b.title(0, -0.5, 7.2)]


def ember_rail(b: Board) -> list[str]:
    """Rails that run to a low sun."""
    rails = [path([(k * 3.2, 15), (k * 0.6, -11)], stroke=b.ink, width=0.7) for k in (-4, 4)]
    ties = [
        path([(-s * 15, y), (s * 15, y)], stroke=b.ink, width=1.5 * s)
        for s, y in ((0.2 + 0.8 * (t / 8) ** 1.6, -11 + 26 * (t / 8) ** 1.6) for t in range(9))
    ]
    sun = [path([(-r, -11), *((r * math.cos(math.pi - a), -11 - r * math.sin(a)) for a in (math.pi * k / 20 for k in range(21)))], stroke=b.ink, width=0.5) for r in (4, 5.5, 7, 8.5)]  # fmt: skip
    return [*rails, *ties, *sun, b.title(0, 22, 5.2)]


def pond_signal(b: Board) -> list[str]:
    """Rings on still water."""
    rings = [circle(-8, -3, 2.2 * k, stroke=b.ink, width=0.75 - 0.045 * k) for k in range(1, 12)]
    more = [circle(13, 7, 1.7 * k, stroke=b.ink, width=0.5) for k in range(1, 6)]
    clip = f'<clipPath id="in"><rect x="{-b.width / 2 + 2}" y="-17" width="{b.width - 4}" height="33"/></clipPath>'
    return [clip, '<g clip-path="url(#in)">', *rings, *more, "</g>", b.title(0, 22.5, 5.4)]


def quiet_storm(b: Board) -> list[str]:
    """Slanting rain out of three banks of cloud."""
    inks = ("#a3c4de", "#78a6cc", "#4a80b3", "#2f5c8f", "#23406b")
    rain = []
    for i, (x, y, _) in enumerate(scattered(120, b.width - 10, 15)):
        long = 2.4 + 0.7 * (i % 5)
        rain.append(
            f'<path d="M{x:.2f} {15.5 + y:.2f}l{-0.4 * long:.2f} {long:.2f}" stroke="{inks[i % 5]}" '
            f'stroke-width="{0.35 + 0.11 * (i % 5):.2f}" stroke-linecap="round"/>'
        )
    puffs = [
        (x + shift, r) for x in (-36, 1, 36) for shift, r in ((-9.5, 2.6), (-5, 4.2), (0.5, 5.4), (6, 3.9), (10, 2.3))
    ]
    cloud = "".join(f"M{x - r:.2f} 5A{r} {r} 0 0 1 {x + r:.2f} 5Z" for x, r in puffs)
    return [*rain, f'<path d="{cloud}" fill="#23406b"/>', b.title(0, -31, 6.4)]


def lemon_drum(b: Board) -> list[str]:
    """A drum cut across, seen as a lemon."""
    wedges = []
    for k in range(10):
        a, e = (k + 0.08) * math.pi / 5, (k + 0.92) * math.pi / 5
        wedges.append(
            f'<path d="M{1.6 * math.cos((a + e) / 2):.2f} {10 + 1.6 * math.sin((a + e) / 2):.2f}'
            f'L{13 * math.cos(a):.2f} {10 + 13 * math.sin(a):.2f}A13 13 0 0 1 {13 * math.cos(e):.2f} {10 + 13 * math.sin(e):.2f}Z" fill="#d9402b"/>'
        )
    return [*wedges, circle(0, 10, 15, stroke=b.ink, width=1.2), b.title(0, 31.5, 4.8)]


def night_market(b: Board) -> list[str]:
    """Strings of paper lanterns over a dark square, printed whole on white film."""
    marks = [ground(b, "#20242c")]
    for row, y in enumerate((-8.0, 4.0)):
        points = [(x, y + 5 * (1 - math.cos(x / 84 * 2 * math.pi)) / 2) for x in range(-84, 85, 4)]
        marks.append(path(points, stroke="#6f7785", width=0.4))
        for i, (x, top) in enumerate(points[1 + row :: 4]):
            colour = ("#f08a4b", "#f4c95d", "#d9576b", "#7fc8b0")[(i + row) % 4]
            marks.append(f'<ellipse cx="{x}" cy="{top + 4.2:.2f}" rx="3" ry="3.6" fill="{colour}"/>')
            marks.append(path([(x - 3, top + 4.2), (x + 3, top + 4.2)], stroke="#20242c", width=0.25))
    return [*marks, b.title(0, -42, 5.4, fill="#f6ead0")]


def chalk_river(b: Board) -> list[str]:
    """A river between contour lines."""
    lines = [
        path([(9 * math.sin(y / 9 + k * 0.22) + 3.2 * k, y) for y in range(-20, 16)], stroke=b.ink, width=0.32)
        for k in range(-5, 6)
        if k
    ]
    return [*lines, b.title(0, 22, 5.8)]


MOTIFS: dict[str, Callable[[Board], list[str]]] = {
    "slow_comet": slow_comet,
    "paper_tiger": paper_tiger,
    "moss_engine": moss_engine,
    "salt_mill": salt_mill,
    "velvet_anvil": velvet_anvil,
    "glass_orchard": glass_orchard,
    "ember_rail": ember_rail,
    "pond_signal": pond_signal,
    "quiet_storm": quiet_storm,
    "lemon_drum": lemon_drum,
    "night_market": night_market,
    "chalk_river": chalk_river,
}


def main() -> None:
    """Draw all of it again."""
    for name, data in draw().items():
        (HERE / name).write_bytes(data)
        sys.stdout.write(f"gallery/{name} {len(data)} bytes\n")


if __name__ == "__main__":
    main()
