"""Register marks in a photograph or scan: two black quadrants that meet in a point, found to a part of a pixel.

Where dark and light quadrants meet, brightness has a saddle: it falls along one diagonal and rises along the other.
Candidates are the strongest saddles at several scales; a true mark shows two dark and two light quadrants on every
ring round it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

Floats = NDArray[np.float64]

_SIDE_PX = 1800  # longer side of the picture that is searched: by trial
_SIGMAS = (1.5, 3.0, 5.0)  # pixels of it: marks of 6 to 60 pixels; by trial
_CANDIDATES = 150  # saddles that are looked at closely, of each scale: by trial
_ROUND = 32  # samples of a ring
_LEAST_SHARE = 0.78  # of a ring's variance that two dark and two light quadrants explain; 0.90 for perfect ones
_LEAST_CONTRAST = 0.03  # of the picture's range of encoded brightness: by trial
_FINE = 6  # steps of the refinement


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A mark's middle in pixels (x right, y down, from the corner of the picture), and how sure it is (0 to 1)."""

    x_px: float
    y_px: float
    sure: float


def marks(picture: NDArray[np.uint8], most: int = 14) -> tuple[Mark, ...]:
    """Return the likeliest register marks of a picture (h, w, 3), the surest first."""
    grey = picture[..., :3].mean(axis=-1, dtype=np.float64) / 255.0
    step = max(1, round(max(grey.shape) / _SIDE_PX))
    height, width = (side // step * step for side in grey.shape)
    small = grey[:height, :width].reshape(height // step, step, width // step, step).mean(axis=(1, 3))
    reach = max(float(np.percentile(small, 99) - np.percentile(small, 1)), 1e-6)
    found: list[tuple[float, float, float]] = []
    for sigma in _SIGMAS:
        for row, column in _saddles(small, sigma):
            y, x = refined(small, float(row), float(column), sigma)
            sure = _sureness(small, y, x, sigma, reach)
            if sure > 0.0:
                found.append((sure, (x + 0.5) * step, (y + 0.5) * step))
    kept: list[Mark] = []
    for sure, x, y in sorted(found, reverse=True):
        if all(np.hypot(x - each.x_px, y - each.y_px) > 8 * step for each in kept):
            kept.append(Mark(x_px=x, y_px=y, sure=sure))
        if len(kept) == most:
            break
    return tuple(kept)


def _saddles(grey: Floats, sigma: float) -> NDArray[np.intp]:
    """Return rows and columns (n, 2) of the strongest saddles at one scale."""
    across = ndimage.gaussian_filter(grey, sigma, order=(0, 2))
    down = ndimage.gaussian_filter(grey, sigma, order=(2, 0))
    both = ndimage.gaussian_filter(grey, sigma, order=(1, 1))
    strength = both**2 - across * down
    edge = int(4 * sigma)
    is_peak = (strength == ndimage.maximum_filter(strength, 2 * edge + 1)) & (strength > 0.0)
    is_peak[:edge] = is_peak[-edge:] = False
    is_peak[:, :edge] = is_peak[:, -edge:] = False
    at = np.argwhere(is_peak)
    order = np.argsort(-strength[is_peak])[:_CANDIDATES]
    return np.asarray(at[order])


def refined(grey: Floats, row: float, column: float, sigma: float) -> tuple[float, float]:
    """Return the row and column at which the quadratic through a saddle's surroundings is level, to a part of a pixel.

    They count from the middle of the first pixel; `sigma` is how far the surroundings reach, in pixels.
    """
    span = int(np.ceil(2 * sigma))
    down, across = (each.ravel() for each in np.mgrid[-span : span + 1, -span : span + 1])
    shape = np.stack([across**2, across * down, down**2, across, down, np.ones_like(down)], axis=-1).astype(np.float64)
    weight = np.exp(-(across**2 + down**2) / (2.0 * sigma**2))
    solve = np.linalg.pinv(shape * weight[:, None]) * weight
    at = np.array([row, column])
    for _ in range(_FINE):
        values = ndimage.map_coordinates(grey, [at[0] + down, at[1] + across], order=1, mode="nearest")
        a, b, c, d, e, _ = solve @ values
        turn = 4 * a * c - b * b
        if turn >= -1e-12:  # no saddle
            break
        move = np.array([b * d - 2 * a * e, b * e - 2 * c * d]) / turn  # (down, across)
        at = at + np.clip(move, -1.0, 1.0)
        if np.abs(move).max() < 0.01:
            break
    return float(at[0]), float(at[1])


def _sureness(grey: Floats, row: float, column: float, sigma: float, reach: float) -> float:
    """Return how much a place looks like a mark, 0 where it does not."""
    angle = np.arange(_ROUND) * 2.0 * np.pi / _ROUND
    shares, contrasts = [], []
    for radius in (1.5 * sigma, 2.2 * sigma, 3.0 * sigma):
        ring = ndimage.map_coordinates(
            grey, [row + radius * np.sin(angle), column + radius * np.cos(angle)], order=1, mode="nearest"
        )
        waves = np.abs(np.fft.rfft(ring - ring.mean())) ** 2
        total = float(waves[1:].sum())
        shares.append(float(waves[2] + waves[6]) / total if total > 0.0 else 0.0)
        contrasts.append(float(np.ptp(ring)))
    share, contrast = min(shares), min(contrasts)
    return share if share >= _LEAST_SHARE and contrast >= _LEAST_CONTRAST * reach else 0.0
