"""Evenly spread points, the same in every run: pixel jitter, lamp points, directions of the sky."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# Generalised golden ratio in two dimensions, real root of x^3 = x + 1 (Roberts 2018, R2 sequence)
_PLASTIC: Final = 1.324717957244746
_GOLDEN: Final = (5.0**0.5 - 1.0) / 2.0  # the golden ratio's fraction


def square(count: int, start: int = 0) -> Floats:
    """Return (count, 2) points in the unit square, evenly spread however many are used."""
    index = np.arange(start + 1, start + count + 1)
    return np.column_stack([index / _PLASTIC, index / _PLASTIC**2]) % 1.0


def pixel_filter(count: int, radius: float = 0.5**0.5) -> Floats:
    """Return (count, 2) offsets in pixels drawn from a tent of the given radius, their mean zero.

    Averaging pictures at these offsets filters each pixel by the tent (importance sampling). The tent is as sharp as
    the path tracer's square pixel: both have the variance 1/12.
    """
    if count == 1:
        return np.zeros((1, 2))
    u = square(count)
    tent = np.where(u < 0.5, np.sqrt(2.0 * u) - 1.0, 1.0 - np.sqrt(2.0 * (1.0 - u))) * radius
    return np.asarray(tent - tent.mean(axis=0))


def cells(count: int) -> Floats:
    """Return (count, 2) offsets in pixels: the middles of a pixel's equal cells; `count` is a square number."""
    side = round(count**0.5)
    at = (np.arange(side) + 0.5) / side - 0.5
    return np.stack(np.meshgrid(at, at), axis=-1).reshape(-1, 2)


def upper_half(count: int, start: int = 0) -> Floats:
    """Return (count, 3) unit directions, uniform by solid angle over the upper half."""
    u = square(count, start)
    z = u[:, 0]
    return _about_z(z, 2.0 * np.pi * u[:, 1])


def disc(count: int, turn: float = 0.0) -> Floats:
    """Return (count, 2) points in the unit disc on a golden spiral; `turn` in radians."""
    index = np.arange(count) + 0.5
    r, a = np.sqrt(index / count), 2.0 * np.pi * _GOLDEN * index + turn
    return np.column_stack([r * np.cos(a), r * np.sin(a)])


def lobe(count: int) -> Floats:
    """Return (count, 2) slopes spread as GGX's slope distribution of width 1, its far tail cut off.

    Inverse of the radial distribution s^2 / (1 + s^2) (Walter et al. 2007, eq. 35), up to 85 %.
    """
    if count == 1:
        return np.zeros((1, 2))
    u = square(count, start=3)
    share = 0.85 * u[:, 0]
    r, a = np.sqrt(share / (1.0 - share)), 2.0 * np.pi * u[:, 1]
    return np.column_stack([r * np.cos(a), r * np.sin(a)])


def _about_z(z: Floats, angle: Floats) -> Floats:
    r = np.sqrt(np.maximum(0.0, 1.0 - z * z))
    return np.column_stack([r * np.cos(angle), r * np.sin(angle), z])
