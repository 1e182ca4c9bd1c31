"""A flat thing in a photograph or scan: from its own millimetres to the picture's pixels, and what is seen there.

The picture is never resampled as a whole: places in millimetres are taken to it, and pixels are read where they are.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import ndimage

Floats = NDArray[np.float64]

_SLACK_PX = 0.5  # corners picked at the very edge of a picture: our choice
_ROWS = 200  # at a time, so that memory stays small


@dataclass(frozen=True, kw_only=True, eq=False)
class Plane:
    """The plane of a flat thing: `matrix` (3, 3) takes (x mm, y mm, 1) to pixels (column, row, 1), times a factor."""

    matrix: Floats

    def pixels(self, places_mm: ArrayLike) -> Floats:
        """Return pixels (..., 2), column and row, of places (..., 2) in millimetres."""
        return _projected(self.matrix, places_mm)

    def places(self, pixels: ArrayLike) -> Floats:
        """Return places (..., 2) in millimetres of pixels (..., 2)."""
        return _projected(np.linalg.inv(self.matrix).astype(np.float64), pixels)

    def per_mm(self, place_mm: ArrayLike) -> float:
        """Return pixels per millimetre at a place, the lesser of both directions."""
        at = np.asarray(place_mm, np.float64)
        steps = self.pixels(at + np.array([[0.5, 0.0], [0.0, 0.5]])) - self.pixels(
            at - np.array([[0.5, 0.0], [0, 0.5]])
        )
        return float(np.hypot(steps[:, 0], steps[:, 1]).min())


def plane(places_mm: ArrayLike, pixels: ArrayLike) -> Plane:
    """Return the plane in which places (n, 2) lie at pixels (n, 2), n >= 4, by least squares.

    The direct linear transform with both sets centred and scaled: Hartley and Zisserman, Multiple View Geometry,
    2004, algorithm 4.2. Raises `ValueError` where the points lie in a line.
    """
    (from_, own), (to, seen) = (_normal(np.asarray(each, np.float64)) for each in (places_mm, pixels))
    rows = []
    for (x, y), (u, v) in zip(own, seen, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y, -u], [0, 0, 0, x, y, 1, -v * x, -v * y, -v]]
    _, sizes, turned = np.linalg.svd(np.array(rows))
    if sizes[7] < 1e-9 * sizes[0]:
        raise ValueError("the points lie in a line")
    matrix = np.linalg.inv(to) @ turned[-1].reshape(3, 3) @ from_
    return Plane(matrix=matrix / matrix[2, 2])


def window(
    picture: NDArray[Any], on: Plane, centre_mm: Sequence[float], size_mm: Sequence[float], steps: int = 12
) -> Floats:
    """Return what a picture (h, w, channels) shows (steps^2, channels) in a rectangle of a plane, at even steps.

    Raises `ValueError` where it leaves the picture.
    """
    share = (np.arange(steps) + 0.5) / steps - 0.5
    across, down = np.meshgrid(share * size_mm[0], share * size_mm[1])
    at = on.pixels(np.stack([across.ravel() + centre_mm[0], down.ravel() + centre_mm[1]], axis=-1)) - 0.5
    height, width = picture.shape[:2]
    if at.min() < 0.0 or at[:, 0].max() > width - 1 or at[:, 1].max() > height - 1:
        raise ValueError("it reaches beyond the picture")
    low = np.floor(at.min(axis=0)).astype(int)
    high = np.ceil(at.max(axis=0)).astype(int) + 1
    part = picture[low[1] : high[1] + 1, low[0] : high[0] + 1]
    return _sampled(part, at - low)


def cornered(corners: ArrayLike, size_mm: Sequence[float]) -> Plane:
    """Return the plane of a rectangle `size_mm` wide and high, seen with its corners at pixels (4, 2).

    They run clockwise from its top left one. Raises `ValueError` where they do not.
    """
    seen = np.asarray(corners, np.float64)
    ways = np.roll(seen, -1, axis=0) - seen
    after = np.roll(ways, -1, axis=0)
    if (ways[:, 0] * after[:, 1] - ways[:, 1] * after[:, 0]).min() <= 0.0:
        raise ValueError("the corners do not run clockwise round the face; give them so, from the top left one")
    return plane(_ends(size_mm), seen)


def straightened(
    picture: NDArray[np.uint8],
    light: Callable[[NDArray[np.uint8]], Floats],
    pixels: Callable[[Floats], Floats],
    size_mm: Sequence[float],
    per_mm: float,
    finest: float,
) -> tuple[Floats, float]:
    """Return a rectangle of a picture straight from above (h, w, channels), and its pixels in a millimetre.

    `light` turns 8-bit pixels (h, w, 3) into light that can be averaged, `pixels` places (..., 2) in millimetres into
    the picture's, which has `per_mm` of them in a millimetre. A picture finer than `finest` is averaged first. Where
    the rectangle lies at the edge, the nearest pixel stands. Raises `ValueError` where it leaves the picture.
    """
    step = int(per_mm // finest) + 1 if per_mm > finest else 1
    ends = _ends(size_mm)
    edge = np.concatenate([np.linspace(ends[i], ends[(i + 1) % 4], 9) for i in range(4)])
    seen = pixels(edge)
    height, width = picture.shape[:2]
    if seen.min() < -_SLACK_PX or (seen.max(axis=0) > np.array([width, height]) + _SLACK_PX).any():
        raise ValueError("the face reaches beyond the photograph; take all of it in")
    low = np.maximum(0, np.floor(seen.min(axis=0)).astype(int) - 2 * step)
    high = np.minimum([width, height], np.ceil(seen.max(axis=0)).astype(int) + 2 * step)
    size = (high - low) // step * step
    part = light(picture[low[1] : low[1] + size[1], low[0] : low[0] + size[0], :3])
    small = part.reshape(size[1] // step, step, size[0] // step, step, -1).mean(axis=(1, 3))
    fine = min(per_mm, finest)
    columns, rows = (np.arange(int(side * fine)) + 0.5 for side in size_mm)
    straight = np.empty((len(rows), len(columns), small.shape[2]))
    for start in range(0, len(rows), _ROWS):
        across, down = np.meshgrid(columns / fine, rows[start : start + _ROWS] / fine)
        at = (pixels(np.stack([across, down], axis=-1)) - low) / step - 0.5
        straight[start : start + _ROWS] = _sampled(small, at)
    return straight, fine


def _sampled(picture: NDArray[Any], at: Floats) -> Floats:
    """Return a picture (h, w, channels) at places (..., 2), columns and rows from the middle of its first pixel."""
    where = [at[..., 1], at[..., 0]]
    channels = (picture[..., each] for each in range(picture.shape[2]))
    return np.stack([ndimage.map_coordinates(each, where, order=1, mode="nearest") for each in channels], axis=-1)


def _ends(size_mm: Sequence[float]) -> Floats:
    """Return the corners (4, 2) of a rectangle, clockwise from the top left one."""
    wide, high = size_mm
    return np.array([(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)])


def _projected(matrix: Floats, points: ArrayLike) -> Floats:
    at = np.asarray(points, np.float64)
    flat = np.concatenate([at, np.ones((*at.shape[:-1], 1))], axis=-1) @ matrix.T
    return np.asarray(flat[..., :2] / flat[..., 2:])


def _normal(points: Floats) -> tuple[Floats, Floats]:
    """Return the matrix that centres points and brings them to a mean distance of sqrt 2, and the points so moved."""
    middle = points.mean(axis=0)
    scale = np.sqrt(2.0) / max(float(np.hypot(*(points - middle).T).mean()), 1e-12)
    matrix = np.array([[scale, 0.0, -scale * middle[0]], [0.0, scale, -scale * middle[1]], [0.0, 0.0, 1.0]])
    return matrix, (points - middle) * scale
