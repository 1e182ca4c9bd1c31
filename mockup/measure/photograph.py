"""The drilled face in a photograph: straightened in its own plane by the frame of marks, or roughly by its corners."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mockup.colour import rgb
from mockup.geometry.rectify import cornered, straightened
from mockup.measure.frame import Size, found_frame
from mockup.measure.holes import Floats, Slant
from mockup.measure.pattern import SeenFace, seen_face

DOUBT_MM, ROUGH_DOUBT_MM = 0.1, 1.0
"""How far a hole's middle may be off among the others: with the frame, by trial on traced photographs; by the face's
corners, which rounding and a picture's edge leave open: by trial."""
_FINEST_PER_MM = 14.0  # finer, nothing is gained: by trial
_LEAST_PER_MM = 3.0  # by corners
_UNCOVERED_MM = 8.0  # from a face's edges the frame covers nothing, laid as well as one can: our choice


def photographed(
    picture: NDArray[np.uint8],
    face_mm: Size,
    wall_mm: float,
    designed_mm: Floats,
    diameters_mm: Sequence[float],
    true_mm: tuple[float, float] = (1.0, 1.0),
    *,
    turn_deg: float | None = None,
) -> SeenFace:
    """Return the round holes of a face, designed at places (n, 2), in a photograph with the frame of marks on it.

    The picture is (h, w, 3 or 4), 8-bit encoded sRGB, the face `face_mm` wide and high, its wall `wall_mm` thick;
    `true_mm` is as for `found_frame`, the rest as for `seen_face`. Raises `ValueError` as `found_frame` does.
    """
    camera = found_frame(picture, face_mm, true_mm).camera
    per_mm = camera.per_mm(np.array(face_mm) / 2)
    straight, fine = _straightened(picture, camera.pixels, face_mm, per_mm)
    inside = round(_UNCOVERED_MM * fine)
    bright = np.percentile(straight[inside:-inside, inside:-inside], 99)
    straight = np.minimum(straight, bright)  # white paper has stronger edges than any hole in dark paint
    eye = camera.eye
    slant = Slant(eye_mm=(float(eye[0]), float(eye[1]), -float(eye[2])), wall_mm=wall_mm)
    return seen_face(straight, fine, designed_mm, diameters_mm, turn_deg=turn_deg, slant=slant)


def rough(
    picture: NDArray[np.uint8],
    corners: ArrayLike,
    face_mm: Size,
    designed_mm: Floats,
    diameters_mm: Sequence[float],
    *,
    turn_deg: float | None = None,
) -> SeenFace:
    """Return the holes of a face in a photograph without marks, good to `ROUGH_DOUBT_MM`.

    `corners` (4, 2) are the pixels at which the face's corners are seen, clockwise from its top left one.
    """
    on = cornered(corners, face_mm)
    per_mm = on.per_mm(np.array(face_mm) / 2)
    if per_mm < _LEAST_PER_MM:
        raise ValueError(f"the face is too small in the photograph ({per_mm:.1f} pixels a mm); go nearer")
    straight, fine = _straightened(picture, on.pixels, face_mm, per_mm)
    return seen_face(straight, fine, designed_mm, diameters_mm, turn_deg=turn_deg)


def _straightened(
    picture: NDArray[np.uint8], pixels: Callable[[Floats], Floats], face_mm: Size, per_mm: float
) -> tuple[Floats, float]:
    """Return the face straight from above in linear light (h, w), and its pixels in a millimetre."""
    straight, fine = straightened(picture, _grey, pixels, face_mm, per_mm, _FINEST_PER_MM)
    return straight[..., 0], fine


def _grey(pixels: NDArray[np.uint8]) -> Floats:
    return np.asarray(rgb.decode_8bit(pixels).mean(axis=-1, keepdims=True))
