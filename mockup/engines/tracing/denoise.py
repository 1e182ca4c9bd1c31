"""A path traced picture without its noise: lettering, grain and outlines kept as sharp as they are known."""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.colour.rgb import LUMINANCE
from mockup.engines.tracing.grain import normals, slopes
from mockup.engines.tracing.shapes import hushed
from mockup.model.material import Colour

_MARGIN_PX: Final = 16  # mirrored round what the denoiser sees: along its own edge it smears 8 pixels, measured
_BLOCK_PX: Final = 8  # how the light leans on a slope is worked out on blocks of so many pixels: our choice
_REACH: Final = 3.0  # blocks, one sigma of the places that answer alike: by eye, on bare metal at 2400 pixels
_RIDGE: Final = 0.02  # of a slope's own spread, so that a place that hardly slopes answers nothing: our choice
_NOISE: Final = 20  # samples of a pixel whose noise is as strong as the speckle that the denoiser takes: measured
_LEVEL: Final = (
    0.1  # mean slope of a pixel's flakes under which they hardly show: by eye, none lies so under white film
)
_MOST: Final = 0.5  # that a slope may change the light by, either way: what changes more is an outline, by eye

Pixels = NDArray[np.float32]
Floats = NDArray[np.float64]


def clean_edges(radiance: Pixels, cover: Pixels, behind: bool) -> Pixels:
    """Return radiance whose outline is mixed anew from whole pixels beside it, by its cover (h, w).

    A few samples draw an outline roughly and the denoiser makes it wobble; the cover is known better.
    Without anything `behind`, what is beside the outline is black.
    """
    whole, open_ = (cover > 0.999).astype(np.float32), (cover < 0.001).astype(np.float32)
    edge = (whole + open_) == 0.0
    front, near = _beside(radiance, whole)
    ground, far = _beside(radiance, open_)
    known = edge & (near > 0.0) & ((far > 0.0) | (not behind))
    share = cover[known, None]
    out = np.array(radiance, copy=True)
    out[known] = front[known] * share + (ground[known] * (1.0 - share) if behind else 0.0)
    if not behind:
        out[cover == 0.0] = 0.0
    return out


def _beside(radiance: Pixels, whole: Pixels) -> tuple[Pixels, Pixels]:
    """Return the mean of the marked pixels among the 5 x 5 round each one, and how many there are."""
    size = whole.shape
    padded = np.pad(np.concatenate([radiance * whole[..., None], whole[..., None]], axis=2), ((2, 2), (2, 2), (0, 0)))
    rows = np.sum([padded[y : y + size[0]] for y in range(5)], axis=0)
    near = np.sum([rows[:, x : x + size[1]] for x in range(5)], axis=0)
    return np.asarray(near[..., :3] / np.maximum(near[..., 3:], 1e-6), np.float32), near[..., 3]


def over(own: Pixels, ground: Colour) -> Pixels:
    """Return flat colours (h, w, 3) with the ground's behind them; black ground tells the denoiser of no surface."""
    return np.asarray(own[..., :3] + (1.0 - own[..., 3:]) * np.array(ground), np.float32)


def denoised(
    pixels: NDArray[np.floating[Any]], own: Pixels, grain: Pixels | None = None, flake_samples: int = 0
) -> Pixels:
    """Return colours (h, w, 3) denoised; the surfaces' flat colours keep lettering sharp, `grain`, a picture of
    `tracing.grain`, what is finer than the noise. `flake_samples` are those of a pixel where the grain is flakes."""
    colour = _mirrored(np.nan_to_num(pixels[..., :3]))
    guide = _mirrored(np.clip(own, 0.0, 1.0))
    tilted, waves = (None, None) if grain is None else (normals(grain), slopes(grain))
    bumps = _mirrored(tilted) if tilted is not None and tilted.any() else None
    with hushed():
        import pyoidn

        whole = np.asarray(pyoidn.denoise(colour, guide, bumps, hdr=True), np.float32)
    smooth = whole[_MARGIN_PX:-_MARGIN_PX, _MARGIN_PX:-_MARGIN_PX]
    if tilted is not None and flake_samples:
        smooth = with_speckle(smooth, pixels, tilted, flake_samples)
    return with_waves(smooth, pixels, waves) if waves is not None and waves.any() else smooth


def _mirrored(picture: NDArray[np.floating[Any]]) -> Pixels:
    """Return a picture (h, w, 3) with a margin that mirrors it."""
    margin = (_MARGIN_PX, _MARGIN_PX)
    return np.ascontiguousarray(np.pad(picture, (margin, margin, (0, 0)), mode="reflect"), np.float32)


def with_speckle(smooth: Pixels, noisy: NDArray[np.floating[Any]], flakes: Pixels, samples: int) -> Pixels:
    """Return a denoised picture with some of the noisy one where flakes, of mean normals (h, w, 3), lean.

    The denoiser takes most of a fine speckle for noise, be it led by the flakes or not. The share of the noisy picture
    is Wiener's: what is signal of all that both differ by.
    """
    leaning = np.minimum(np.linalg.norm(flakes[..., :2], axis=2, keepdims=True) / _LEVEL, 1.0)
    share = leaning * samples / (samples + _NOISE)
    return np.asarray(smooth + share * (np.nan_to_num(noisy[..., :3]) - smooth), np.float32)


def with_waves(smooth: Pixels, noisy: NDArray[np.floating[Any]], waves: Pixels) -> Pixels:
    """Return a denoised picture with the light and shade of fine waves, which the denoiser takes for noise.

    `waves` (h, w, 2) are the slopes of the surface under the samples of `noisy`, 0 where it has none. Over a short way
    light follows a slope in proportion; by how much is what the noisy picture says on average over many pixels
    (regression of first order: Bitterli and others 2016).
    """
    light = _luminance(smooth)
    gap = (_luminance(noisy) - light) / np.maximum(light, 1e-6)
    gap = np.where(waves.any(axis=2), np.clip(gap, -1.0, 1.0), 0.0)
    x, y = np.moveaxis(waves.astype(np.float64), 2, 0)
    xx, xy, yy, xg, yg = (_around(a * b) for a, b in ((x, x), (x, y), (y, y), (x, gap), (y, gap)))
    least = _RIDGE * (xx + yy) + 1e-12
    xx, yy = xx + least, yy + least
    whole = xx * yy - xy * xy
    change = _at_pixels((xg * yy - yg * xy) / whole, x.shape) * x + _at_pixels((yg * xx - xg * xy) / whole, x.shape) * y
    return np.asarray(smooth * (1.0 + np.clip(change, -_MOST, _MOST))[..., None], np.float32)


def _luminance(pixels: NDArray[np.floating[Any]]) -> Floats:
    return np.asarray(np.nan_to_num(pixels[..., :3]).astype(np.float64) @ LUMINANCE)


def _around(values: Floats) -> Floats:
    """Return the mean of values (h, w) about each block of pixels, one value a block."""
    rows, columns = (-(-side // _BLOCK_PX) for side in values.shape)
    grown = np.zeros((rows * _BLOCK_PX, columns * _BLOCK_PX))
    grown[: values.shape[0], : values.shape[1]] = values
    blocks = grown.reshape(rows, _BLOCK_PX, columns, _BLOCK_PX).mean(axis=(1, 3))
    return np.asarray(ndimage.gaussian_filter(blocks, _REACH, mode="constant"))


def _at_pixels(blocks: Floats, shape: tuple[int, ...]) -> Floats:
    """Return values of blocks drawn out evenly to the pixels (h, w) in them."""
    fine = ndimage.zoom(blocks, _BLOCK_PX, order=1, mode="nearest", grid_mode=True)
    return np.asarray(fine[: shape[0], : shape[1]])
