"""Round holes in a scan: sought by the brightness round their rims, fitted to a part of a pixel, each judged.

Every step of brightness at a rim points away from the hole's middle: each pixel there votes for a place one radius
behind it (the Hough transform with gradients: Kimme, Ballard and Sklansky, Communications of the ACM 18, 1975). Round
the best place rays find the rim, and a circle is fitted in which stray edges count little (Tukey's biweight).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

Floats = NDArray[np.float64]
Point = tuple[float, float]
Circle = tuple[float, float, float]
"""Its middle, x and y, and its radius."""

SEARCH_MM = 2.2  # how far from its place a hole is sought: by trial
_LARGER_MM, _SMALLER_MM, _STEP_MM = 0.5, 0.2, 0.1  # radii tried about the drill's diameter: by trial
_RAYS = 180
_RAY_MM, _RAY_STEP = 0.7, 0.25  # how far to each side of the rim a ray looks, and its steps in pixels: by trial
_STRONG = 0.35  # of the middle ray's edge; a weaker one is none: by trial
_NEAR_MM = 0.15  # of the circle; an edge farther away is no part of it: by trial
_APART_MM = 0.8  # two places nearer than that are one: by trial
LEAST_SEEN, WIDEST_GAP_DEG, STRONGEST_RIVAL = 0.75, 50.0, 0.6  # of a sure hole: by trial on traced scans
TORN_MM = 0.08  # between a circle by all rays and one by the upper rim alone, of a sure hole: by trial
_LOWER_MM = 0.05  # a lower rim nearer than that to the upper one is one with it: by trial
THINNEST_MM, THICKEST_MM = -0.2, 0.42  # of a sure hole's diameter against the drill's: by trial on traced scans


@dataclass(frozen=True, kw_only=True)
class SeenHole:
    """A hole as a picture shows it: its middle in pixels, its diameter in millimetres, and why it is unsure, if it is.

    `seen` is the share of its rim that shows, `noise_mm` how far its edges lie off the circle (root mean square),
    `inside` the linear light inside it, `rival_px` the place that looks most like it elsewhere, None for none.
    """

    x_px: float
    y_px: float
    diameter_mm: float
    seen: float
    noise_mm: float
    inside: float
    rival_px: Point | None
    unsure: str

    @property
    def doubt_mm(self) -> float:
        """How far its middle may be off by what its rim shows, twice the standard error."""
        return 2.0 * self.noise_mm / max(1.0, math.sqrt(self.seen * _RAYS / 6.0))  # edges beside one another agree


@dataclass(frozen=True, kw_only=True)
class Slant:
    """From where a picture of a face was taken: the eye's place over it, its height, and the wall's thickness.

    On the slant a bore's lower rim shows inside the upper one, as a second circle.
    """

    eye_mm: tuple[float, float, float]
    wall_mm: float

    def lower_mm(self, at_mm: Point | Floats) -> Floats:
        """Return by how much the lower rim of a bore is seen shifted against the upper one, (2,)."""
        way = np.array(self.eye_mm[:2]) - np.array(at_mm)
        return np.asarray(way * self.wall_mm / (self.eye_mm[2] + self.wall_mm))


def votes(grey: Floats, radius_px: float) -> Floats:
    """Return for each pixel of a picture (h, w) of linear light how much of a dark disc's rim lies round it, 0 to 1."""
    down, across = (ndimage.gaussian_filter(grey, 1.0, order=order) for order in ((1, 0), (0, 1)))
    strength = np.hypot(down, across)
    rows, columns = np.nonzero(strength > max(0.25 * float(np.percentile(strength, 99.5)), 1e-6))
    way = np.stack([down[rows, columns], across[rows, columns]]) / strength[rows, columns]
    at = np.rint(np.stack([rows, columns]) - radius_px * way).astype(int)
    inside = (at >= 0).all(axis=0) & (at[0] < grey.shape[0]) & (at[1] < grey.shape[1])
    heap = np.zeros(grey.shape)
    np.add.at(heap, (at[0][inside], at[1][inside]), 1.0)
    # A rim is about two pixels of such steps wide; a whole one would give 2 pi r times that.
    return np.asarray(ndimage.gaussian_filter(heap, 1.2) * 2.0 * np.pi * 1.2**2 * 2.0 / (2.0 * np.pi * radius_px * 3.0))


def peaks(heap: Floats, apart_px: float, most: int) -> list[tuple[float, float, float]]:
    """Return the strongest places (strength, row, column) of a heap of votes that lie so far apart."""
    size = max(3, 2 * int(apart_px) + 1)
    is_peak = (heap == ndimage.maximum_filter(heap, size)) & (heap > 0.0)
    at = np.argwhere(is_peak)
    order = np.argsort(-heap[is_peak])[:most]
    return [(float(heap[tuple(at[each])]), float(at[each][0]), float(at[each][1])) for each in order]


def find_hole(
    grey: Floats, at_mm: Point | Floats, diameter_mm: float, per_mm: float, slant: Slant | None = None
) -> SeenHole | None:
    """Return the hole nearest in look to a drill's in linear light (h, w), sought about a place; None where none shows.

    `at_mm` is x and y from the picture's corner, `per_mm` pixels in a millimetre.
    """
    at_px = (float(at_mm[0]) * per_mm, float(at_mm[1]) * per_mm)
    reach = (SEARCH_MM + diameter_mm / 2 + _LARGER_MM + 1.0) * per_mm
    left, top = (max(0, int(value - reach)) for value in at_px)
    part = grey[top : int(at_px[1] + reach) + 1, left : int(at_px[0] + reach) + 1]
    if min(part.shape) < diameter_mm * per_mm:
        return None
    voted = _voted(part, (at_px[0] - left, at_px[1] - top), diameter_mm, per_mm)
    if voted is None:
        return None
    smooth = ndimage.gaussian_filter(part, 0.7)
    rim = _rim(smooth, voted.circle, per_mm, np.ones(_RAYS, bool))
    if rim is None:
        return None
    other, torn = voted.rival, 0.0
    if slant is not None:
        lower = slant.lower_mm(at_mm)
        upper = _rim(smooth, (rim.x, rim.y, rim.radius), per_mm, _upper_rays(lower), lower_px=lower * per_mm)
        if upper is not None:
            torn = float(np.hypot(upper.x - rim.x, upper.y - rim.y)) / per_mm
            if upper.is_lower_there and _is_whole(upper) and upper.is_edge.mean() >= rim.is_edge.mean():
                rim, torn = upper, 0.0
            elif torn > TORN_MM:
                rim, other = upper, (rim.x, rim.y)
    seen, gap = float(rim.is_edge.mean()), _gap_deg(rim.is_edge)
    diameter = 2.0 * rim.radius / per_mm
    inside, outside = rim.levels
    reasons = (
        (seen < LEAST_SEEN, f"only {seen:.0%} of its rim is seen"),
        (gap > WIDEST_GAP_DEG, f"its rim has a gap of {gap:.0f} degrees"),
        (voted.rival is not None, "another circle near it is seen as well"),
        (
            not THINNEST_MM <= diameter - diameter_mm <= THICKEST_MM,
            f"it looks {diameter:.2f} mm wide, the drill is {diameter_mm:.2f}",
        ),
        (torn > TORN_MM, f"the bore's lower rim may be taken for the upper one, {torn:.2f} mm off"),
        (inside >= outside, "it is not darker inside than round it"),
    )
    return SeenHole(
        x_px=rim.x + left,
        y_px=rim.y + top,
        diameter_mm=diameter,
        seen=seen,
        noise_mm=rim.off / per_mm,
        inside=inside,
        rival_px=(other[0] + left, other[1] + top) if other is not None else None,
        unsure=next((words for is_so, words in reasons if is_so), ""),
    )


@dataclass(frozen=True, kw_only=True)
class _Voted:
    """The circle that most of a picture votes for, in pixels, and the place nearly as strong as its middle, if any."""

    circle: Circle
    rival: Point | None


def _voted(part: Floats, at_px: Point, diameter_mm: float, per_mm: float) -> _Voted | None:
    """Return what a picture (h, w) votes for near a place, over radii about a drill's; None where it votes for none."""
    rows, columns = np.mgrid[: part.shape[0], : part.shape[1]] + 0.5
    is_near = np.hypot(columns - at_px[0], rows - at_px[1]) <= SEARCH_MM * per_mm
    most, circle = 0.0, (0.0, 0.0, 0.0)
    strongest = np.zeros(part.shape)
    for extra in np.arange(-_SMALLER_MM, _LARGER_MM + 1e-9, _STEP_MM):
        radius = (diameter_mm + float(extra)) / 2 * per_mm
        heap = np.where(is_near, votes(part, radius), 0.0)
        strongest = np.maximum(strongest, heap)
        row, column = divmod(int(np.argmax(heap)), part.shape[1])
        if heap[row, column] > most:
            most, circle = float(heap[row, column]), (column + 0.5, row + 0.5, radius)
    if most <= 0.0:
        return None
    apart = _APART_MM * per_mm
    rivals = [
        (strength, (column + 0.5, row + 0.5))
        for strength, row, column in peaks(strongest, apart, 4)
        if np.hypot(row + 0.5 - circle[1], column + 0.5 - circle[0]) > apart
    ]
    strength, rival = max(rivals, default=(0.0, (0.0, 0.0)))
    return _Voted(circle=circle, rival=rival if strength > STRONGEST_RIVAL * most else None)


@dataclass(frozen=True, kw_only=True, eq=False)
class _Rim:
    """A circle fitted to a rim, in pixels: the rays that see it, how far they lie off, the light inside and outside.

    `is_lower_there` says that rays which see the bore's lower rim inside it see that where it must lie.
    """

    x: float
    y: float
    radius: float
    is_edge: NDArray[np.bool_]
    off: float
    levels: tuple[float, float]
    is_lower_there: bool


def _upper_rays(lower_mm: Floats) -> NDArray[np.bool_]:
    """Return the rays on which a bore's lower rim, seen shifted, does not show inside the upper one."""
    angle = np.arange(_RAYS) * 2.0 * np.pi / _RAYS
    return np.asarray(lower_mm[0] * np.cos(angle) + lower_mm[1] * np.sin(angle) > -_LOWER_MM)


def _is_whole(rim: _Rim) -> bool:
    """Return whether enough of a rim is seen, all round."""
    return rim.is_edge.mean() >= LEAST_SEEN and _gap_deg(rim.is_edge) <= WIDEST_GAP_DEG


def _rim(
    smooth: Floats, start: Circle, per_mm: float, is_asked: NDArray[np.bool_], *, lower_px: Floats | None = None
) -> _Rim | None:
    """Return the circle fitted to the rim near another one, by the rays that are asked; None where few see any.

    A bore's wall that is as bright as the paint hides the upper rim on its side: the rays there see the lower one,
    `lower_px` off it, and are counted as well.
    """
    x, y, radius = start
    angle = np.arange(_RAYS) * 2.0 * np.pi / _RAYS
    steps = np.arange(-_RAY_MM * per_mm, _RAY_MM * per_mm + 1e-9, _RAY_STEP)
    is_edge, off, is_lower_there = np.zeros(_RAYS, bool), 0.0, False
    for _ in range(3):
        along = radius + steps[None, :]
        at = [y - 0.5 + along * np.sin(angle)[:, None], x - 0.5 + along * np.cos(angle)[:, None]]
        rise = np.gradient(ndimage.map_coordinates(smooth, at, order=1, mode="nearest"), axis=1) / _RAY_STEP
        top = rise[:, 1:-1].argmax(axis=1) + 1
        ray = np.arange(_RAYS)
        before, peak, after = rise[ray, top - 1], rise[ray, top], rise[ray, top + 1]
        bend = before - 2.0 * peak + after
        shift = np.where(np.abs(bend) > 1e-12, 0.5 * (before - after) / np.where(bend == 0.0, 1.0, bend), 0.0)
        reach = radius + steps[top] + np.clip(shift, -1.0, 1.0) * _RAY_STEP
        is_strong = (peak > _STRONG * float(np.median(peak))) & is_asked
        if is_strong.sum() < _RAYS // 4 or float(np.median(peak)) <= 0.0:
            return None
        places = np.stack([x + reach * np.cos(angle), y + reach * np.sin(angle)], axis=-1)
        x, y, radius = _circle(places[is_strong], (x, y, radius), per_mm)
        away = np.hypot(places[:, 0] - x, places[:, 1] - y) - radius
        is_edge = (peak > _STRONG * float(np.median(peak))) & (np.abs(away) < _NEAR_MM * per_mm)
        counted = away[is_edge & is_asked]
        off = float(np.sqrt(np.mean(counted**2))) if counted.size else np.inf
        if lower_px is not None:
            below = np.hypot(places[:, 0] - x - lower_px[0], places[:, 1] - y - lower_px[1]) - radius
            is_lower = (peak > _STRONG * float(np.median(peak))) & ~is_edge & (np.abs(below) < _NEAR_MM * per_mm)
            is_lower_there = bool(is_lower.any()) and abs(float(np.median(below[is_lower]))) < TORN_MM * per_mm
            is_edge = is_edge | is_lower
    levels = []
    for r in (0.7 * radius, radius + 0.5 * per_mm):
        ring = [y - 0.5 + r * np.sin(angle), x - 0.5 + r * np.cos(angle)]
        levels.append(float(np.median(ndimage.map_coordinates(smooth, ring, order=1, mode="nearest"))))
    return _Rim(
        x=x, y=y, radius=radius, is_edge=is_edge, off=off, levels=(levels[0], levels[1]), is_lower_there=is_lower_there
    )


def _circle(places: Floats, start: Circle, per_mm: float) -> Circle:
    """Return the circle (x, y, radius) through places (n, 2), by Gauss-Newton with Tukey's biweight."""
    x, y, radius = start
    for _ in range(8):
        way = places - (x, y)
        reach = np.hypot(*way.T)
        off = reach - radius
        scale = max(
            1.4826 * float(np.median(np.abs(off - np.median(off)))), 0.02 * per_mm
        )  # normal noise: by definition
        weight = np.clip(1.0 - (off / (4.685 * scale)) ** 2, 0.0, None) ** 2  # 4.685: 95 % efficient; Huber 1981
        if weight.sum() < 6.0:
            weight = np.ones_like(off)
        slope = np.column_stack([way / reach[:, None], np.ones(len(way))])
        step, *_ = np.linalg.lstsq(slope * np.sqrt(weight)[:, None], off * np.sqrt(weight), rcond=None)
        x, y, radius = x + step[0], y + step[1], radius + step[2]
    return float(x), float(y), float(radius)


def _gap_deg(is_edge: NDArray[np.bool_]) -> float:
    """Return the widest run of rays that see no rim, in degrees."""
    if not is_edge.any():
        return 360.0
    seen = np.flatnonzero(is_edge)
    return float((np.diff(np.append(seen, seen[0] + len(is_edge))) - 1).max() * 360.0 / len(is_edge))


def candidates(grey: Floats, diameters_mm: Sequence[float], per_mm: float, most: int = 12) -> dict[float, Floats]:
    """Return for each diameter the places (n, 2), column and row, that look most like such a hole."""
    found = {}
    for diameter in dict.fromkeys(diameters_mm):
        heap = votes(grey, (diameter + 0.1) / 2 * per_mm)
        found[diameter] = np.array([(column + 0.5, row + 0.5) for _, row, column in peaks(heap, per_mm, most)])
    return found
