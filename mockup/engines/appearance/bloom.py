"""The soft glow that a lens puts round what is brighter than white."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import correlate1d

_WHITE: Final = 1.0  # linear; only what exceeds it glows
MOST: Final = 30.0  # linear; a brighter spot glows no more than this: by eye
# (radius as a share of the picture's height, share of the excess light): by eye, common practice, no source
_RINGS: Final = ((0.008, 0.035), (0.030, 0.050), (0.090, 0.050))
_LEAST: Final = 1e-5  # linear; below this a glow is below a tenth of a code

Pixels = NDArray[np.float32]


def with_bloom(pixels: Pixels) -> Pixels:
    """Return a picture (h, w, 4) with the light above white spread a little around it.

    Linear, premultiplied alpha; a picture with nothing above white comes back as it is. Over a
    transparent ground the glow only adds light, which alpha follows so that it shows on any page.
    """
    height, width = pixels.shape[:2]
    colour = pixels[..., :3]
    if float(colour.max(initial=0.0)) <= _WHITE:
        return pixels
    rows, columns = np.nonzero((colour > _WHITE).any(axis=2))
    spots = colour[rows, columns]
    peak = spots.max(axis=1, keepdims=True)
    step = cell_px(height)
    size = (-(-height // step), -(-width // step))
    excess = np.zeros((*size, 3), np.float32)  # mean of each cell of step by step pixels
    np.add.at(excess, (rows // step, columns // step), np.minimum(spots * (peak - _WHITE) / peak, MOST) / step**2)
    halo = halo_of(excess, height)
    out = np.array(pixels, copy=True)
    reach = (0.0, 0.0, width / step, height / step)
    for channel in range(3):
        plane = Image.fromarray(np.ascontiguousarray(halo[..., channel]))
        out[..., channel] += np.asarray(plane.resize((width, height), Image.Resampling.BILINEAR, box=reach))
    if float(pixels[..., 3].min()) < 1.0:
        glow = out[..., :3].max(axis=2) - colour.max(axis=2)
        out[..., 3] = np.maximum(out[..., 3], np.clip(glow, 0.0, 1.0))
    return out


def cell_px(height: int) -> int:
    """Return the side of the cells, in pixels, in which a picture so many pixels high is looked at for its glow."""
    return max(1, round(height * _RINGS[0][0] / 1.5))


def halo_of(excess: Pixels, height: int) -> Pixels:
    """Return the glow (rows, columns, 3) of the light above white in each cell of a picture `height` pixels high."""
    halo = np.zeros_like(excess)
    for radius, share in _RINGS:
        halo += share * _blurred(excess, radius * height / cell_px(height))
    halo[halo.max(axis=2) < _LEAST] = 0.0
    return halo


def _blurred(values: Pixels, sigma: float) -> Pixels:
    """Return (h, w, 3) values blurred by a Gaussian of `sigma` cells, on a coarser grid where it is wide."""
    height, width = values.shape[:2]
    step = max(1, int(sigma / 2.0))
    small = (-(-width // step), -(-height // step))
    planes = []
    for channel in range(3):
        plane = np.ascontiguousarray(values[..., channel])
        if step > 1:
            padded = np.pad(plane, ((0, small[1] * step - height), (0, small[0] * step - width)))
            plane = padded.reshape(small[1], step, small[0], step).mean(axis=(1, 3))
        soft = _gauss(plane, sigma / step)
        if step > 1:
            reach = (0.0, 0.0, width / step, height / step)
            soft = np.asarray(
                Image.fromarray(soft).resize((width, height), Image.Resampling.BILINEAR, box=reach), np.float32
            )
        planes.append(soft)
    return np.stack(planes, axis=2)


def _gauss(plane: Pixels, sigma: float) -> Pixels:
    reach = max(1, int(np.ceil(3.0 * sigma)))
    kernel = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    kernel = (kernel / kernel.sum()).astype(np.float32)
    for axis in (0, 1):
        plane = correlate1d(plane, kernel, axis, mode="constant")
    return plane
