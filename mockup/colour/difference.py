"""How far apart two colours look: CIELAB, CIEDE2000, and the contrast ratio for reading."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mockup.colour import rgb

Floats = NDArray[np.float64]

_EPSILON = 216.0 / 24389.0  # CIE 15:2018 8.2.1, (6/29)^3
_KAPPA = 24389.0 / 27.0  # CIE 15:2018 8.2.1, (29/3)^3
FLARE = 0.05  # WCAG 2.2, "contrast ratio": light that every surface throws back


def xyz_to_lab(xyz: ArrayLike) -> Floats:
    """Return CIELAB (..., 3) under D65 for XYZ (..., 3) with Y = 1 for white (CIE 15:2018 8.2.1)."""
    ratio = np.asarray(xyz, dtype=np.float64) / rgb.WHITE_XYZ
    f = np.where(ratio > _EPSILON, np.cbrt(ratio), (_KAPPA * ratio + 16.0) / 116.0)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)], axis=-1)


def lab_to_xyz(lab: ArrayLike) -> Floats:
    """Return XYZ (..., 3) with Y = 1 for white of CIELAB (..., 3) under D65 (CIE 15:2018 annex C.1)."""
    light, a, b = np.moveaxis(np.asarray(lab, dtype=np.float64), -1, 0)
    y = (light + 16.0) / 116.0
    f = np.stack([y + a / 500.0, y, y - b / 200.0], axis=-1)
    ratio = np.where(f**3 > _EPSILON, f**3, (116.0 * f - 16.0) / _KAPPA)
    return np.asarray(ratio * rgb.WHITE_XYZ)


def linear_to_lab(linear: ArrayLike) -> Floats:
    """Return CIELAB (..., 3) under D65 for linear sRGB (..., 3)."""
    return xyz_to_lab(np.asarray(linear, dtype=np.float64) @ rgb.SRGB_TO_XYZ.T)


def encoded_to_lab(encoded: ArrayLike) -> Floats:
    """Return CIELAB (..., 3) under D65 for encoded sRGB (..., 3)."""
    return linear_to_lab(rgb.decode(encoded))


def ciede2000(first: ArrayLike, second: ArrayLike) -> Floats:
    """Return the CIEDE2000 difference (...) of two CIELAB arrays (..., 3), which broadcast.

    kL = kC = kH = 1. Constants and the treatment of hue: Sharma, Wu and Dalal, Color Research and
    Application 30(1), 2005, equations 2 to 22.
    """
    lab1, lab2 = np.broadcast_arrays(np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64))
    l1, a1, b1 = lab1[..., 0], lab1[..., 1], lab1[..., 2]
    l2, a2, b2 = lab2[..., 0], lab2[..., 1], lab2[..., 2]

    g = 0.5 * (1.0 - _seventh((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2.0))  # eq. 4
    a1, a2 = (1.0 + g) * a1, (1.0 + g) * a2  # eq. 5
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)  # eq. 6
    h1, h2 = (np.degrees(np.arctan2(b, a)) % 360.0 for a, b in ((a1, b1), (a2, b2)))  # eq. 7

    is_grey = c1 * c2 == 0.0  # hue means nothing then
    turn = (h2 - h1 + 180.0) % 360.0 - 180.0
    turn = np.where((turn == -180.0) & (h2 > h1), 180.0, turn)  # eq. 10 keeps +180 where h2 - h1 is just that
    turn = np.where(is_grey, 0.0, turn)
    dl, dc = l2 - l1, c2 - c1  # eq. 8, 9
    dh = 2.0 * np.sqrt(c1 * c2) * np.sin(np.radians(turn / 2.0))  # eq. 11

    l_mean, c_mean = (l1 + l2) / 2.0, (c1 + c2) / 2.0  # eq. 12, 13
    total = h1 + h2
    wrapped = np.where(np.abs(h1 - h2) <= 180.0, total, np.where(total < 360.0, total + 360.0, total - 360.0))
    h_mean = np.where(is_grey, total, wrapped / 2.0)  # eq. 14

    t = (
        1.0
        - 0.17 * _cos(h_mean - 30.0)
        + 0.24 * _cos(2.0 * h_mean)
        + 0.32 * _cos(3.0 * h_mean + 6.0)
        - 0.20 * _cos(4.0 * h_mean - 63.0)
    )  # eq. 15
    swing = 30.0 * np.exp(-(((h_mean - 275.0) / 25.0) ** 2))  # eq. 16
    rc = 2.0 * _seventh(c_mean)  # eq. 17
    sl = 1.0 + 0.015 * (l_mean - 50.0) ** 2 / np.sqrt(20.0 + (l_mean - 50.0) ** 2)  # eq. 18
    sc, sh = 1.0 + 0.045 * c_mean, 1.0 + 0.015 * c_mean * t  # eq. 19, 20
    rt = -np.sin(np.radians(2.0 * swing)) * rc  # eq. 21
    lightness, chroma, hue = dl / sl, dc / sc, dh / sh
    square = lightness**2 + chroma**2 + hue**2 + rt * chroma * hue
    return np.asarray(np.sqrt(np.maximum(square, 0.0)))  # eq. 22; rounding can dip below zero


def difference(first: ArrayLike, second: ArrayLike) -> Floats:
    """Return the CIEDE2000 difference (...) of two encoded sRGB arrays (..., 3), which broadcast."""
    return ciede2000(encoded_to_lab(first), encoded_to_lab(second))


def contrast(first: ArrayLike, second: ArrayLike) -> Floats:
    """Return the WCAG 2.2 contrast ratio (...), 1 to 21, of two encoded sRGB arrays (..., 3)."""
    one, two = rgb.luminance(first), rgb.luminance(second)
    return np.asarray((np.maximum(one, two) + FLARE) / (np.minimum(one, two) + FLARE))


def _seventh(chroma: Floats) -> Floats:
    power = chroma**7
    return np.asarray(np.sqrt(power / (power + 25.0**7)))


def _cos(degrees: Floats) -> Floats:
    return np.asarray(np.cos(np.radians(degrees)))
