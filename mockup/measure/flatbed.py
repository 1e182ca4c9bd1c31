"""The drilled face on a flatbed scanner: the scanner's resolution gives the scale.

One scan shows no edges that could be trusted (a lamp at one side moves them by up to a millimetre), so that it says
nothing of the pattern's place on the box; two do, see `outline`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.colour import rgb
from mockup.measure.holes import Floats
from mockup.measure.pattern import SeenFace, seen_face
from mockup.model.units import MM_PER_INCH

DOUBT_MM, MEASURED_DOUBT_MM = 0.1, 0.05
"""How far a hole's middle may be off among the others, the scanner's scale as it says and measured: traced scans gave
0.10 and 0.04 at most; Divis, Mair and Corney, Strathclyde, reached 0.05 with a desktop scanner."""
_LEAST_PER_MM = 5.5  # about 140 dpi; coarser, a rim is a few pixels: by trial


def scanned(
    picture: NDArray[np.uint8],
    dpi: tuple[float, float],
    designed_mm: Floats,
    diameters_mm: Sequence[float],
    true_mm: tuple[float, float] = (1.0, 1.0),
    *,
    turn_deg: float | None = None,
) -> SeenFace:
    """Return the round holes of a face, designed at places (n, 2), in a scan (h, w, 3 or 4), 8-bit encoded sRGB.

    `true_mm` are how many millimetres the scanner's millimetre is, across and down; the rest is as for `seen_face`.
    """
    scale = np.array(true_mm) * MM_PER_INCH / np.array(dpi)  # millimetres in a pixel
    per_mm = float(1.0 / scale.mean())
    if per_mm < _LEAST_PER_MM:
        raise ValueError("the scan is too coarse; scan the face at 300 dpi")
    grey = rgb.decode_8bit(picture[..., :3]).mean(axis=-1)
    if abs(scale[0] / scale[1] - 1.0) > 1e-6:  # square pixels, so that a round hole is round
        grey = ndimage.zoom(grey, (scale[1] / scale.mean(), scale[0] / scale.mean()), order=1)
    return seen_face(grey, per_mm, designed_mm, diameters_mm, turn_deg=turn_deg)
