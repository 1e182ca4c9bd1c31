"""A drawing cut into tiles that overlap, where the seams do least harm, and marks to lay the tiles together by."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from mockup.drawing.lettering import Area, overlaps_mm2, text_area
from mockup.model.material import Colour
from mockup.model.sheet import Circle, Line, Mark, Path, Text

OVERLAP_MM = 12.0  # of two tiles; room for a register mark and a strip of glue: common practice, no source
REGISTER: Colour = (0.75, 0.2, 0.1)
_ARM_MM, _LETTER_MM, _LINE_MM = 2.0, 2.4, 0.13
_MARK: Area = (-2.3, -3.3, 4.6, 2.3)  # what a register mark with its letter covers, and a little air
_SHARES = (0.25, 0.75)  # where along a seam between two tiles its two marks stand, if there is room
_TRIED = 41  # places along a seam, and of the seams themselves, that are tried: our choice
_LEAST_MM = 20.0  # two marks of one seam stand at least this far apart: our choice
_SEAM_MM = 0.02  # how much of a seam's harm one millimetre off the middle is worth: our choice
_WHOLE = 10.0  # how much worse it is that no tile shows a thing whole than that a seam runs through it: our choice
_ALONG, _LONG_MM, _CLEAR_MM = 2.0, 30.0, 4.5  # harm of an edge or fold along a seam, where its marks would stand on it
_LETTERING = 4.0  # how much worse a mark over lettering is than a mark over a line: our choice
_ASIDE_MM = (0.0, 2.4, -2.4)  # how far a mark may stand off the middle of an overlap, and still lie in it
_DRIFT_MM2 = 0.05  # of overlap that a mark's place is worth, for each millimetre: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Tiling:
    """Where tiles begin, in the drawing's plane, and the register marks that they share."""

    lefts: tuple[float, ...]
    tops: tuple[float, ...]
    registers: tuple[Mark, ...]


def counts(area: Area, window_mm: tuple[float, float]) -> tuple[int, int]:
    """Return how many tiles of a size a drawing's area takes, across and down."""
    return _count(area[2] - area[0], window_mm[0]), _count(area[3] - area[1], window_mm[1])


def tiling(marks: Sequence[Mark], area: Area, window_mm: tuple[float, float]) -> Tiling:
    """Return how marks in an area are cut into tiles: so that holes and lettering stay whole, if that can be."""
    columns, rows = counts(area, window_mm)
    things = [each for mark in marks for each in _thing(mark)]
    strokes = [each for mark in marks for each in _strokes(mark)]
    upright = [(left + right) / 2 for left, top, right, bottom in strokes if bottom - top > _LONG_MM > right - left]
    level = [(top + bottom) / 2 for left, top, right, bottom in strokes if right - left > _LONG_MM > bottom - top]
    lefts = _starts(area[0], area[2], columns, window_mm[0], [(each[0], each[2]) for each in things], upright)
    tops = _starts(area[1], area[3], rows, window_mm[1], [(each[1], each[3]) for each in things], level)
    return Tiling(lefts=lefts, tops=tops, registers=tuple(_registers(marks, lefts, tops, window_mm)))


def _count(length_mm: float, window_mm: float) -> int:
    return 1 if length_mm <= window_mm else math.ceil((length_mm - OVERLAP_MM) / (window_mm - OVERLAP_MM))


def _thing(mark: Mark) -> Iterator[Area]:
    """Yield the area of a hole or of lettering, which should not be cut in two."""
    if isinstance(mark, Text):
        yield text_area(mark)
    elif isinstance(mark, Circle):
        r = mark.radius_mm
        yield mark.x_mm - r, mark.y_mm - r, mark.x_mm + r, mark.y_mm + r
    elif isinstance(mark, Path) and mark.bulges:  # a hole that is not round; outlines of faces are straight
        yield _round_all(mark.points)


def _starts(
    low: float, high: float, count: int, window_mm: float, spans: Sequence[tuple[float, float]], along: Sequence[float]
) -> tuple[float, ...]:
    """Return where tiles begin along one direction; what the paper has to spare lets the seams step aside."""
    step = window_mm - OVERLAP_MM
    spare = count * step + OVERLAP_MM - (high - low)
    if count == 1:
        return (low - spare / 2,)

    def harm(first: float) -> float:
        tiles = [(first + index * step, first + index * step + window_mm) for index in range(count)]
        cost = _SEAM_MM * abs(first - (low - spare / 2))
        seams = [left + OVERLAP_MM / 2 for left, _ in tiles[1:]]
        cost += _ALONG * sum(abs(line - seam) < _CLEAR_MM for line in along for seam in seams)
        for start, end in spans:
            is_whole = any(start >= left and end <= right for left, right in tiles)
            is_cut = any(start < edge < end for tile in tiles for edge in tile)
            cost += _WHOLE * (not is_whole) + is_cut
        return cost

    tried = (low - spare + spare * index / (_TRIED - 1) for index in range(_TRIED))
    first = min(tried, key=harm)
    return tuple(first + index * step for index in range(count))


def _registers(
    marks: Sequence[Mark], lefts: Sequence[float], tops: Sequence[float], window_mm: tuple[float, float]
) -> Iterator[Line | Circle | Text]:
    """Yield lettered register marks in every overlap, two to each pair of tiles, clear of what is drawn."""
    words = [each for mark in marks if isinstance(mark, Text) for each in _thing(mark)]
    lines = [each for mark in marks for each in _strokes(mark)]
    half = OVERLAP_MM / 2
    seams = [(left + half, (top, top + window_mm[1]), True) for top in tops for left in lefts[1:]]
    seams += [(top + half, (left, left + window_mm[0]), False) for top in tops[1:] for left in lefts]
    index = 0
    for middle, (start, end), is_upright in seams:
        for across, along in _places(middle, start, end, is_upright, words, lines):
            x, y = (across, along) if is_upright else (along, across)
            yield from _mark(x, y, chr(ord("A") + index % 26) + (str(index // 26) if index >= 26 else ""))
            words.append((x + _MARK[0], y + _MARK[1], x + _MARK[2], y + _MARK[3]))
            index += 1


def _places(
    middle: float,
    start: float,
    end: float,
    is_upright: bool,
    words: Sequence[Area],
    lines: Sequence[Area],
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return where in a seam its two marks stand, across and along it: near their shares, over as little as can be."""
    # Within the tile's own part, so that no mark falls into a corner where four tiles meet.
    low, high = start + OVERLAP_MM + _MARK[2], end - OVERLAP_MM - _MARK[2]

    lettered, drawn = (np.array(each).reshape(-1, 4) for each in (words, lines))

    def harm(at: tuple[float, float]) -> float:
        x, y = at if is_upright else at[::-1]
        own = np.array([x, y, x, y]) + _MARK
        over = _LETTERING * overlaps_mm2(own, lettered) + overlaps_mm2(own, drawn)
        return float(over) + _DRIFT_MM2 * abs(at[0] - middle)

    places = [low + (high - low) * index / (_TRIED - 1) for index in range(_TRIED)]
    best = [min(((middle + aside, each) for aside in _ASIDE_MM), key=harm) for each in places]
    over = [harm(at) for at in best]
    apart = min(_LEAST_MM, (high - low) / 2)
    first, second = (start + share * (end - start) for share in _SHARES)

    def cost(pair: tuple[int, int]) -> float:
        one, other = pair
        return over[one] + over[other] + _DRIFT_MM2 * (abs(places[one] - first) + abs(places[other] - second))

    pairs = itertools.combinations(range(_TRIED), 2)
    one, other = min((pair for pair in pairs if places[pair[1]] - places[pair[0]] >= apart - 1e-9), key=cost)
    return best[one], best[other]


def _strokes(mark: Mark) -> Iterator[Area]:
    """Yield the areas that a mark's lines cover, each a little wider than it is."""
    if isinstance(mark, Line):
        yield _round_all(((mark.x1_mm, mark.y1_mm), (mark.x2_mm, mark.y2_mm)))
    elif isinstance(mark, Circle):
        yield from _thing(mark)
    elif isinstance(mark, Path):
        for start, end, _ in mark.steps():
            yield _round_all((start, end))


def _round_all(points: Sequence[tuple[float, float]]) -> Area:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    air = _LINE_MM
    return min(xs) - air, min(ys) - air, max(xs) + air, max(ys) + air


def _mark(x: float, y: float, letter: str) -> Iterator[Line | Circle | Text]:
    yield Circle(x_mm=x, y_mm=y, radius_mm=_ARM_MM / 2, stroke=REGISTER, line_mm=_LINE_MM)
    yield Line(x1_mm=x - _ARM_MM, y1_mm=y, x2_mm=x + _ARM_MM, y2_mm=y, line_mm=_LINE_MM, colour=REGISTER)
    yield Line(x1_mm=x, y1_mm=y - _ARM_MM, x2_mm=x, y2_mm=y + _ARM_MM, line_mm=_LINE_MM, colour=REGISTER)
    yield Text(x_mm=x + 1.4, y_mm=y - 1.2, text=letter, size_mm=_LETTER_MM, is_bold=True, colour=REGISTER)
