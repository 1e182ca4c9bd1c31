"""Ink on film on paint: what colour a printed decal has once it lies on the box.

Art is flattened over white first, so that what is transparent prints nothing. Then, band by band in
linear light on BT.2020 primaries (M: linear sRGB -> BT.2020):

    a  = (M art)^s                         ink as it looks on white; s = ink strength
    p  = M paint                           paint as it looks under lacquer
         (p - 0.04) / 0.96                 where the swatch was seen bare and the box is lacquered
    p' = R0 + T2 p / (1 - R0 p)            film; clear film has R0 = 0 and T2 = 1
    R  = a p' / (1 - k (1 - a)(1 - p'))    one air interface over ink, film and paint together
    seen = M^-1 (v + (1 - v) R)            v = veil: light that a dull surface adds to everything

Lacquer, film and paint are in optical contact, so light meets air once, not twice; multiplying two
colours that were each measured under air counts that interface twice and comes out too dark. k is the
share of light that the interface sends back inside; k = 0 is the plain product.

Sources. Wider primaries multiply more like spectra do: Ward and Eydelberg-Vileshin, Eurographics
Workshop on Rendering 2002; ITU-R BT.2020-2. Ink over print: Machizaud and Hebert, 2012. One
interface: Williams and Clapper, J. Opt. Soc. Am. 43, 1953, in the closed form of Saunderson, J. Opt.
Soc. Am. 32, 1942. Overprints predicted to a mean CIEDE2000 below 3: ICC White Paper 43.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PIL import Image, ImageFilter

from mockup.colour import rgb
from mockup.memo import memoize
from mockup.model.finish import INTERNAL_REFLECTION as INTERNAL_REFLECTION
from mockup.model.finish import Film, Finish
from mockup.model.material import Colour
from mockup.model.scene import Look

Floats = NDArray[np.float64]
Pixels = NDArray[np.uint8]

FAINT = 24  # of 255: ink paler than this beside bare film is not seen, and files are full of it: practice, no source
SURFACE_REFLECTION = 0.04  # Fresnel at normal incidence, refractive index 1.5: ((n - 1) / (n + 1))^2

_PRINTER = "The printer reproduces sRGB on white paper."
LIMITS: tuple[str, ...] = (
    "Seen in daylight (D65), by one standard observer.",
    "Paint is opaque and not metallic; ink, film, paint and lacquer lie in optical contact.",
    _PRINTER,
    "Expect a difference of several CIEDE2000, up to about 10 for saturated ink over saturated paint.",
)
"""What a prediction assumes and how far it may be trusted; printed with every proof."""

_DARK = 1e-5  # reflectance that is lost within half an 8-bit code
_LATTICE = 33  # points per axis of the lookup: common practice for display and print profiles
_FINE_LATTICE = 65  # the most that Pillow's lookup takes
_LATTICE_STRENGTH = 0.8  # below it a^s is too steep at black: 65 points were measured 4 to 16 CIEDE2000 off there
_ROWS = 128  # rows at a time, so that a large picture needs little memory beside itself
_LATTICE_ERROR = 2.0 / 255.0  # between two points; above it the fine lattice is used


@dataclass(frozen=True, kw_only=True)
class Ground:
    """What the ink lies on, and the doubtful figures: all that a prediction needs besides the art.

    `paint` is encoded sRGB; `film` is None where none lies; `veil` 0 to 1; `k` 0 to 1; `is_swatch_coated`
    False means that the colour was picked from bare paint that lies under lacquer on the box.
    """

    paint: Colour
    film: Film | None = None
    ink_strength: float = 1.0
    k: float = INTERNAL_REFLECTION
    veil: float = 0.0
    is_swatch_coated: bool = True

    def bare(self) -> Floats:
        """Return BT.2020 reflectance (3,) of the paint alone, before film and ink."""
        paint = _bands(self.paint)
        if not self.is_swatch_coated:
            paint = np.maximum((paint - SURFACE_REFLECTION) / (1.0 - SURFACE_REFLECTION), 0.0)
        return paint


def ground(finish: Finish, film: Film | None = None, look: Look = "proof", k: float | None = None) -> Ground:
    """Return the ground that a finish gives to ink, with a film on it or none; `k` replaces the finish's own.

    A photo renders its own surface reflection, so there the veil is 0. A swatch that was seen
    bare changes only where lacquer goes over it. Bare metal counts as paint of the metal's colour.
    """
    sheen = finish.sheen
    return Ground(
        paint=rgb.encoded_colour(sheen.metal.base_color) if sheen.metal is not None else finish.paint,
        film=film,
        ink_strength=finish.ink_strength,
        k=finish.internal_reflection if k is None else k,
        veil=sheen.veil if look == "proof" else 0.0,
        is_swatch_coated=finish.is_swatch_coated or not sheen.is_painted or not finish.has_clear_coat,
    )


def limits(finish: Finish, films: Iterable[Film] = ()) -> tuple[str, ...]:
    """Return the limits to print with a prediction, with those that this finish and these films add or lift."""
    measured = f'Ink as one test strip of "{finish.printer}" showed it; other colours may differ.'
    known = tuple(measured if line == _PRINTER and finish.printer else line for line in LIMITS)
    cautions = dict.fromkeys((finish.sheen.caution, *(film.caution for film in films)))
    return (*known, *(caution for caution in cautions if caution is not None))


def predict(art: ArrayLike, on: Ground) -> Floats:
    """Return the encoded sRGB (..., 3) seen where art lies on a ground: the exact reference.

    `art` (..., 3) is encoded sRGB already flattened over white. Formula, limits and sources: see the
    module. What falls outside sRGB is clipped.
    """
    return seen(overprint(art, on.bare(), on.film, on.ink_strength, on.k), on.veil)


def unprinted(on: Ground) -> Colour:
    """Return the encoded sRGB of the ground where no film lies."""
    red, green, blue = seen(on.bare(), on.veil).tolist()
    return red, green, blue


def overprint(art: ArrayLike, below: Floats, film: Film | None, ink_strength: float, k: float) -> Floats:
    """Return BT.2020 reflectance (..., 3) of art (..., 3) over reflectance `below` (..., 3).

    `art` is encoded sRGB, 0 to 1, or 8-bit pixels.
    """
    return over(_bands(art), below, film, ink_strength, k)


def over(ink: Floats, below: Floats, film: Film | None, ink_strength: float, k: float) -> Floats:
    """Return BT.2020 reflectance (..., 3) of ink over what lies below; all of them in bands."""
    if ink_strength != 1.0:
        ink = ink**ink_strength
    base = below
    if film is not None and not film.is_clear:
        back = film.reflectance
        base = back + film.transmittance * below / (1.0 - back * below)
    return np.asarray(ink * base / (1.0 - k * (1.0 - ink) * (1.0 - base)))


def seen(reflectance: Floats, veil: float) -> Floats:
    """Return the encoded sRGB (..., 3) of BT.2020 reflectance (..., 3) under a veil, clipped to sRGB."""
    return rgb.encode(np.clip(_veiled(reflectance, veil), 0.0, 1.0))


def invert(wish: ArrayLike, on: Ground) -> Floats:
    """Return the art (..., 3) that makes the ground look like `wish` (..., 3), both encoded sRGB.

    The inverse of `predict`, band by band: a = R (1 - k (1 - p)) / (p - k R (1 - p)). Nothing can
    be made lighter than the ground in any band, nor printed outside sRGB.
    """
    target = (_bands_signed(wish) - on.veil) / (1.0 - on.veil)
    base = overprint(np.ones(3), on.bare(), on.film, 1.0, on.k)
    target = np.clip(target, 0.0, base)
    is_dark = base < _DARK  # no ink shows there, so it may follow the other bands
    bottom = np.where(is_dark, 1.0, base - on.k * target * (1.0 - base))
    ink = target * (1.0 - on.k * (1.0 - base)) / bottom
    others = ink[..., ~is_dark].mean(axis=-1, keepdims=True) if not is_dark.all() else 1.0
    ink = np.where(is_dark, others, ink)
    linear = np.clip(ink, 0.0, 1.0) ** (1.0 / on.ink_strength) @ rgb.BT2020_TO_SRGB.T
    return rgb.encode(np.clip(linear, 0.0, 1.0))


@dataclass(frozen=True, kw_only=True, eq=False)
class Lookup:
    """`predict` for one ground as a lattice of colours, for whole pictures.

    `table` (n, n, n, 3) float32, encoded sRGB; the axes are the art's blue, green and red. Values
    outside 0 to 1 are kept, so that clipping comes after interpolation and leaves no kink. It is
    None for ink so weak that a lattice is too coarse next to black: then every pixel is worked out.
    """

    on: Ground
    table: NDArray[np.float32] | None

    def apply(self, art: Pixels) -> Pixels:
        """Return what is seen (h, w, 3) for 8-bit art (h, w, 3) or (h, w, 4), by trilinear interpolation.

        White art gives the ground's own colour exactly; elsewhere within 3 codes of the reference
        (6 in the darkest channel over the most saturated paints), 0.3 on average.
        """
        if self.table is None:
            flat = flatten(art)
            return np.concatenate(
                [rgb.to_8bit(predict(flat[i : i + _ROWS], self.on)) for i in range(0, len(flat), _ROWS)]
            )
        cube = ImageFilter.Color3DLUT(
            len(self.table), self.table.reshape(-1), channels=3, target_mode="RGB", _copy_table=False
        )
        return np.asarray(_on_white(art).filter(cube))


def flatten(art: Pixels) -> Pixels:
    """Return art (h, w, 3 or 4) as (h, w, 3) over white, in encoded sRGB: what is transparent prints nothing."""
    return np.asarray(_on_white(art).convert("RGB"))


def _on_white(art: Pixels) -> Image.Image:
    """Return art as an opaque picture; its mode is RGB or RGBA."""
    picture = Image.fromarray(np.ascontiguousarray(art))
    if art.shape[-1] == 3 or art[..., 3].min() == 255:
        return picture
    white = Image.new("RGBA", picture.size, "white")
    white.paste(picture, mask=picture)
    return white


@memoize
def lookup(on: Ground) -> Lookup:
    """Return the lookup of one ground: 33 points a side, or 65 where 33 would be off by more than 2 codes."""
    if on.ink_strength < _LATTICE_STRENGTH:
        return Lookup(on=on, table=None)
    coarse = _table(on, _lattice(_LATTICE))
    between = coarse
    for axis in range(3):
        between = (np.take(between, range(1, _LATTICE), axis) + np.take(between, range(_LATTICE - 1), axis)) / 2.0
    exact = _table(on, _lattice(_LATTICE - 1, 0.5 / (_LATTICE - 1)))
    error = np.abs(np.clip(between, 0.0, 1.0) - np.clip(exact, 0.0, 1.0)).max()
    fine = _table(on, _lattice(_FINE_LATTICE)) if error > _LATTICE_ERROR else coarse
    return Lookup(on=on, table=fine.astype(np.float32))


@memoize
def _lattice(points: int, margin: float = 0.0) -> Floats:
    """Return the bands (n, n, n, 3) of art at even steps of encoded sRGB, `margin` away from 0 and 1."""
    steps = np.linspace(margin, 1.0 - margin, points)
    blue, green, red = np.meshgrid(steps, steps, steps, indexing="ij")
    return _bands(np.stack([red, green, blue], axis=-1))


def _table(on: Ground, bands: Floats) -> Floats:
    """Return predictions (..., 3), not clipped, with the sRGB curve mirrored below zero to stay smooth."""
    linear = _veiled(over(bands, on.bare(), on.film, on.ink_strength, on.k), on.veil)
    return np.copysign(rgb.encode(np.abs(linear)), linear)


def _veiled(reflectance: Floats, veil: float) -> Floats:
    """Return linear sRGB of BT.2020 reflectance under a veil; outside sRGB it leaves 0 to 1."""
    return np.asarray((veil + (1.0 - veil) * reflectance) @ rgb.BT2020_TO_SRGB.T)


def _bands(encoded: ArrayLike) -> Floats:
    return np.maximum(_bands_signed(encoded), 0.0)


def _bands_signed(encoded: ArrayLike) -> Floats:
    pixels = np.asarray(encoded)
    linear = rgb.decode_8bit(pixels) if pixels.dtype == np.uint8 else rgb.decode(pixels)
    return np.asarray(linear @ rgb.SRGB_TO_BT2020.T)
