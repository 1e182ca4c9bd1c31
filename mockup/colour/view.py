"""The one view transform: scene radiance in, encoded sRGB bytes out."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from mockup.model.scene import Look

SHOULDER: Final = 0.80  # linear; below it a photo's values pass unchanged: common practice, no source

_KNEE: Final = 0.0031308  # IEC 61966-2-1:1999, 5.2: end of the straight piece, linear
_SLOPE: Final = 12.92  # IEC 61966-2-1:1999, 5.2
_OFFSET: Final = 0.055  # IEC 61966-2-1:1999, 5.2
_POWER: Final = 2.4  # IEC 61966-2-1:1999, 5.2
_TABLE_STEPS: Final = 1 << 14  # entries; finer than a quarter of a code anywhere on the curve


def view(pixels: NDArray[np.float32], look: Look) -> NDArray[np.uint8]:
    """Return a picture as bytes with straight alpha.

    `pixels` (h, w, 4) float, linear sRGB with premultiplied alpha, as a `Frame` holds them.
    Returns (h, w, 4) uint8, encoded sRGB. "photo" rolls highlights off without a change of hue;
    "proof" only encodes. Values that are not finite come out black.
    """
    values = np.nan_to_num(np.asarray(pixels, np.float32), nan=0.0, posinf=1e4, neginf=0.0)
    alpha = np.clip(values[..., 3], 0.0, 1.0)
    linear = np.maximum(values[..., :3], 0.0)
    partial = (alpha > 0.0) & (alpha < 1.0)
    if partial.any():
        linear[partial] /= alpha[partial][:, None]
    if look == "photo":
        linear = rolled_off(linear)
    out = np.empty(values.shape, np.uint8)
    out[..., :3] = _encoded_bytes(linear)
    out[..., 3] = np.round(alpha * 255.0)
    out[alpha == 0.0, :3] = 0
    return out


def rolled_off(linear: NDArray[np.float32]) -> NDArray[np.float32]:
    """Return highlights compressed into 0 to 1 with their hue kept.

    `linear` (..., 3), not negative. The largest channel m stays below the shoulder s and becomes
    1 - (1 - s)^2 / (m + 1 - 2 s) above it (equal value and slope at s, towards 1 for bright
    light); the others shrink by the same factor, so a red lamp stays red.
    """
    peak = linear.max(axis=-1)
    bright = peak > SHOULDER
    if not bright.any():
        return linear
    out = np.array(linear, copy=True)
    over = peak[bright]
    out[bright] *= ((1.0 - (1.0 - SHOULDER) ** 2 / (over + 1.0 - 2.0 * SHOULDER)) / over)[:, None]
    return out


def _encoded_bytes(linear: NDArray[np.float32]) -> NDArray[np.uint8]:
    """Encode by a table over the square root, where the curve is almost straight."""
    index = np.sqrt(np.clip(linear, 0.0, 1.0)) * np.float32(_TABLE_STEPS) + np.float32(0.5)
    return _TABLE[index.astype(np.uint16)]


def _table() -> NDArray[np.uint8]:
    linear = (np.arange(_TABLE_STEPS + 1) / _TABLE_STEPS) ** 2
    encoded = np.where(
        linear <= _KNEE, linear * _SLOPE, (1.0 + _OFFSET) * np.maximum(linear, _KNEE) ** (1.0 / _POWER) - _OFFSET
    )
    return np.round(encoded * 255.0).astype(np.uint8)


_TABLE: Final = _table()
