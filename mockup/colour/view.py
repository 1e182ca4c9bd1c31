"""The one view transform: scene radiance in, encoded sRGB bytes out."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from mockup.colour import rgb
from mockup.model.scene import Look

SHOULDER: Final = 0.80  # linear; below it a photo's values pass unchanged: common practice, no source

_TABLE_STEPS: Final = (1 << 16) - 1  # 12.92 * 255 / 65535 = 0.05 codes a step at the steepest
_BLOCK: Final = 1 << 15  # pixels; half a megabyte of them: by measurement


def view(pixels: NDArray[np.float32], look: Look) -> NDArray[np.uint8]:
    """Return a picture as bytes with straight alpha.

    `pixels` (h, w, 4) float, linear sRGB with premultiplied alpha, as a `Frame` holds them.
    Returns (h, w, 4) uint8, encoded sRGB. "photo" rolls highlights off without a change of hue;
    "proof" only encodes. Between two codes a photo's pixels take turns by an even pattern, so that soft light shows no
    steps; whole codes stay as they are. Values that are not finite come out black.
    """
    values = np.asarray(pixels, np.float32).reshape(-1, 4)
    out = np.empty(values.shape, np.uint8)
    share = _shares(*pixels.shape[:2]).reshape(-1) if look == "photo" else np.full(len(values), _HALF, np.uint16)
    for start in range(0, len(values), _BLOCK):  # a block at a time, so that it stays in the processor's cache
        block = slice(start, start + _BLOCK)
        _block(values[block], look, share[block], out[block])
    return out.reshape(pixels.shape)


def _shares(rows: int, columns: int) -> NDArray[np.uint16]:
    """Return for each pixel what of a code rounds it up, (rows, columns) in 1 / 256.

    Interleaved gradient noise (Jimenez, SIGGRAPH 2014 course on advances in real-time rendering).
    """
    x, y = np.arange(columns, dtype=np.float32), np.arange(rows, dtype=np.float32)[:, None]
    each = np.float32(52.9829189) * ((np.float32(0.06711056) * x + np.float32(0.00583715) * y) % np.float32(1.0))
    return np.asarray(32.0 + 192.0 * (each % np.float32(1.0)), np.uint16)


def _block(values: NDArray[np.float32], look: Look, share: NDArray[np.uint16], out: NDArray[np.uint8]) -> None:
    if not np.isfinite(values.sum(dtype=np.float64)):
        values = np.nan_to_num(values, nan=0.0, posinf=1e4, neginf=0.0)
    alpha = values[:, 3]
    linear = np.maximum(values[:, :3], np.float32(0.0))
    is_opaque = bool(alpha.min() >= 1.0)
    if not is_opaque:
        alpha = np.clip(alpha, 0.0, 1.0)
        partial = (alpha > 0.0) & (alpha < 1.0)
        linear[partial] /= alpha[partial][:, None]
    if look == "photo":
        linear = rolled_off(linear)
    out[:, :3] = _encoded_bytes(linear, share)
    out[:, 3] = 255 if is_opaque else np.round(alpha * 255.0)
    if not is_opaque:
        out[out[:, 3] == 0, :3] = 0


def rolled_off(linear: NDArray[np.float32]) -> NDArray[np.float32]:
    """Return highlights compressed into 0 to 1 with their hue kept.

    `linear` (..., 3), not negative. The largest channel m stays below the shoulder s and becomes
    1 - (1 - s)^2 / (m + 1 - 2 s) above it (equal value and slope at s, towards 1 for bright
    light); the others shrink by the same factor, so a red lamp stays red.
    """
    peak = np.maximum(np.maximum(linear[..., 0], linear[..., 1]), linear[..., 2])
    if not (peak > SHOULDER).any():
        return linear
    over = np.maximum(peak, peak.dtype.type(SHOULDER))
    room = peak.dtype.type((1.0 - SHOULDER) ** 2)
    kept = (1 - room / (over + peak.dtype.type(1.0 - 2.0 * SHOULDER))) / over
    kept[peak <= SHOULDER] = 1
    return np.asarray(linear * kept[..., None], linear.dtype)


def _encoded_bytes(linear: NDArray[np.float32], share: NDArray[np.uint16]) -> NDArray[np.uint8]:
    """Encode by a table; its steps are finer than a twentieth of a code even at the curve's steepest."""
    index = np.minimum(linear, np.float32(1.0))
    index *= np.float32(_TABLE_STEPS)
    index += np.float32(0.5)
    codes = np.take(_TABLE, index.astype(np.uint16))
    codes += share[:, None]
    return np.asarray(codes >> 8, np.uint8)


_HALF: Final = 128  # of the 256 parts of a code
_TABLE: Final = np.round(rgb.encode(np.arange(_TABLE_STEPS + 1) / _TABLE_STEPS) * 255.0 * 256.0).astype(np.uint16)
"""Encoded values in 1 / 256 of a code."""
