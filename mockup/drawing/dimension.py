"""Running dimensions from a datum edge (ISO 129-1, coordinate and running dimensioning).

Every hole's centre gets one tick on the edge and one figure beside it, so nothing adds up.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mockup.drawing.lettering import CAPITAL, spread, width_mm
from mockup.model.material import Colour
from mockup.model.shape import Point
from mockup.model.sheet import Anchor, Line, Mark, Text

FIGURE_MM = 2.1  # size of the face; capitals 1.5 mm, legible at reading distance: our choice
LINE_MM = 0.13
COLOUR: Colour = (0.1, 0.3, 0.6)  # a draughtsman's second colour; dark enough to print in grey
_TICK_MM, _SLANT_MM, _END_MM, _GAP_MM = 0.9, 1.4, 0.3, 0.4  # along a leader, from the edge to the figure
_SAME_MM = 0.005  # places nearer than the last decimal share one tick


@dataclass(frozen=True, kw_only=True)
class Station:
    """One place on an edge, in the plane, and the figure that stands for it."""

    at: Point
    text: str


def running(stations: Sequence[Station], outward: Point) -> Iterator[Mark]:
    """Yield ticks, leaders and figures of stations along one upright or level edge.

    `outward` is the unit direction, along x or along y, in which the figures stand off the edge.
    """
    is_level = outward[0] == 0.0  # the edge runs along x, the figures stand above or below it
    run = 0 if is_level else 1
    ordered: list[Station] = []
    for station in sorted(stations, key=lambda each: each.at[run]):
        is_double = ordered and abs(station.at[run] - ordered[-1].at[run]) < _SAME_MM
        if not (is_double and ordered[-1].text == station.text):
            ordered.append(station)
    widest = max((width_mm(each.text, FIGURE_MM) for each in ordered), default=0.0)
    places = spread([each.at[run] for each in ordered], widest + 1.0 if is_level else FIGURE_MM * 1.15)
    is_straight = all(abs(place - each.at[run]) < _SAME_MM for each, place in zip(ordered, places, strict=True))
    slant = 0.0 if is_straight else _SLANT_MM  # figures that stand at their own ticks may stand nearer
    for station, place in zip(ordered, places, strict=True):
        yield from _leader(station, place, outward, slant, is_level=is_level)


def _leader(station: Station, place: float, outward: Point, slant_mm: float, *, is_level: bool) -> Iterator[Mark]:
    x, y = station.at
    offsets = (0.0, _TICK_MM, _TICK_MM + slant_mm, _TICK_MM + slant_mm + _END_MM)
    if is_level:
        points = [(at, y + outward[1] * off) for at, off in zip((x, x, place, place), offsets, strict=True)]
        beyond = points[-1][1] + outward[1] * _GAP_MM
        baseline = beyond + (CAPITAL * FIGURE_MM if outward[1] > 0 else 0.0)
        anchor: Anchor = "middle"
        text_at = (place, baseline)
    else:
        points = [(x + outward[0] * off, at) for at, off in zip((y, y, place, place), offsets, strict=True)]
        anchor = "start" if outward[0] > 0 else "end"
        text_at = (points[-1][0] + outward[0] * _GAP_MM, place + CAPITAL * FIGURE_MM / 2)
    for start, end in itertools.pairwise(points):
        yield Line(x1_mm=start[0], y1_mm=start[1], x2_mm=end[0], y2_mm=end[1], line_mm=LINE_MM, colour=COLOUR)
    yield Text(x_mm=text_at[0], y_mm=text_at[1], text=station.text, size_mm=FIGURE_MM, anchor=anchor, colour=COLOUR)
