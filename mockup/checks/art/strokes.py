"""Thin lines in art, and thin gaps: where they are, and how wide.

A pixel of a stroke is thin where, in some of four directions, the run of ink through it is shorter than
the limit: a straight line is at least as thick as the shortest of its runs, which is at most 8 % longer
(22.5 degrees off). Corners and tips are thin too, so only what is thin over some length counts. The width
of what is left is measured where it runs: its ink, edge pixels by their share, over its length.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.checks.art.sheets import Bits, Bytes, Sheet, most_of
from mockup.memo import memoize
from mockup.model.mesh import Floats

LEAST_LENGTH_MM = 1.0  # shorter bits are tips and serifs: common practice, no source
LEAST_INK = 64  # of 255, the strongest near a stroke: paler is a tint, not a line
SPOTS = 7  # places at which one stroke is measured
MOST_STROKES = 40  # measured in one sheet, the longest
BARE = 0.2  # share of ink beside a stroke, its ends and what it joins included, up to which it stands on bare film
LEAST_RELIEF = 48  # of 255, that a line stands out from both its sides by: the edge of a step has none; measured
_TOP_HAT = 1.1  # limits that what it is held against is wide, at least; the same
DOUBT_PX = 0.5  # a width is measured no better
_MARGIN = 1.12  # runs may be this much longer than the stroke is wide: 1 / cos(22.5 deg), and edge pixels


@dataclass(frozen=True)
class Stroke:
    """One thin line or gap: its width and length, and a place (x, y) of it in pixels."""

    width_mm: float
    length_mm: float
    at: tuple[float, float]


@memoize
def strokes(sheet: Sheet, limit_mm: float, *, is_gap: bool = False) -> list[Stroke]:
    """Return the lines (or gaps in ink) of a sheet that are thinner than a limit, thinnest first.

    A line counts on bare film only, where nothing but the printer holds it together.
    """
    per_mm = min(sheet.per_mm)
    share = _share(sheet.ink)
    is_ink = share >= 0.5
    if is_gap:
        is_ink = ~is_ink
        share = 1.0 - share
    reach = limit_mm * per_mm * _MARGIN
    if reach < 1.5:
        return []  # art this coarse has no thin lines; its resolution is another check's matter
    thin = is_ink & ~_thick(is_ink, reach)
    names, count = ndimage.label(thin)
    if not count:
        return []
    found = []
    boxes = ndimage.find_objects(names)
    ink = 255 - sheet.ink if is_gap else sheet.ink
    side = 2 * math.ceil((_TOP_HAT * limit_mm * per_mm + 2.0) / 2) + 1
    least = LEAST_LENGTH_MM * per_mm
    size = np.array([math.hypot(box[0].stop - box[0].start, box[1].stop - box[1].start) for box in boxes])
    for number in np.argsort(-size)[:MOST_STROKES]:
        if size[number] < least:
            break
        if not _is_raised(ink, names, int(number) + 1, boxes[number], side):
            continue
        stroke = _measured(sheet, share, names, int(number) + 1, boxes[number], limit_mm)
        if stroke is not None and (not is_gap or _is_between(sheet, is_ink, stroke)):
            found.append(stroke)
    return sorted(found, key=lambda each: each.width_mm)


def _is_raised(ink: Bytes, names: NDArray[np.int32], number: int, box: tuple[slice, slice], side: int) -> bool:
    """Return whether a thin piece stands out from what lies on both its sides, by the grey top-hat at its places.

    The edge of a larger thing does not: what is beside it on one side is as strong.
    """
    ys, xs = np.nonzero(names[box] == number)
    relief = []
    for spot in np.linspace(0, len(ys) - 1, SPOTS + 2).astype(int)[1:-1]:
        y, x = int(ys[spot]) + box[0].start, int(xs[spot]) + box[1].start
        window = ink[max(0, y - side) : y + side + 1, max(0, x - side) : x + side + 1]
        opened = ndimage.grey_opening(window, size=(side, side), mode="nearest")
        at = min(y, side), min(x, side)
        relief.append(int(window[at]) - int(opened[at]))
    return float(np.median(relief)) >= LEAST_RELIEF


def _share(ink: Bytes) -> NDArray[np.float32]:
    """Return each pixel's ink as a share of the strongest near it, 0 where there is hardly any."""
    block = 4
    height, width = ink.shape
    strongest = ndimage.maximum_filter(most_of(ink, (block, block)), size=3)
    strongest[strongest < LEAST_INK] = 0
    scale = np.where(strongest > 0, 1.0 / np.maximum(strongest, 1), 0.0).astype(np.float32)
    full = np.repeat(np.repeat(scale, block, axis=0), block, axis=1)[:height, :width]
    share: NDArray[np.float32] = ink * full
    return share


def _thick(is_ink: Bits, reach: float) -> Bits:
    """Return where a line of `reach` pixels through the pixel stays in the ink, in all four directions."""
    straight, slanted = max(2, math.ceil(reach - 1e-9)), max(2, math.ceil(reach / math.sqrt(2) - 1e-9))
    thick = is_ink.copy()
    for (down, right), length in (((0, 1), straight), ((1, 0), straight), ((1, 1), slanted), ((1, -1), slanted)):
        thick &= _opened(is_ink, down, right, length)
    return thick


def _opened(is_ink: Bits, down: int, right: int, length: int) -> Bits:
    """Return the opening of a mask by a straight line of `length` pixels."""
    kept = is_ink
    done = 1
    while done < length:  # twice as long every time
        step = min(done, length - done)
        kept = kept & _moved(kept, down * step, right * step)
        done += step
    whole = kept
    done = 1
    while done < length:
        step = min(done, length - done)
        whole = whole | _moved(whole, -down * step, -right * step)
        done += step
    return whole


def _moved(mask: Bits, down: int, right: int) -> Bits:
    """Return a mask whose pixel (y, x) is the old one's (y + down, x + right); beyond the picture lies nothing."""
    moved = np.zeros_like(mask)
    height, width = mask.shape
    to_y, from_y = _overlap(down, height)
    to_x, from_x = _overlap(right, width)
    moved[to_y, to_x] = mask[from_y, from_x]
    return moved


def _overlap(by: int, size: int) -> tuple[slice, slice]:
    if abs(by) >= size:
        return slice(0, 0), slice(0, 0)
    return (slice(0, size - by), slice(by, size)) if by >= 0 else (slice(-by, size), slice(0, size + by))


def _measured(
    sheet: Sheet,
    share: NDArray[np.float32],
    names: NDArray[np.int32],
    number: int,
    box: tuple[slice, slice],
    limit_mm: float,
) -> Stroke | None:
    """Return one thin piece as a stroke, or None where it is no line."""
    ys, xs = np.nonzero(names[box] == number)
    ys, xs = ys + box[0].start, xs + box[1].start
    per_mm = min(sheet.per_mm)
    chosen = np.linspace(0, len(ys) - 1, SPOTS + 2).astype(int)[1:-1]
    found = [each for spot in chosen for each in _width_at(share, names, number, int(ys[spot]), int(xs[spot]), per_mm)]
    if len(found) < 2:
        return None
    width = float(np.median([ink for ink, _ in found])) / per_mm
    length = len(ys) / float(np.median([pixels for _, pixels in found])) / per_mm
    if width > limit_mm - DOUBT_PX / per_mm or length < LEAST_LENGTH_MM:
        return None
    middle = len(ys) // 2
    return Stroke(width, length, (float(xs[middle]) + 0.5, float(ys[middle]) + 0.5))


def _width_at(
    share: NDArray[np.float32], names: NDArray[np.int32], number: int, y: int, x: int, per_mm: float
) -> Iterator[tuple[float, float]]:
    """Yield a stroke's width about one of its pixels, by its ink and by its whole pixels, if it runs straight there."""
    half = max(4, round(0.45 * per_mm))
    window = slice(max(0, y - half), y + half + 1), slice(max(0, x - half), x + half + 1)
    own = names[window] == number
    joined, _ = ndimage.label(own, np.ones((3, 3), bool))
    own = joined == joined[y - window[0].start, x - window[1].start]
    rows, columns = np.nonzero(own)
    if len(rows) < 4:
        return
    points: Floats = np.stack([rows, columns], axis=1).astype(np.float64)
    points -= points.mean(axis=0)
    spread, axes = np.linalg.eigh(points.T @ points / len(points))
    length = float(np.ptp(points @ axes[:, 1])) + 1.0
    if spread[1] < 9.0 * max(spread[0], 1.0 / 12.0):  # less than three times as long as wide
        return
    edge = ndimage.binary_dilation(own, np.ones((3, 3), bool))
    beside = ndimage.binary_dilation(edge, np.ones((3, 3), bool), iterations=2) & ~edge
    if float(share[window][beside].mean()) > BARE:
        return
    ink = np.where(edge, share[window], 0.0)
    middle = np.array([rows.mean(), columns.mean()])
    inner = np.abs((np.stack(np.nonzero(edge), axis=1) - middle) @ axes[:, 1]) <= length / 4  # no ends, little bend
    whole = np.abs(points @ axes[:, 1]) <= length / 4
    yield float(ink[edge][inner].sum() / (length / 2)), max(1.0, float(whole.sum() / (length / 2)))


def _is_between(sheet: Sheet, is_gap: Bits, stroke: Stroke) -> bool:
    """Return whether a gap lies inside the art: its place is not at the picture's edge."""
    x, y = stroke.at
    height, width = is_gap.shape
    room = 2 * max(1.0, stroke.width_mm * min(sheet.per_mm))
    return bool(room < x < width - room and room < y < height - room)
