"""How far each part is seen off its place: a window of the picture is looked for in the photograph round it."""

from __future__ import annotations

import numpy as np

from mockup.model.mesh import Floats

REACH = 0.05  # of the picture's longer side that a part may be off: our choice
LEAST_LIKENESS = 0.35  # correlation of edges below which nothing is said: by trial on own pictures


def shift(photo: Floats, picture: Floats, middle: Floats, half_px: int) -> tuple[Floats, float]:
    """Return how far (2,) what a picture shows round `middle` is off in a photograph, and how alike the two are.

    Both are `edges`: light is not compared, for the lamps are others. The way is found to a fraction of a pixel.
    Likeness is a correlation of -1 to 1, 0 where the window reaches out of the picture.
    """
    from scipy.signal import fftconvolve

    reach = round(REACH * max(photo.shape))
    x, y = (round(float(each)) for each in middle)
    low_x, low_y, high_x, high_y = x - half_px, y - half_px, x + half_px + 1, y + half_px + 1
    if min(low_x, low_y) < reach or high_x + reach > photo.shape[1] or high_y + reach > photo.shape[0]:
        return np.zeros(2), 0.0
    window = picture[low_y:high_y, low_x:high_x]
    around = photo[low_y - reach : high_y + reach, low_x - reach : high_x + reach]
    window = window - window.mean()
    ones = np.ones_like(window)
    total, squares = (fftconvolve(each, ones, mode="valid") for each in (around, around**2))
    spread = np.sqrt(np.maximum(squares - total**2 / window.size, 1e-12) * (window**2).sum())
    likeness = fftconvolve(around, window[::-1, ::-1], mode="valid") / np.maximum(spread, 1e-9)
    row, column = (int(each) for each in np.unravel_index(int(likeness.argmax()), likeness.shape))
    place = np.array([_peak(likeness[row], column), _peak(likeness[:, column], row)])
    return place - reach, float(likeness[row, column])


def edges(grey: Floats) -> Floats:
    """Return how strong the edges (h, w) of a grey picture are."""
    from scipy.ndimage import gaussian_gradient_magnitude

    return np.asarray(np.sqrt(gaussian_gradient_magnitude(grey, 1.5)))


def _peak(values: Floats, index: int) -> float:
    """Return where a row of values is greatest, by a parabola through the greatest and its neighbours."""
    if not 0 < index < len(values) - 1:
        return float(index)
    before, most, after = values[index - 1 : index + 2]
    bend = before - 2 * most + after
    return float(index + (0.5 * (before - after) / bend if bend < 0 else 0.0))
