"""Paints, inks and lacquer by their spectra: the outside reference of the ink model and of the printers' profiles.

Paints are the 99 real surfaces of the CIE 2017 colour fidelity index (CIE 224:2017), inks are mixtures of three dyes
with Gaussian absorption bands. Lacquer over ink over paint is the full angular integral of Williams and Clapper,
J. Opt. Soc. Am. 43, 1953, 595: light comes in at 45 degrees, is seen from above, and what the surface turns back
passes the ink twice more on its slant, as often as it likes. Nothing here knows the package's own ink model.
"""

from __future__ import annotations

import warnings
from functools import cache

import numpy as np

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour
    from colour.quality.cfi2017 import load_TCS_CIE2017

SHAPE = colour.SpectralShape(400, 700, 10)
NM = np.arange(400, 701, 10)
INDEX = 1.5
Array = np.ndarray


def fresnel(cosine: Array, index: float) -> Array:
    """Return what a surface turns back of unpolarised light that meets it from inside (Born and Wolf 1.5.2)."""
    sine = index * np.sqrt(1 - cosine**2)
    out = np.sqrt(np.clip(1 - sine**2, 0, None))
    across = ((index * cosine - out) / (index * cosine + out)) ** 2
    along = ((cosine - index * out) / (cosine + index * out)) ** 2
    return np.where(sine >= 1, 1.0, (across + along) / 2)


@cache
def _angles(index: float) -> tuple[Array, Array]:
    """Return cosines and the weight of what is turned back there, by Gauss-Legendre on either side of total
    reflection."""
    edge = np.sqrt(1 - 1 / index**2)
    nodes, weights = np.polynomial.legendre.leggauss(48)
    cosines, shares = [], []
    for low, high in ((0.0, edge), (edge, 1.0)):
        at = low + (nodes + 1) / 2 * (high - low)
        cosines.append(at)
        shares.append(weights / 2 * (high - low) * 2 * at * fresnel(at, index))  # sin 2 theta d theta = 2 c dc
    return np.concatenate(cosines), np.concatenate(shares)


def turned_back(pass_: Array, index: float = INDEX) -> Array:
    """Return the share of light sent up diffusely that comes back down through a film that lets `pass_` straight
    through once."""
    cosine, share = _angles(index)
    return (np.asarray(pass_)[..., None] ** (2 / cosine)) @ share


def _slant(index: float) -> float:
    return 1 / np.sqrt(1 - (np.sin(np.pi / 4) / index) ** 2) + 1


def inside(seen: Array, index: float = INDEX) -> Array:
    """Return the reflectance of a paint itself whose look under lacquer, relative to lacquered white, is `seen`."""
    most = turned_back(np.array(1.0), index)
    return seen / (1 - most + most * seen)


def laid_over(pass_: Array, seen: Array, index: float = INDEX) -> Array:
    """Return what ink of a single pass `pass_` looks like over a paint that looks like `seen` when lacquered."""
    base, most = inside(seen, index), turned_back(np.array(1.0), index)
    return pass_ ** _slant(index) * base * (1 - most) / (1 - base * turned_back(pass_, index))


@cache
def weights(light: str = "D65") -> Array:
    """Return XYZ weights (wavelengths, 3) of a light, Y = 1 for white (CIE 1931 2 degree observer)."""
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE).values
    lamp = colour.SDS_ILLUMINANTS[light].copy().align(SHAPE).values
    made = observer * lamp[:, None]
    return made / made[:, 1].sum()


def xyz(spectrum: Array, light: str = "D65") -> Array:
    """Return XYZ of spectra (..., wavelengths), adapted to D65 by CAT16 (CIE 248:2022) where the light is another."""
    seen = spectrum @ weights(light)
    if light == "D65":
        return seen
    white, day = weights(light).sum(axis=0), weights().sum(axis=0)
    return colour.chromatic_adaptation(seen, white, day, method="Von Kries", transform="CAT16")


TO_SRGB = np.linalg.inv(np.array([[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750],
                                  [0.0193339, 0.1191920, 0.9503041]]))  # fmt: skip  # IEC 61966-2-1, from memory


def linear(spectrum: Array, light: str = "D65") -> Array:
    """Return linear sRGB of spectra, white exactly white; it is not clipped."""
    white = weights().sum(axis=0) @ TO_SRGB.T
    return xyz(spectrum, light) @ TO_SRGB.T / white


def lab(spectrum: Array, light: str = "D65") -> Array:
    """Return CIELAB of spectra (CIE 15:2018 8.2.1), by the outside library."""
    white = weights().sum(axis=0)
    return colour.XYZ_to_Lab(xyz(spectrum, light), colour.XYZ_to_xy(white))


def encoded(spectrum: Array, light: str = "D65") -> Array:
    """Return encoded sRGB of spectra; what lies outside is not clipped."""
    return colour.cctf_encoding(linear(spectrum, light), function="sRGB")


@cache
def surfaces() -> Array:
    """Return the 99 surfaces of CIE 224:2017 that sRGB holds, (n, wavelengths)."""
    all_ = load_TCS_CIE2017(colour.SpectralShape(380, 780, 5)).values[4:65:2].T  # 400 to 700 nm
    seen = linear(all_)
    return all_[((seen > 0) & (seen < 1)).all(axis=1)]


def dyes(
    middles: tuple[float, float, float] = (640, 540, 445),
    widths: tuple[float, float, float] = (58, 42, 45),
    tails: float = 0.04,
) -> Array:
    """Return densities (3, wavelengths) of cyan, magenta and yellow dye, 1 at their peaks, with a blue tail."""
    found = []
    for middle, width in zip(middles, widths, strict=True):
        band = np.exp(-(((NM - middle) / width) ** 2) / 2)
        if middle > 600:  # a cyan dye goes on to absorb in the deep red
            band = np.where(middle < NM, 0.75 + 0.25 * band, band)
        found.append(band + tails * np.exp(-(NM - 400) / 120))
    return np.array(found)


def ink(amounts: Array, of: Array | None = None) -> Array:
    """Return the single straight pass (..., wavelengths) of dye amounts (..., 3), each the density of one pass."""
    return 10 ** -(np.asarray(amounts) @ (dyes() if of is None else of))


def white_ink(pass_: Array) -> Array:
    """Return what ink looks like over perfect white under lacquer."""
    return laid_over(pass_, np.ones_like(pass_))


def dotted(passes: Array, shares: Array, seen: Array, index: float = INDEX) -> Array:
    """Return what dots look like over a paint that looks like `seen` when lacquered: Clapper and Yule, J. Opt. Soc.
    Am. 43, 1953, 600, with every pass on its slant.

    `passes` (m, wavelengths) let light straight through once, `shares` (..., m) of the area each. Light spreads in
    the paint farther than dots are wide, so in and out it meets all of them.
    """
    base, most = inside(seen, index), turned_back(np.array(1.0), index)
    way_in = shares @ passes ** (_slant(index) - 1)
    way_out, back = shares @ passes, shares @ turned_back(passes, index)
    return way_in * way_out * base * (1 - most) / (1 - base * back)
