"""Film on a face as pictures for an engine without shaders of its own: where it lies, and how high.

The same shape as the raster engine's `film.glsl`.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mockup.model.material import FilmLayer, Texture

_MOST_PX: Final = 4096  # of one picture, each way; coarser beyond
_PX_PER_RUN: Final = 2.0  # pixels across an edge
_COVER_MM: Final = 0.1  # pixel of the picture of where film lies: its end is no sharper in any usual view

Pixels = NDArray[np.float32]


def cover(picture: Texture) -> Pixels:
    """Return the share of film over each pixel, (rows, columns, 1), on a grid over all of a picture."""
    film = _film(picture)
    out = np.zeros((*_size(picture, _COVER_MM), 1), np.float32)
    for over in _ramps(picture, film, out.shape, 0.0):
        out[..., 0] = 1.0 - (1.0 - out[..., 0]) * (1.0 - over)
    return out


def opacity(picture: Texture) -> Pixels:
    """Return how much the film hides of metal below it, on the grid of `cover`; film that hides nothing is left out."""
    film = _film(picture)
    out = np.zeros((*_size(picture, _COVER_MM), 1), np.float32)
    for patch, over in zip(film.patches, _ramps(picture, film, out.shape, 0.0), strict=True):
        out[..., 0] = 1.0 - (1.0 - out[..., 0]) * (1.0 - np.float32(patch.opacity) * over)
    return out


def relief(picture: Texture) -> Pixels:
    """Return film's height in millimetres, (rows, columns, 1), on a grid over all of a picture."""
    film = _film(picture)
    out = np.zeros((*_size(picture, film.run_mm / _PX_PER_RUN), 1), np.float32)
    for over in _ramps(picture, film, out.shape, film.run_mm):
        out[..., 0] += np.float32(film.step_mm) * over
    return out


def _film(picture: Texture) -> FilmLayer:
    if picture.film is None:
        raise ValueError("this picture has no film")
    return picture.film


def _size(picture: Texture, step_mm: float) -> tuple[int, int]:
    """Return rows and columns of a grid over a picture."""
    rows, columns = (min(max(math.ceil(mm / step_mm), 2), _MOST_PX) for mm in (picture.height_mm, picture.width_mm))
    return rows, columns


def _ramps(picture: Texture, film: FilmLayer, size: tuple[int, ...], run_mm: float) -> list[Pixels]:
    """Return for every patch 1 on it, 0 beside it, and an even way down at its edge (at least a pixel wide)."""
    rows, columns = size[:2]
    step = np.array([picture.width_mm / columns, picture.height_mm / rows])
    u = picture.u_mm + (np.arange(columns) + 0.5) * step[0]
    v = picture.v_mm + (np.arange(rows) + 0.5) * step[1]
    run = max(run_mm, float(step.max()))
    found = []
    for patch in film.patches:
        turn = math.radians(patch.rotation_deg)
        along = np.array([math.cos(turn), math.sin(turn)])
        x, y = (u - patch.u_mm)[None], (v - patch.v_mm)[:, None]
        deep = (
            patch.width_mm / 2 - np.abs(x * along[0] + y * along[1]),
            patch.height_mm / 2 - np.abs(y * along[0] - x * along[1]),
        )
        over = [np.clip(each / run + 0.5, 0.0, 1.0) for each in deep]
        found.append(np.asarray(over[0] * over[1], np.float32))
    return found
