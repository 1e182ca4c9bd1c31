"""The light that a pedal is looked at in: how its colours shift from daylight, to an eye that is used to that light.

A colour known in daylight alone becomes a reflectance spectrum by the primaries of Mallett and Yuksel, Spectral
Primary Decomposition for Rendering with sRGB Reflectance (EGSR 2019). Seen in the other light by the CIE 1931
observer and adapted to daylight with CAT16 (CIE 248:2022), it is linear in linear sRGB again: one matrix a light.
It says what most surfaces do. On chart spectra it takes the mean shift from 3.2 to 2.4 CIEDE2000 in tungsten light
and from 2.5 to 2.1 in a warm LED's; paints that match in daylight may still part there.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from mockup.model.scene import DAYLIGHT

Floats = NDArray[np.float64]

# Made from CIE 015:2018 (illuminant A; LED-B1, a warm white of 2733 K), 400 to 700 nm; tests make them again.
_SHIFTS: Mapping[str, tuple[tuple[float, float, float], ...]] = {
    "warm-led": ((1.2419, -0.2219, -0.0200), (0.0938, 0.9523, -0.0460), (0.0100, 0.0803, 0.9097)),
    "tungsten": ((1.2969, -0.2699, -0.0270), (0.0603, 0.9697, -0.0300), (0.0119, 0.1098, 0.8783)),
}
ROOM_WORDS: Mapping[str, str] = {DAYLIGHT: "Daylight", "warm-led": "Warm white LED", "tungsten": "Tungsten"}

LIMIT = "Shifts of colour under {room} light are those of most surfaces; two that match in daylight may part there."


def in_room(linear: Floats, room: str) -> Floats:
    """Return how linear sRGB (..., 3) of daylight looks in a room's light; white stays white. It is not clipped."""
    return linear if room == DAYLIGHT else np.asarray(linear @ np.array(_SHIFTS[room]).T)
