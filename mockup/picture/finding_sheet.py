"""The sheet of findings: views of the pedal with each finding numbered where it is, its sentence beside the view.

Views lie below each other, each with its own findings to its right, joined by leaders. What no place belongs
to is listed after them; close looks come last. A millimetre of this page is a pixel.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from mockup.checks.report.rows import row, subjects, tally
from mockup.checks.report.sentences import quantity
from mockup.drawing.flow import Block
from mockup.drawing.lettering import FAINT, disc, lines, spread, width_mm, wrapped
from mockup.model.enclosure import FACES, Face, FaceName
from mockup.model.finding import SEVERITY_WORDS, Finding, Severity, mm
from mockup.model.material import Colour
from mockup.model.scene import Camera
from mockup.model.shape import Point
from mockup.model.sheet import Image, Mark, Page, Text, moved
from mockup.model.units import Unit
from mockup.picture.close_looks import HEIGHT, SIDE_PX, Closeup, look
from mockup.picture.marks import PlacedView, around, crosses, numbers, straight, stroked

PAPER: Colour = (0.957, 0.949, 0.925)
INK: Colour = (0.125, 0.141, 0.169)
COLOURS: dict[Severity, Colour] = {
    "stop": (0.769, 0.149, 0.114),
    "warn": (0.725, 0.416, 0.0),
    "note": (0.2, 0.41, 0.61),
}
# Sizes in pixels: our taste.
EDGE, HEAD, LEGEND, GAP = 36.0, 92.0, 640.0, 56.0
TEXT, LINE, SMALL = 17.0, 22.0, 13.5
DISC, RIM, INDENT, STROKE, LEADER = 13.0, 1.6, 36.0, 2.2, 1.7
_BASE, _MIDDLE = 19.0, 14.0  # from the top of a legend entry to its first baseline, and to the middle of its number


@dataclass(frozen=True, kw_only=True, eq=False)
class FaceView:
    """One rendered view of the pedal: `pixels` (h, w, 3 or 4) uint8, seen through `camera`, of one face."""

    face: Face
    pixels: NDArray[np.uint8]
    camera: Camera


def faces_of(findings: Sequence[Finding]) -> tuple[FaceName, ...]:
    """Return the faces that findings point at, the top first; the top alone where there is none."""
    marked = {mark.face for finding in findings for mark in finding.marks}
    return tuple(name for name in FACES if name in marked) or ("top",)


def sheet(
    title: str, findings: Sequence[Finding], views: Sequence[FaceView], units: Unit, closeups: Sequence[Closeup] = ()
) -> Page:
    """Return the page. Each finding is listed once, beside the view of its first mark; its other marks get the same
    number."""
    numbered = dict(enumerate(findings, 1))
    width = EDGE * 2 + max(view.pixels.shape[1] for view in views) + (GAP + LEGEND if findings else 0.0)
    said = tally(findings) if findings else "nothing found"
    marks: list[Mark] = [
        Text(x_mm=EDGE, y_mm=48.0, text=title, size_mm=27.0, is_bold=True, colour=INK),
        Text(x_mm=EDGE, y_mm=73.0, text=said, size_mm=SMALL, colour=FAINT),
    ]
    y = HEAD
    for view in views:
        height, drawn = _beside(view, numbered, y, units)
        marks += drawn
        y += height + EDGE
    seen = {view.face.name for view in views}
    loose = [
        _entry(number, finding, units)
        for number, finding in numbered.items()
        if not finding.marks or finding.marks[0].face not in seen  # the lid is in no view
    ]
    for entry in loose:
        marks += [moved(mark, EDGE, y) for mark in entry.marks]
        y += entry.height_mm
    for each in closeups:
        number = next(number for number, finding in numbered.items() if finding is each.finding)
        marks += _close(each, number, y, units)
        y += HEIGHT + EDGE
    return Page(width_mm=width, height_mm=y + (EDGE / 2 if loose else 0.0), marks=tuple(marks), title=title)


def _beside(view: FaceView, numbered: Mapping[int, Finding], top: float, units: Unit) -> tuple[float, list[Mark]]:
    """Return the height and the marks of one view: picture, rings, numbers, and its findings to the right."""
    tall, wide = view.pixels.shape[:2]
    entries = {
        number: _entry(number, finding, units)
        for number, finding in numbered.items()
        if finding.marks and finding.marks[0].face == view.face.name
    }
    height = max(float(tall), sum(entry.height_mm for entry in entries.values()))
    down = round((height - tall) / 2)  # in the middle of its findings, so that leaders stay short
    area = (EDGE, top + down, float(wide), float(tall))
    placed = PlacedView(camera=view.camera, area=area, pixels=view.pixels)
    rings = [
        (number, COLOURS[finding.severity], ring)
        for number, finding in numbered.items()
        for mark in finding.marks
        if mark.face == view.face.name and (ring := placed.outline(view.face, mark, around(mark))) is not None
    ]
    spots = placed.spots([ring for _, _, ring in rings], DISC)
    starts: dict[int, Point] = {}  # the rightmost number of each finding: the shortest leader
    for (number, _, _), spot in zip(rings, spots, strict=True):
        starts[number] = max(spot, starts.get(number, spot))
    left = EDGE + wide + GAP
    heights = [entry.height_mm for entry in entries.values()]
    order = in_order([starts[number] for number in entries], heights, left, top, height)
    listed = [(list(entries)[index], y) for index, y in order]
    drawn: list[Mark] = [Image(x_mm=EDGE, y_mm=area[1], width_mm=wide, height_mm=tall, pixels=view.pixels)]
    for number, y in listed:
        ends = np.array(starts[number]), np.array([left, y + _MIDDLE])
        drawn += straight([ends], COLOURS[numbered[number].severity], LEADER)
    for _, colour, ring in rings:
        drawn += stroked(ring, colour, STROKE)
    drawn += numbers(rings, spots, DISC, RIM)
    for number, y in listed:
        drawn += [moved(mark, left, y) for mark in entries[number].marks]
    return height, drawn


def _entry(number: int, finding: Finding, units: Unit) -> Block:
    """Return one finding of the legend: number, severity and figures, what is wrong, what to do."""
    shown, colour = row(finding, units), COLOURS[finding.severity]
    word = SEVERITY_WORDS[finding.severity].upper()
    limit = f"limit {shown.limit}" if shown.limit else ""
    about = "  ·  ".join(each for each in (shown.check, shown.measured, limit) if each)
    what, remedy = (wrapped(each, TEXT, LEGEND - INDENT) for each in (shown.what, shown.remedy))
    marks = (
        *disc(DISC, _MIDDLE, DISC, str(number), colour),
        Text(x_mm=INDENT, y_mm=_BASE, text=word, size_mm=SMALL, is_bold=True, colour=colour),
        Text(x_mm=INDENT + width_mm(f"{word}   ", SMALL), y_mm=_BASE, text=about, size_mm=SMALL, colour=FAINT),
        *lines(what, INDENT, _BASE + LINE, TEXT, LINE, colour=INK),
        *lines(remedy, INDENT, _BASE + LINE * (1 + len(what)), TEXT, LINE, is_bold=True, colour=INK),
    )
    return Block(height_mm=LINE * (len(what) + len(remedy)) + SMALL + 24.0, marks=marks)


def _close(closeup: Closeup, number: int, y: float, units: Unit) -> Iterator[Mark]:
    """Yield a close look's two pictures, the finding's number before the first."""
    yield from disc(EDGE + DISC, y + _MIDDLE, DISC, str(number), COLOURS[closeup.finding.severity])
    yield from look(closeup.designed, EDGE, y, f"{subjects(closeup.finding, units)} as designed", indent=INDENT)
    off = f"drilled {quantity(mm(closeup.off_mm), units)} off"
    yield from look(closeup.wandered, EDGE + SIDE_PX + GAP / 2, y, off)


def in_order(
    starts: Sequence[Point], heights: Sequence[float], x: float, top: float, height: float
) -> list[tuple[int, float]]:
    """Return legend entries from the top down, each as (index, top): near where its leader starts, none over another.

    They stand at `x`, between `top` and `height` below it, in an order in which no leaders cross.
    """
    order = sorted(range(len(starts)), key=lambda index: starts[index][1])
    for _ in range(len(order) ** 2):  # each swap of a crossing pair shortens the leaders, so that this ends
        tops = _tops(order, starts, heights, top, height)
        leaders = [(starts[index], (x, y + _MIDDLE)) for index, y in zip(order, tops, strict=True)]
        pairs = combinations(range(len(order)), 2)
        crossing = next(((i, j) for i, j in pairs if crosses(leaders[i], leaders[j])), None)
        if crossing is None:
            break
        i, j = crossing
        order[i], order[j] = order[j], order[i]
    return list(zip(order, _tops(order, starts, heights, top, height), strict=True))


def _tops(
    order: Sequence[int], starts: Sequence[Point], heights: Sequence[float], top: float, height: float
) -> list[float]:
    tall = [heights[index] for index in order]
    before = np.cumsum([0.0, *tall[:-1]])
    wanted = spread([starts[index][1] - _MIDDLE for index in order], tall)
    return [float(y) for y in np.clip(wanted, top + before, top + height - sum(tall) + before)]
