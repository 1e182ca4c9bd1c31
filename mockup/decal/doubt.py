"""How far a prediction may be off: the standard deviation of its CIELAB values, by what is printed on what.

The figures are the spread of our own simulated printers round the prediction (tests/calibration): inks of other dyes,
dots that grow, a gamut smaller than sRGB. A printer that prints sRGB well does better.
"""

from __future__ import annotations

import numpy as np

from mockup.decal.bands import Floats, from_lab, to_lab

NINE_IN_TEN = 1.645  # standard deviations to either side that hold 90 %: normal distribution, any table
_BY_INK: Floats = np.array([3.5, 4.5, 5.0])  # of L*, a*, b* for full ink on a printer that was not measured


def spread(ink: Floats) -> Floats:
    """Return standard deviations (..., 3) of L*, a* and b* for ink as it looks on white, in bands (..., 3)."""
    return np.asarray((1.0 - ink.min(axis=-1, keepdims=True)) * _BY_INK)


def shifted(reflectance: Floats, ink: Floats, end: float) -> Floats:
    """Return reflectance (..., 3) in bands at the darkest (`end` -1) or lightest (1) that nine prints in ten reach."""
    lab = to_lab(reflectance)
    lab[..., 0] = np.maximum(lab[..., 0] + end * NINE_IN_TEN * spread(ink)[..., 0], 0.0)
    return from_lab(lab)
