"""sRGB: its curve, its primaries and the words people write for colours.

*Encoded* values are what a picture file holds; *linear* values are proportional to light. Both run
from 0 to 1. Matrices multiply column vectors: ``linear @ M.T`` for arrays of shape (..., 3).
"""

from __future__ import annotations

import difflib
import re
from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mockup.memo import memoize
from mockup.model.material import Colour

Floats = NDArray[np.float64]
Value = TypeVar("Value", bound=np.generic)

_D65_XY = (0.3127, 0.3290)  # IEC 61966-2-1:1999 table 1
_SRGB_XY = ((0.640, 0.330), (0.300, 0.600), (0.150, 0.060))  # IEC 61966-2-1:1999 table 1 (as ITU-R BT.709)

_LINEAR_SLOPE = 12.92  # IEC 61966-2-1:1999 5.2
_ENCODED_KNEE = 0.04045  # IEC 61966-2-1:1999 5.2
_LINEAR_KNEE = 0.0031308  # IEC 61966-2-1:1999 5.2
_OFFSET = 0.055  # IEC 61966-2-1:1999 5.2
_EXPONENT = 2.4  # IEC 61966-2-1:1999 5.2

LUMINANCE = np.array([0.2126, 0.7152, 0.0722])  # of linear sRGB: IEC 61966-2-1:1999; WCAG 2.2, "relative luminance"


def _xyz_of(xy: tuple[float, float]) -> Floats:
    """Return XYZ of a chromaticity at Y = 1."""
    x, y = xy
    return np.array([x / y, 1.0, (1.0 - x - y) / y])


def _primaries_to_xyz(primaries: tuple[tuple[float, float], ...]) -> Floats:
    """Return the matrix to XYZ of an RGB space with D65 white (SMPTE RP 177:1993 3.3)."""
    columns = np.stack([_xyz_of(xy) for xy in primaries], axis=-1)
    return np.asarray(columns * np.linalg.solve(columns, WHITE_XYZ))


WHITE_XYZ: Floats = _xyz_of(_D65_XY)
"""D65 white, Y = 1: about (0.95046, 1, 1.08906)."""
SRGB_TO_XYZ: Floats = _primaries_to_xyz(_SRGB_XY)
"""Linear sRGB to XYZ, D65, Y = 1 for white; exact from the chromaticities, so white stays white."""
XYZ_TO_SRGB: Floats = np.linalg.inv(SRGB_TO_XYZ).astype(np.float64)


def decode(encoded: ArrayLike) -> Floats:
    """Return linear light for encoded sRGB values of any shape (IEC 61966-2-1:1999 5.2).

    Values below 0 follow the straight piece; values above 1 follow the curve.
    """
    value = np.asarray(encoded, dtype=np.float64)
    curve = ((np.maximum(value, _ENCODED_KNEE) + _OFFSET) / (1.0 + _OFFSET)) ** _EXPONENT
    return np.where(value <= _ENCODED_KNEE, value / _LINEAR_SLOPE, curve)


def encode(linear: ArrayLike) -> Floats:
    """Return encoded sRGB for linear values of any shape (IEC 61966-2-1:1999 5.2); nothing is clipped."""
    value = np.asarray(linear, dtype=np.float64)
    curve = (1.0 + _OFFSET) * np.maximum(value, _LINEAR_KNEE) ** (1.0 / _EXPONENT) - _OFFSET
    return np.where(value <= _LINEAR_KNEE, value * _LINEAR_SLOPE, curve)


_DECODED_8BIT: Floats = decode(np.arange(256) / 255.0)


def decode_8bit(pixels: NDArray[np.uint8]) -> Floats:
    """Return linear light for 8-bit encoded pixels of any shape, by table; same values as `decode`."""
    return np.asarray(_DECODED_8BIT[pixels])


def to_8bit(encoded: ArrayLike) -> NDArray[np.uint8]:
    """Return encoded values 0 to 1 as the nearest 8-bit codes, clipped to the range."""
    value = np.asarray(encoded, dtype=np.float64)
    return np.asarray(np.rint(np.clip(value, 0.0, 1.0) * 255.0), dtype=np.uint8)


def luminance(encoded: ArrayLike) -> Floats:
    """Return WCAG 2.2 relative luminance, 0 to 1, of encoded sRGB colours (..., 3)."""
    return np.asarray(decode(encoded) @ LUMINANCE)


def colour(values: Floats) -> Colour:
    """Return three numbers (3,) as a colour."""
    red, green, blue = values.tolist()
    return red, green, blue


def linear_colour(encoded: Colour) -> Colour:
    """Return one encoded colour as linear sRGB."""
    return colour(decode(encoded))


def encoded_colour(linear: Colour) -> Colour:
    """Return one linear sRGB colour as encoded sRGB; nothing is clipped."""
    return colour(encode(linear))


def parse(text: str) -> Colour:
    """Return encoded sRGB, each 0 to 1, of a written colour.

    Takes ``#rgb``, ``#rrggbb`` and the named colours of CSS Color Module Level 4 (6.1), in any
    case. Raises `ValueError` with one plain sentence, and the nearest name where there is one.
    """
    word = text.strip().lower() if isinstance(text, str) else ""
    if re.fullmatch(r"#(?:[0-9a-f]{3}|[0-9a-f]{6})", word):
        digits = word[1:] if len(word) == 7 else "".join(2 * digit for digit in word[1:])
    elif word in (names := _names()):
        digits = names[word]
    else:
        plain = re.sub(r"[\s_-]", "", word)
        close = [] if word.startswith("#") else difflib.get_close_matches(plain, names, n=1, cutoff=0.6)
        remedy = (
            f"did you mean {close[0]!r}?" if close else 'write "#rrggbb", "#rgb" or a CSS colour name such as "teal"'
        )
        raise ValueError(f"{text!r} is not a colour; {remedy}")
    red, green, blue = (code / 255.0 for code in bytes.fromhex(digits))
    return red, green, blue


def least(pixels: NDArray[Value]) -> NDArray[Value]:
    """Return the least (...) of each pixel's channels (..., n): numpy's own way along so short an axis takes ten times.

    Of truth values it is whether all are true.
    """
    return np.asarray(np.minimum.reduce([pixels[..., channel] for channel in range(pixels.shape[-1])]))


def most(pixels: NDArray[Value]) -> NDArray[Value]:
    """Return the greatest (...) of each pixel's channels (..., n); of truth values, whether any is true."""
    return np.asarray(np.maximum.reduce([pixels[..., channel] for channel in range(pixels.shape[-1])]))


def to_hex(encoded: ArrayLike) -> str:
    """Return ``#rrggbb`` for one encoded sRGB colour (3,), rounded to 8 bits."""
    return "#" + to_8bit(encoded).tobytes().hex()


@memoize
def grey(luminance: float) -> str:
    """Return the neutral grey of a relative luminance, no less than 0 and no more than 1, as ``#rrggbb``."""
    return to_hex(encode(np.full(3, min(1.0, max(0.0, luminance)))))


@memoize
def _names() -> dict[str, str]:
    """Return CSS colour names as six hexadecimal digits each."""
    from PIL import ImageColor  # here, so that importing this module stays light

    return {name: bytes(ImageColor.getrgb(name)[:3]).hex() for name in ImageColor.colormap}
