"""A marked-up picture: every finding numbered on the pedal, with its sentence beside.

Views lie below each other, each with its own findings to its right, joined by a leader. What no
place belongs to is listed at the end.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from importlib import resources
from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from PIL import ImageFont

from mockup.checks.report.rows import Row, figure, row, tally
from mockup.decal.vector import draw
from mockup.model.enclosure import Face, FaceName
from mockup.model.finding import Finding, Severity
from mockup.model.mesh import Floats
from mockup.model.scene import Camera
from mockup.model.units import Unit
from mockup.picture.close_looks import SIDE_PX, Closeup

VIEW_OF: dict[FaceName, str] = {"top": "above", "near": "near", "far": "far", "left": "left", "right": "right"}
"""The named view that looks straight at each face."""

FONT = "Manrope-{weight}.ttf"
PAPER, INK, FAINT = "#f4f2ec", "#20242b", "#6d7178"
COLOURS: dict[Severity, str] = {"stop": "#c4261d", "warn": "#b96a00", "note": "#33689c"}
WORDS: dict[Severity, str] = {"stop": "STOP", "warn": "WARNING", "note": "NOTE"}
# Sizes in pixels: our taste, common practice, no source.
EDGE, LEGEND, GAP = 36, 640, 56
TEXT, LINE, SMALL = 17.0, 22.0, 13.5
DISC, INDENT = 13.0, 36


@dataclass(frozen=True, kw_only=True, eq=False)
class Sight:
    """One rendered view of the pedal: `pixels` (h, w, 3 or 4) uint8, seen through `camera`, of one face."""

    face: Face
    pixels: NDArray[np.uint8]
    camera: Camera


@dataclass(frozen=True, kw_only=True)
class _Entry:
    """One finding in the legend of one view."""

    number: int
    row: Row
    rings: tuple[tuple[float, float, float], ...]  # x, y, radius in the view's pixels
    lines: tuple[tuple[str, bool], ...]  # text, is bold

    @property
    def height(self) -> float:
        return LINE * len(self.lines) + SMALL + 24.0

    @property
    def y(self) -> float:
        return sum(y for _, y, _ in self.rings) / len(self.rings) if self.rings else 0.0


def faces_of(findings: Sequence[Finding]) -> tuple[FaceName, ...]:
    """Return the faces that findings point at, the top first; the top alone where there is none."""
    marked = {mark.face for finding in findings for mark in finding.marks}
    return tuple(name for name in VIEW_OF if name in marked) or ("top",)


def projected(camera: Camera, size: tuple[int, int], points: Floats) -> Floats:
    """Return where (n, 3) world points lie in a picture of (width, height) pixels, (n, 2), y down."""
    pose = camera.basis()
    local = (points - pose[:3, 3]) @ pose[:3, :3]
    if camera.ortho_mm is not None:
        scale = size[1] / camera.ortho_mm
        across = local[:, :2] * scale
    else:
        scale = size[1] / 2 / np.tan(np.radians(camera.fov_deg) / 2)
        across = local[:, :2] / -local[:, 2:] * scale
    return np.stack([size[0] / 2 + across[:, 0], size[1] / 2 - across[:, 1]], axis=1)


def marked(
    title: str, findings: Sequence[Finding], sights: Sequence[Sight], units: Unit, closeups: Sequence[Closeup] = ()
) -> NDArray[np.uint8]:
    """Return the views with their findings, pixels (h, w, 3) uint8. Each finding is shown once, where its first
    mark lies; its other marks get the same number. Close looks follow below."""
    numbers = {id(finding): number for number, finding in enumerate(findings, 1)}
    width = EDGE * 2 + max(sight.pixels.shape[1] for sight in sights) + (GAP + LEGEND if findings else 0)
    pieces, y = [_title(title, findings)], 92.0
    pictures: list[tuple[NDArray[np.uint8], float, float]] = []
    for sight in sights:
        own = [each for each in findings if each.marks and each.marks[0].face == sight.face.name]
        entries = [_entry(numbers[id(each)], each, sight, units) for each in own]
        rings = [
            (numbers[id(each)], each.severity, _ring(sight, mark.u_mm, mark.v_mm, mark.radius_mm))
            for each in findings
            for mark in each.marks
            if mark.face == sight.face.name
        ]
        tall = sight.pixels.shape[0]
        height = max(float(tall), sum(each.height for each in entries))
        down = round((height - tall) / 2)  # in the middle of its findings, so that leaders stay short
        pictures.append((sight.pixels, EDGE, y + down))
        pieces.append(_view(sight, entries, rings, y, y + down, height))
        y += height + EDGE
    loose = [_entry(numbers[id(each)], each, None, units) for each in findings if not each.marks]
    for entry in loose:
        pieces.append(_legend(entry, EDGE, y))
        y += entry.height
    for each in closeups:
        pieces.append(_close(each, numbers[id(each.finding)], y, units))
        pictures += [(each.designed, EDGE, y + 40.0), (each.wandered, EDGE + SIDE_PX + GAP / 2, y + 40.0)]
        y += SIDE_PX + 40.0 + EDGE
    size = (round(width), round(y + (EDGE / 2 if loose else 0)))
    return _composed(size, pictures, pieces)


def _composed(
    size: tuple[int, int], pictures: Sequence[tuple[NDArray[np.uint8], float, float]], pieces: Sequence[str]
) -> NDArray[np.uint8]:
    with (
        resources.as_file(resources.files("font_manrope") / "files" / FONT.format(weight="Medium")) as medium,
        resources.as_file(resources.files("font_manrope") / "files" / FONT.format(weight="Bold")) as bold,
    ):
        svg = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{size[0]}" height="{size[1]}" '
            f'viewBox="0 0 {size[0]} {size[1]}" font-family="Manrope" font-size="{TEXT}">{"".join(pieces)}</svg>'
        )
        over = draw(svg.encode(), "marked-up picture", dpi=96.0, fonts=(str(medium), str(bold))).pixels
    canvas = np.empty((size[1], size[0], 3), np.float64)
    canvas[:] = [int(PAPER[i : i + 2], 16) for i in (1, 3, 5)]
    for pixels, x, y in pictures:
        tall, wide = pixels.shape[:2]
        target = canvas[round(y) : round(y) + tall, round(x) : round(x) + wide]
        share = pixels[..., 3:] / 255.0 if pixels.shape[2] == 4 else 1.0
        target[:] = target * (1 - share) + pixels[..., :3] * share
    alpha = over[..., 3:] / 255.0
    return np.asarray(np.rint(canvas * (1 - alpha) + over[..., :3] * alpha), np.uint8)


def _title(title: str, findings: Sequence[Finding]) -> str:
    said = tally(findings) if findings else "nothing found"
    return (
        f'<text x="{EDGE}" y="48" font-size="27" font-weight="700" fill="{INK}">{escape(title)}</text>'
        f'<text x="{EDGE}" y="73" font-size="{SMALL}" fill="{FAINT}">{said}</text>'
    )


def _close(look: Closeup, number: int, y: float, units: Unit) -> str:
    """Return the captions over a close look's two pictures."""
    off = f"drilled {figure(look.off_mm, 'mm', units)} off"
    second = EDGE + SIDE_PX + GAP / 2
    return (
        _disc(EDGE + DISC, y + 14.0, number, look.finding.severity)
        + f'<text x="{EDGE + INDENT}" y="{y + 19}" font-weight="700" fill="{INK}">'
        + f"{escape(', '.join(look.finding.subjects))} as designed</text>"
        + f'<text x="{second}" y="{y + 19}" font-weight="700" fill="{INK}">{escape(off)}</text>'
    )


def _ring(sight: Sight, u: float, v: float, radius_mm: float) -> tuple[float, float, float]:
    tall, wide = sight.pixels.shape[:2]
    points = sight.face.to_world(np.array([[u, v], [u + radius_mm, v]]))
    (x, y), (x1, y1) = projected(sight.camera, (wide, tall), points)
    return float(x), float(y), float(np.hypot(x1 - x, y1 - y))


def _entry(number: int, finding: Finding, sight: Sight | None, units: Unit) -> _Entry:
    shown = row(finding, units)
    rings: tuple[tuple[float, float, float], ...] = ()
    if sight is not None:
        rings = tuple(
            _ring(sight, mark.u_mm, mark.v_mm, mark.radius_mm) for mark in finding.marks if mark.face == sight.face.name
        )
    lines = [(each, False) for each in _wrapped(shown.what, "Medium")]
    lines += [(each, True) for each in _wrapped(shown.remedy, "Bold")]
    return _Entry(number=number, row=shown, rings=rings, lines=tuple(lines))


def _view(
    sight: Sight,
    entries: Sequence[_Entry],
    rings: Sequence[tuple[int, Severity, tuple[float, float, float]]],
    row_top: float,
    top: float,
    height: float,
) -> str:
    left = EDGE + sight.pixels.shape[1] + GAP
    placed = _placed(entries, row_top, top - row_top, height)
    parts = []
    for entry, y in placed:
        x0, y0, radius = max(entry.rings)  # the rightmost ring: the shortest leader
        start, end = np.array([EDGE + x0, top + y0]), np.array([left - 10.0, y + 14.0])
        along = (end - start) / max(1e-9, float(np.linalg.norm(end - start)))
        begin = start + along * radius
        colour = COLOURS[entry.row.severity]
        line = f"M{begin[0]:.1f} {begin[1]:.1f}L{end[0]:.1f} {end[1]:.1f}"
        parts.append(f'<path d="{line}" stroke="#fff" stroke-width="4.2" stroke-opacity=".75" fill="none"/>')
        parts.append(f'<path d="{line}" stroke="{colour}" stroke-width="1.7" fill="none"/>')
    parts += [_mark(severity, ring, top) for _, severity, ring in rings]
    parts += _numbers(rings, top)
    parts += [_legend(entry, left, y) for entry, y in placed]
    return "".join(parts)


def _mark(severity: Severity, ring: tuple[float, float, float], top: float) -> str:
    x, y, radius = EDGE + ring[0], top + ring[1], ring[2]
    circle = f'cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" fill="none"'
    return (
        f'<circle {circle} stroke="#fff" stroke-width="5" stroke-opacity=".75"/>'
        f'<circle {circle} stroke="{COLOURS[severity]}" stroke-width="2.2"/>'
    )


def _numbers(rings: Sequence[tuple[int, Severity, tuple[float, float, float]]], top: float) -> list[str]:
    """Return the numbered discs, each on its ring; where several share a place they go round it and out."""
    taken: list[tuple[float, float]] = []
    found = []
    for number, severity, (x, y, radius) in rings:
        spots = [
            (x + (radius + out) * np.cos(angle), y + (radius + out) * np.sin(angle))
            for out in (2.0, 2.0 + 2.2 * DISC, 2.0 + 4.4 * DISC)
            for angle in np.radians(-135.0 + 30.0 * np.arange(12))
        ]
        free = [spot for spot in spots if all(np.hypot(spot[0] - u, spot[1] - v) > 2 * DISC + 1 for u, v in taken)]
        spot = free[0] if free else spots[0]
        taken.append(spot)
        found.append(_disc(EDGE + spot[0], top + spot[1], number, severity))
    return found


def _disc(x: float, y: float, number: int, severity: Severity) -> str:
    size = 15.0 if number < 10 else 13.0
    return (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{DISC}" fill="{COLOURS[severity]}" stroke="#fff" stroke-width="1.6"/>'
        f'<text x="{x:.1f}" y="{y + size * 0.36:.1f}" font-size="{size}" font-weight="700" fill="#fff" '
        f'text-anchor="middle">{number}</text>'
    )


def _legend(entry: _Entry, x: float, y: float) -> str:
    colour = COLOURS[entry.row.severity]
    figures = entry.row.measured + (f"  ·  limit {entry.row.limit}" if entry.row.limit else "")
    head = (
        _disc(x + DISC, y + 14.0, entry.number, entry.row.severity)
        + f'<text x="{x + INDENT}" y="{y + 19}" font-size="{SMALL}" font-weight="700" letter-spacing=".6" '
        f'fill="{colour}">{WORDS[entry.row.severity]}</text>'
        f'<text x="{x + 116}" y="{y + 19}" font-size="{SMALL}" fill="{FAINT}">'
        f"{escape(entry.row.check)}{'  ·  ' if figures else ''}{escape(figures)}</text>"
    )
    body = []
    for index, (text, is_bold) in enumerate(entry.lines):
        weight = ' font-weight="700"' if is_bold else ""
        body.append(
            f'<text x="{x + INDENT}" y="{y + 19 + LINE * (index + 1):.1f}" fill="{INK}"{weight}>{escape(text)}</text>'
        )
    return head + "".join(body)


def _placed(entries: Sequence[_Entry], top: float, down: float, height: float) -> list[tuple[_Entry, float]]:
    """Return each entry with the y of its top: spread along the view, in an order in which no leaders cross."""
    order = sorted(entries, key=lambda each: each.y)
    for _ in range(len(order) ** 2):  # each swap of a crossing pair shortens the leaders, so that this ends
        ys = _stacked(order, top, down, height)
        pairs = combinations(range(len(order)), 2)
        crossing = next(((i, j) for i, j in pairs if _cross(order, ys, i, j, top + down)), None)
        if crossing is None:
            break
        i, j = crossing
        order[i], order[j] = order[j], order[i]
    return list(zip(order, _stacked(order, top, down, height), strict=True))


def _stacked(order: Sequence[_Entry], top: float, down: float, height: float) -> list[float]:
    """Return the tops of entries below each other, each as near to its ring as the others let it be."""
    ys: list[float] = []
    low = top
    room = height - sum(each.height for each in order)
    for entry in order:
        y = min(max(low, top + down + entry.y - entry.height / 2), low + max(0.0, room))
        room -= y - low
        ys.append(y)
        low = y + entry.height
    return ys


def _cross(order: Sequence[_Entry], ys: Sequence[float], i: int, j: int, top: float) -> bool:
    (ax, ay, _), (bx, by, _) = max(order[i].rings), max(order[j].rings)
    ends = 2.0 * max(ax, bx) + 100.0
    a, b = np.array([ax, top + ay]), np.array([bx, top + by])
    c, d = np.array([ends, ys[i] + 14.0]), np.array([ends, ys[j] + 14.0])

    def side(p: Floats, q: Floats, r: Floats) -> float:
        return float((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))

    return side(a, c, b) * side(a, c, d) < 0 and side(b, d, a) * side(b, d, c) < 0


def _wrapped(text: str, weight: str) -> list[str]:
    """Return text in lines as wide as the legend, broken between words."""
    with resources.as_file(resources.files("font_manrope") / "files" / FONT.format(weight=weight)) as path:
        font = ImageFont.truetype(str(path), TEXT)
    lines: list[str] = []
    joined = re.sub(r"(\d) (mm³|mm|in|degrees|%)(?![\w])", "\\1\u00a0\\2", text)  # a figure keeps its unit
    for word in (each.replace("\u00a0", " ") for each in joined.split(" ")):
        if lines and font.getlength(f"{lines[-1]} {word}") <= LEGEND - INDENT:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines
