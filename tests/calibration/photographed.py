"""Strips as a scanner or a camera sees them: the printed page itself, tilted, in warm light that falls off."""

from __future__ import annotations

import io

import numpy as np
import spectra
from PIL import Image
from scipy import ndimage
from simulated import Printer

from mockup.calibration.strip import field_mm, strip_marks
from mockup.colour import rgb
from mockup.encode.pixels import pixels
from mockup.geometry.rectify import plane
from mockup.model.sheet import Page, Rectangle

PER_MM = 12
CORNER_MM = (22.0, 20.0)


def laid_out(printer: Printer, paint: np.ndarray, size: int, black: np.ndarray | None = None) -> np.ndarray:
    """Return the linear light (h, w, 3) of a strip on its scrap, with white card above and black scrap below.

    The strip is the page's own marks, so what is read is what is printed; each of its colours becomes what that
    printer makes of it over the paint. `black` is the scrap's spectrum.
    """
    width, height = field_mm(size)
    marks = [mark for mark in strip_marks(*CORNER_MM, size) if not (isinstance(mark, Rectangle) and mark.stroke)]
    page = Page(width_mm=width + 44, height_mm=height + 40, marks=tuple(marks))
    codes = pixels(page, PER_MM)
    flat, where = np.unique(codes.reshape(-1, 3), axis=0, return_inverse=True)
    seen = np.clip(spectra.linear(printer.spectrum(flat / 255, paint)), 0, 1)
    linear = seen[where.ravel()].reshape(codes.shape)
    down = [round((CORNER_MM[1] + each) * PER_MM) for each in (-14, -4, height + 4, height + 13)]
    left, middle, right = (round((CORNER_MM[0] + each) * PER_MM) for each in (-4, width / 2, width + 4))
    linear[down[0] : down[1], left:right] = 1.0
    if black is not None:
        hazy = printer.spectrum(np.ones(3), black)
        linear[down[2] : down[3], left:middle] = spectra.linear(hazy)
        linear[down[2] : down[3], middle:right] = spectra.linear(black)
    return linear


def shot(
    linear: np.ndarray,
    seed: int,
    *,
    wide_px: int = 1000,
    turn_deg: float = 0.0,
    slant: float = 0.02,
    light: tuple[float, float, float] = (0.75, 0.62, 0.48),
    vignette: float = 0.25,
    noise: float = 0.004,
) -> np.ndarray:
    """Return an 8-bit JPEG photograph (h, w, 3): perspective, warm light, vignetting, a lamp to one side, noise."""
    chance = np.random.default_rng(seed)
    height, width = linear.shape[:2]
    out = (wide_px, int(wide_px * 0.75))
    corners = np.array([(0, 0), (width, 0), (width, height), (0, height)], float)
    angle = np.radians(turn_deg)
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    scale = out[0] * (0.62 if abs(np.sin(angle)) < 0.5 else 0.5) / width
    there = ((corners - (width / 2, height / 2)) * scale) @ turn.T + (out[0] * 0.52, out[1] * 0.47)
    there += chance.normal(0, out[0] * slant, (4, 2))
    rows, columns = np.mgrid[: out[1], : out[0]] + 0.5
    at = plane(there, corners).pixels(np.stack([columns, rows], axis=-1)) - 0.5
    soft = [ndimage.gaussian_filter(linear[..., band], 0.5 / scale) for band in range(3)]
    seen = np.stack(
        [ndimage.map_coordinates(band, [at[..., 1], at[..., 0]], order=1, cval=0.18) for band in soft], axis=-1
    )
    away = ((columns - out[0] / 2) ** 2 + (rows - out[1] / 2) ** 2) / (out[0] ** 2 / 4 + out[1] ** 2 / 4)
    seen *= ((1 - vignette * away) * (1 + 0.08 * (columns / out[0] - 0.5)))[..., None] * np.array(light)
    seen += chance.normal(0, noise, seen.shape) * np.sqrt(np.maximum(seen, 0.01))
    file = io.BytesIO()
    codes = rgb.to_8bit(rgb.encode(np.clip(seen, 0, 1)))
    Image.fromarray(codes).save(file, "JPEG", quality=92, subsampling=0)
    return np.asarray(Image.open(file))
