"""Waviness of a surface as one picture that repeats, laid on in face millimetres: the same for both engines."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from mockup.memo import memoize
from mockup.model.material import Waviness

TILE_MM: Final = 40.0  # after which it repeats: no eye finds that in waves so much shorter; our choice
TILE_PX: Final = 512  # 0.08 mm a pixel, four to the shortest wave; our choice
_SEED: Final = 20  # any would do

Pixels = NDArray[np.float32]


@memoize
def slopes(waves: tuple[Waviness, ...]) -> Pixels:
    """Return one tile of slopes, (n, n, 4) float32: along u, along v, the two squared and added up, 1.

    Heights are random: all wavelengths of a band, in mm, have an equal share of its slope, by octaves, and all
    directions.
    """
    noise = np.fft.rfft2(np.random.default_rng(_SEED).standard_normal((TILE_PX, TILE_PX)))
    step = TILE_MM / TILE_PX
    along = 2.0 * np.pi * np.fft.rfftfreq(TILE_PX, step)[None, :]
    down = 2.0 * np.pi * np.fft.fftfreq(TILE_PX, step)[:, None]
    steep = np.hypot(along, down)
    both = np.zeros((2, TILE_PX, TILE_PX))
    for band in waves:
        is_in = (steep >= 2.0 * np.pi / band.longest_mm) & (steep <= 2.0 * np.pi / band.shortest_mm)
        # a ring of wave numbers is as large as they are, so heights fall with their square: slopes even by octaves
        heights = np.where(is_in, noise / np.maximum(steep, 1e-9) ** 2, 0.0)
        made = np.stack([np.fft.irfft2(1j * way * heights, (TILE_PX, TILE_PX)) for way in (along, down)])
        both += made * (band.slope / np.sqrt((made**2).sum(axis=0).mean()))
    return np.stack([*both, (both**2).sum(axis=0), np.ones_like(both[0])], axis=-1).astype(np.float32)


def normals(waves: tuple[Waviness, ...]) -> Pixels:
    """Return one tile of normals as a picture (n, n, 3), 0 to 1 for -1 to 1, z out of the surface; v runs down."""
    slope = slopes(waves)[..., :2]
    normal = np.stack([-slope[..., 0], slope[..., 1], np.ones_like(slope[..., 0])], axis=-1)
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True)
    return np.asarray(0.5 + 0.5 * normal, np.float32)
