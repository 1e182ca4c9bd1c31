"""The three bands of light in which ink, film and paint multiply, and the way to them and back."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mockup.colour import rgb
from mockup.colour.difference import lab_to_xyz, linear_to_lab

Floats = NDArray[np.float64]

TO_BANDS: Floats = np.array([[0.66, 0.29, 0.05], [0.02, 0.89, 0.09], [0.04, 0.05, 0.91]])
"""Linear sRGB to bands; rows sum to 1, so white stays white.

Fitted by us to the angular integral of eight sets of dyes over half of the surfaces of CIE 224:2017, by its mean, its
tail and how far hues turn, so that no ink over no paint is darker than black; tests hold it to other dyes and to all
surfaces.
"""
FROM_BANDS: Floats = np.linalg.inv(TO_BANDS).astype(np.float64)


def bands(encoded: ArrayLike) -> Floats:
    """Return reflectance (..., 3), in bands, of encoded sRGB (..., 3), 0 to 1, or of 8-bit pixels."""
    pixels = np.asarray(encoded)
    linear = rgb.decode_8bit(pixels) if pixels.dtype == np.uint8 else rgb.decode(pixels)
    return np.maximum(linear @ TO_BANDS.T, 0.0)


def to_lab(reflectance: Floats) -> Floats:
    """Return CIELAB (..., 3) under D65 of reflectance in bands; what lies outside sRGB is not clipped."""
    return linear_to_lab(reflectance @ FROM_BANDS.T)


def from_lab(lab: Floats) -> Floats:
    """Return reflectance (..., 3), in bands and no less than 0, of CIELAB under D65."""
    return np.maximum(lab_to_xyz(lab) @ rgb.XYZ_TO_SRGB.T @ TO_BANDS.T, 0.0)
