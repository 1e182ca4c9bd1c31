"""Film that does not lie down: the air that stays under it, and how it shines.

Where air stays, light meets two surfaces more, the film's underside and the paint, and each sends back what
Fresnel says for clear lacquer against air. Ink lies over the air and hides it as it hides paint. Where the air is, the
paint's own roughness decides, and how the film was pressed: mist of tiny bubbles in patches, more near the
film's edge, and some round bubbles. What patches look like was judged by eye, from memory of decals that silvered.
"""

from __future__ import annotations

import zlib
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy import ndimage

from mockup.decal.cut import film_depth_at
from mockup.memo import memoize
from mockup.model.finish import LACQUER_INDEX, Decal, Film, Finish
from mockup.model.scene import Look

Floats = NDArray[np.float32]
Pixels = NDArray[np.uint8]

_SURFACE = ((LACQUER_INDEX - 1.0) / (LACQUER_INDEX + 1.0)) ** 2  # Fresnel, normal incidence
_BACK = 1.0 - (1.0 - _SURFACE) ** 2  # of light that meets two surfaces
_SCATTERED = 0.6  # of what air sends back, mist scatters so much every way and mirrors the rest dully: by eye
AIR_MIRRORS = (1.0 - _SCATTERED) * _BACK

_GRAINED = 0.6  # uneven paint keeps air as a matte one does: common practice, no source
_ROUGH = (0.10, 0.40, 0.60, 0.80)  # roughness of what the film lies on ...
_SHARE = (0.01, 0.12, 0.35, 0.55)  # ... and the share of film that air stays under, badly pressed: by eye
_PITCH_MM = 0.08  # of the pattern: finer than its finest bubbles; our choice
_PATCHES_MM = {9.0: 1.0, 3.5: 0.5, 1.2: 0.25}  # sizes in one patch's outline, and how strong each is: by eye
_FADE = 2.2  # how slowly a patch fades out, in deviations of the sum of those: by eye
_MIST_MM = {0.22: 0.8, 0.6: 0.6}  # the same of the bubbles of mist: by eye
_EDGE_MM, _EDGE_WEIGHT = 2.0, 0.7  # film lifts within so much of its edge, and how much: by eye
_BUBBLES_PER_MM2 = 0.3  # where air is everywhere, and by the root of its share: by eye
_BUBBLE_MM = (0.18, 0.75)  # radius of most, of the largest: by eye


def roughness_under(finish: Finish) -> float:
    """Return how rough (perceptual, 0 to 1) the ground is that film is laid on; uneven paint counts as dull."""
    if finish.coat_under_film is not None:
        return finish.coat_under_film.coat_roughness
    return max(finish.sheen.bare_roughness, _GRAINED if finish.sheen.has_grain else 0.0)


def air_under(look: Look) -> Film:
    """Return air between film and paint as a layer; a photo renders what of it mirrors."""
    back = _BACK if look == "proof" else _SCATTERED * _BACK
    return Film(about="air under the film", reflectance=back, transmittance=(1.0 - _BACK) ** 2)


def air_share(decal: Decal, finish: Finish) -> Pixels | None:
    """Return how much of each pixel of a decal's art has air under its film, (h, w), 0 to 255; None where none is
    asked for."""
    if not finish.is_silvered:
        return None
    air = Image.fromarray(pattern(decal, float(np.interp(roughness_under(finish), _ROUGH, _SHARE))))
    wide = air.resize((decal.art.width_px, decal.art.height_px), Image.Resampling.BILINEAR)
    return np.asarray(np.rint(np.asarray(wide) * 255.0), np.uint8)


@memoize
def pattern(decal: Decal, share: float) -> Floats:
    """Return where air stays under a decal's film, 0 to 1, (rows, columns) over its art at even steps.

    The same decal has the same air each time. `share` is that of the film which has any.
    """
    columns, rows = (max(2, round(mm / _PITCH_MM)) for mm in (decal.width_mm, decal.height_mm))
    dice = np.random.default_rng(zlib.crc32(decal.art.name.encode()))
    deep = film_depth_at(decal, (rows, columns))
    patches = _noise(dice, (rows, columns), _PATCHES_MM) + _EDGE_WEIGHT * np.exp(-np.maximum(deep, 0.0) / _EDGE_MM)
    level = float(np.quantile(patches[deep > 0.0], 1.0 - share)) if (deep > 0.0).any() else np.inf
    there = np.clip(0.5 + (patches - level) / _FADE, 0.0, 1.0)  # mist thins out towards its edge
    air = there * np.clip(0.5 + 0.6 * _noise(dice, (rows, columns), _MIST_MM) + 1.6 * (there - 0.5), 0.0, 1.0)
    _blow(air, there, dice, share)
    return np.asarray(air * (deep > 0.0), np.float32)


def _noise(dice: np.random.Generator, size: tuple[int, int], bumps_mm: Mapping[float, float]) -> NDArray[np.float64]:
    """Return a sum of smooth noises about 0, each with bumps so wide and a deviation as strong."""
    found = np.zeros(size)
    for mm, deviation in bumps_mm.items():
        step = max(1.0, mm / _PITCH_MM / 2.0)
        small = dice.standard_normal([int(np.ceil(each / step)) + 3 for each in size])
        wide = ndimage.zoom(small, step, order=3)[: size[0], : size[1]]
        found += deviation * (wide - wide.mean()) / max(float(wide.std()), 1e-6)
    return found


def _blow(air: NDArray[np.float64], there: NDArray[np.float64], dice: np.random.Generator, share: float) -> None:
    """Add round bubbles, in place: bright at their rim, where film and paint come together, dimmer within."""
    rows, columns = air.shape
    area = rows * columns * _PITCH_MM**2
    for _ in range(dice.poisson(area * _BUBBLES_PER_MM2 * share**0.5)):
        row, column = int(dice.integers(rows)), int(dice.integers(columns))
        radius = min(_BUBBLE_MM[0] * float(np.exp(0.6 * dice.standard_normal())), _BUBBLE_MM[1]) / _PITCH_MM
        if there[row, column] == 0.0 and dice.random() > 0.15:  # few stand alone
            continue
        reach = int(np.ceil(radius)) + 1
        top, left = max(0, row - reach), max(0, column - reach)
        part = air[top : row + reach + 1, left : column + reach + 1]
        y, x = np.ogrid[top - row : top - row + part.shape[0], left - column : left - column + part.shape[1]]
        out = np.hypot(y, x)
        rim = 0.55 + 0.45 * np.clip(1.0 - np.abs(out - radius + 0.8), 0.0, 1.0)
        np.maximum(part, np.clip(radius - out + 0.5, 0.0, 1.0) * rim, out=part)
