"""The drilled face in a photograph: straightened in its own plane by the frame of marks, or roughly by its corners."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import ndimage

from mockup.colour import rgb
from mockup.measure.frame import Size, found_frame
from mockup.measure.holes import Floats, Slant
from mockup.measure.pattern import SeenFace, seen_face
from mockup.measure.rectify import plane

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
    return seen_face(straight, fine, designed_mm, diameters_mm, turn_deg, slant)


def rough(
    picture: NDArray[np.uint8],
    corners: ArrayLike,
    face_mm: Size,
    designed_mm: Floats,
    diameters_mm: Sequence[float],
    turn_deg: float | None = None,
) -> SeenFace:
    """Return the holes of a face in a photograph without marks, good to `ROUGH_DOUBT_MM`.

    `corners` (4, 2) are the pixels at which the face's corners are seen, clockwise from its top left one.
    """
    own = np.array([(0.0, 0.0), (face_mm[0], 0.0), face_mm, (0.0, face_mm[1])])
    on = plane(own, corners)
    seen = np.asarray(corners, np.float64)
    if min(_turns(seen)) <= 0.0:
        raise ValueError("the corners do not run clockwise round the face; give them so, from the top left one")
    per_mm = on.per_mm(np.array(face_mm) / 2)
    if per_mm < _LEAST_PER_MM:
        raise ValueError(f"the face is too small in the photograph ({per_mm:.1f} pixels a mm); go nearer")
    straight, fine = _straightened(picture, on.pixels, face_mm, per_mm)
    return seen_face(straight, fine, designed_mm, diameters_mm, turn_deg)


def _turns(corners: Floats) -> list[float]:
    """Return how far each corner turns clockwise, twice the triangle's area."""
    ways = np.roll(corners, -1, axis=0) - corners
    after = np.roll(ways, -1, axis=0)
    return [float(x1 * y2 - y1 * x2) for (x1, y1), (x2, y2) in zip(ways, after, strict=True)]


def _straightened(
    picture: NDArray[np.uint8], pixels: Callable[[Floats], Floats], face_mm: Size, per_mm: float
) -> tuple[Floats, float]:
    """Return the face straight from above in linear light (h, w), and its pixels in a millimetre.

    A picture finer than needed is averaged first. Where the face leaves it, the nearest pixel stands.
    """
    step = max(1, int(per_mm // _FINEST_PER_MM) + 1 if per_mm > _FINEST_PER_MM else 1)
    ends = np.array([(0.0, 0.0), (face_mm[0], 0.0), face_mm, (0.0, face_mm[1])])
    edge = np.concatenate([np.linspace(ends[i], ends[(i + 1) % 4], 9) for i in range(4)])
    seen = pixels(edge)
    height, width = picture.shape[:2]
    if seen.min() < 0 or seen[:, 0].max() > width or seen[:, 1].max() > height:
        raise ValueError("the face reaches beyond the photograph; take all of it in")
    low = np.maximum(0, np.floor(seen.min(axis=0)).astype(int) - 2 * step)
    high = np.minimum([width, height], np.ceil(seen.max(axis=0)).astype(int) + 2 * step)
    size = (high - low) // step * step
    part = rgb.decode_8bit(picture[low[1] : low[1] + size[1], low[0] : low[0] + size[0], :3]).mean(axis=-1)
    small = part.reshape(size[1] // step, step, size[0] // step, step).mean(axis=(1, 3))
    fine = min(per_mm, _FINEST_PER_MM)
    columns, rows = (np.arange(int(side * fine)) + 0.5 for side in face_mm)
    straight = np.empty((len(rows), len(columns)))
    for start in range(0, len(rows), 200):
        across, down = np.meshgrid(columns / fine, rows[start : start + 200] / fine)
        at = (pixels(np.stack([across, down], axis=-1)) - low) / step - 0.5
        straight[start : start + 200] = ndimage.map_coordinates(
            small, [at[..., 1], at[..., 0]], order=1, mode="nearest"
        )
    return straight, fine
