"""Lightness, strength and hue of a colour: CIELAB under D65 in polar form, the three ways in which colours differ.

Lightness runs from 0 (black) to 100 (white); hue is in degrees, about 40 red, 103 yellow, 136 green, 306 blue.
"""

from __future__ import annotations

import math

import numpy as np

from mockup.colour import rgb
from mockup.colour.difference import encoded_to_lab, lab_to_xyz
from mockup.model.material import Colour

MOST_CHROMA = 134.0  # sRGB's strongest colour, its blue, has 133.8: calculated from IEC 61966-2-1:1999
_STEPS = 20  # halvings of the range of chroma: finer than an 8-bit code
_SLACK = 1e-4  # rounding at the gamut's edge


def to_lch(colour: Colour) -> tuple[float, float, float]:
    """Return lightness, chroma and hue of an encoded sRGB colour; the hue of a grey is 0."""
    light, a, b = (float(value) for value in encoded_to_lab(colour))
    chroma = math.hypot(a, b)
    return light, chroma, math.degrees(math.atan2(b, a)) % 360.0 if chroma > 1e-3 else 0.0


def most_chroma(lightness: float, hue_deg: float) -> float:
    """Return the chroma of the strongest colour of a lightness and hue that sRGB has."""
    low, high = 0.0, MOST_CHROMA
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if _is_in_srgb(_encoded(lightness, middle, hue_deg)) else (low, middle)
    return low


def from_lch(lightness: float, chroma: float, hue_deg: float) -> Colour:
    """Return the encoded sRGB colour; one that sRGB does not have is made weaker until it does."""
    found = _encoded(lightness, chroma, hue_deg)
    if not _is_in_srgb(found):
        found = _encoded(lightness, most_chroma(lightness, hue_deg), hue_deg)
    red, green, blue = (min(max(float(value), 0.0), 1.0) for value in found)
    return red, green, blue


def _encoded(lightness: float, chroma: float, hue_deg: float) -> rgb.Floats:
    angle = math.radians(hue_deg)
    xyz = lab_to_xyz(np.array([lightness, chroma * math.cos(angle), chroma * math.sin(angle)]))
    return rgb.encode(xyz @ rgb.XYZ_TO_SRGB.T)


def _is_in_srgb(encoded: rgb.Floats) -> bool:
    return bool((encoded >= -_SLACK).all() and (encoded <= 1.0 + _SLACK).all())
