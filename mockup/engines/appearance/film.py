"""Film on a face as pictures for the engines: where it lies, its edge, what it hides and what air under it mirrors."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.geometry.planar import axes, box_on_face
from mockup.memo import memoize
from mockup.model.material import FilmLayer, FilmPatch, Texture

AIR_ROUGHNESS: Final = 0.45  # perceptual, of what air under film mirrors: by eye
_MOST_PX: Final = 4096  # of one picture, each way; coarser beyond
_PX_PER_RUN: Final = 2.0  # pixels across an edge
_COVER_MM: Final = 0.1  # pixel of the picture of where film lies: its end is no sharper in any usual view
_BESIDE_MM: Final = 9.0  # inside by less than nothing: far from any film
_REACH_MM: Final = 0.3  # what hides is read so far beyond its film, so that it does not fade at the edge; our choice

Pixels = NDArray[np.float32]


@dataclass(frozen=True, kw_only=True, eq=False)
class FilmMap:
    """All films of a face in one picture, (h, w, 4) float32: its place in face coordinates is that of a texture.

    The channels: how far a place lies within any film, the same within the film whose edge is nearest, both in mm;
    what is hidden of the metal below; what air mirrors.
    """

    pixels: Pixels
    u_mm: float
    v_mm: float
    width_mm: float
    height_mm: float


@memoize
def film_map(film: FilmLayer) -> FilmMap | None:
    """Return the films of a face as one picture, as fine as their own; None where there are none."""
    if not film.patches:
        return None
    step = min(patch.width_mm / patch.inside_mm.shape[1] for patch in film.patches)
    corners = np.concatenate([_corners(patch) for patch in film.patches])
    corner = corners.min(axis=0)
    columns, rows = np.minimum(np.ceil((corners.max(axis=0) - corner) / step - 1e-6), _MOST_PX).astype(int).tolist()
    width, height = (corners.max(axis=0) - corner).tolist()
    place = (float(corner[0]), float(corner[1]), width, height)
    within, nearest = (np.full((rows, columns), -_BESIDE_MM, np.float32) for _ in range(2))
    clear, dark = np.ones((2, rows, columns), np.float32)
    for patch in film.patches:
        inside = _sampled(patch, "inside_mm", place, (rows, columns))
        nearest = np.where(np.abs(inside) < np.abs(nearest), inside, nearest)
        within = np.maximum(within, inside)
        clear *= 1.0 - _sampled(patch, "hides", place, (rows, columns)) * (inside > -_REACH_MM)
        dark *= 1.0 - _sampled(patch, "shine", place, (rows, columns))
    pixels = np.stack([within, nearest, 1.0 - clear, 1.0 - dark], axis=-1)
    return FilmMap(pixels=pixels, u_mm=place[0], v_mm=place[1], width_mm=width, height_mm=height)


def cover(picture: Texture) -> Pixels:
    """Return the share of film over each pixel, (rows, columns, 1), on a grid over all of a picture."""
    size, pixel = _grid(picture, _COVER_MM)
    return _together(np.clip(each / pixel + 0.5, 0.0, 1.0) for each in _all(picture, "inside_mm", size))


def is_hiding(picture: Texture | None) -> bool:
    """Return whether a film of a picture hides anything of metal below."""
    return picture is not None and picture.film is not None and any(each.hides.any() for each in picture.film.patches)


def opacity(picture: Texture) -> Pixels:
    """Return how much the films hide of metal below, on the grid of `cover`."""
    size, pixel = _grid(picture, _COVER_MM)
    hides, inside = _all(picture, "hides", size), _all(picture, "inside_mm", size)
    return _together(part * np.clip(deep / pixel + 0.5, 0.0, 1.0) for part, deep in zip(hides, inside, strict=True))


def shine(picture: Texture) -> Pixels:
    """Return what air under the films mirrors, on the grid of `cover`."""
    return _together(_all(picture, "shine", _grid(picture, _COVER_MM)[0]))


def relief(picture: Texture) -> Pixels:
    """Return film's height in millimetres, (rows, columns, 1), on a grid over all of a picture."""
    film = _film(picture)
    size, pixel = _grid(picture, film.run_mm / _PX_PER_RUN)
    out = np.zeros((*size, 1), np.float32)
    for inside in _all(picture, "inside_mm", size):
        out[..., 0] += np.float32(film.step_mm) * np.clip(inside / max(film.run_mm, pixel) + 0.5, 0.0, 1.0)
    return out


def _together(layers: Iterator[Pixels]) -> Pixels:
    """Return what layers, each 0 to 1, cover together, (rows, columns, 1)."""
    left = reduce(np.multiply, (1.0 - each for each in layers))
    return np.asarray(1.0 - left, np.float32)[..., None]


def _film(picture: Texture) -> FilmLayer:
    if picture.film is None:
        raise ValueError("this picture has no film")
    return picture.film


def _grid(picture: Texture, step_mm: float) -> tuple[tuple[int, int], float]:
    """Return rows and columns of a grid over a picture, and its coarser pitch."""
    rows, columns = (min(max(int(np.ceil(mm / step_mm)), 2), _MOST_PX) for mm in (picture.height_mm, picture.width_mm))
    return (rows, columns), max(picture.width_mm / columns, picture.height_mm / rows)


def _all(picture: Texture, name: str, size: tuple[int, int]) -> Iterator[Pixels]:
    place = (picture.u_mm, picture.v_mm, picture.width_mm, picture.height_mm)
    return (_sampled(patch, name, place, size) for patch in _film(picture).patches)


def _sampled(patch: FilmPatch, name: str, place: tuple[float, float, float, float], size: tuple[int, int]) -> Pixels:
    """Return one of a patch's pictures on a grid of rows and columns over a place (left, top, width, height)."""
    pixels: Pixels = getattr(patch, name)
    turn = axes(patch.rotation_deg)  # rows: the patch's own x and y on the face
    per_mm = np.array([pixels.shape[1] / patch.width_mm, pixels.shape[0] / patch.height_mm])
    pitch = np.array([place[2] / size[1], place[3] / size[0]])
    matrix = turn * per_mm[:, None] * pitch  # patch pixels per grid pixel, x and y
    first = np.array(place[:2]) + pitch / 2.0 - (patch.u_mm, patch.v_mm)
    offset = (turn @ first) * per_mm + np.array(pixels.shape[::-1]) / 2.0 - 0.5
    beside = -_BESIDE_MM if name == "inside_mm" else 0.0
    return np.asarray(
        ndimage.affine_transform(pixels, matrix[::-1, ::-1], offset[::-1], size, order=1, cval=beside), np.float32
    )


def _corners(patch: FilmPatch) -> NDArray[np.float64]:
    return box_on_face((patch.width_mm, patch.height_mm), (patch.u_mm, patch.v_mm), patch.rotation_deg)
