"""Art: the bytes of a picture file become pixels that are ready to be ink.

The order matters: size, unpack, transparency apart, colour profile, turn upright. Nothing here reads a
file or reaches the network.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFile

from mockup.decal.pictures import damage, formats, layers, vector
from mockup.decal.pictures.profiles import to_srgb
from mockup.model.finish import ArtFile, Artwork
from mockup.model.units import MM_PER_INCH

_CM_PER_INCH = MM_PER_INCH / 10.0

_ORIENTATION = 0x0112  # TIFF 6.0 and Exif 2.32 4.6.4 A: tag 274
_X_RESOLUTION, _Y_RESOLUTION, _RESOLUTION_UNIT = 0x011A, 0x011B, 0x0128  # same: tags 282, 283, 296
_BITS_PER_SAMPLE, _PHOTOMETRIC = 258, 262  # TIFF 6.0 section 8
_WHITE_IS_ZERO = 0  # TIFF 6.0 section 8, PhotometricInterpretation
_TURNS: dict[int, Image.Transpose] = {  # Exif 2.32 4.6.4 A, Orientation: what undoes each value
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_MODES = {  # the library's words in a builder's
    "1": "black and white",
    "L": "grey",
    "LA": "grey",
    "La": "grey",
    "I;16": "grey",
    "I;16B": "grey",
    "P": "palette",
    "PA": "palette",
    "RGBA": "RGB",
    "RGBX": "RGB",
    "RGBa": "RGB",
    "LAB": "Lab",
}
_SIDEWAYS = (5, 6, 7, 8)  # these swap width and height
_TO_8BIT = ((np.arange(65536, dtype=np.uint32) * 255 + 32767) // 65535).astype(np.uint8)


def decode(
    data: bytes, name: str, *, svg_dpi: float = 600.0, fonts: Sequence[str] = (), hide: Sequence[str] = ()
) -> Artwork:
    """Return the picture in a file's bytes.

    Reads PNG, JPEG, TIFF, WebP, GIF, BMP (grey, palette, 1 to 16 bits, RGB, CMYK, YCbCr, Lab, with or
    without transparency and colour profile), OpenRaster, and SVG, which is drawn at `svg_dpi` dots per inch with
    the font files named in `fonts` and no others; of these two the layers or groups named in `hide` are left out.
    `name` is used in messages. Raises `InputError`
    with one `Fault` for whatever is not such a picture, is damaged, or is over 60 megapixels.
    """
    if not data:
        raise formats.refused(name, "is empty", "save or export it again")
    if vector.is_svg(data):
        drawn = vector.draw(data, name, dpi=svg_dpi, fonts=fonts, hide=hide)
        origin = "the drawing's own size"
        file = ArtFile(format="SVG", mode="lines", bits=0, dpi_from=origin, layers=drawn.layers)
        return Artwork(name=name, pixels=drawn.pixels, dpi=drawn.dpi, notes=drawn.notes, file=file)
    if layers.is_openraster(data):
        return layers.openraster(data, name, hide)
    if hide:
        raise formats.refused(name, "has no layers to hide", "save it as OpenRaster (.ora) or SVG, or take hide out")
    return _raster(data, name)


def _raster(data: bytes, name: str) -> Artwork:
    with formats.reading(name):
        label, image = formats.open_raster(data, name)
    formats.check_size(name, *image.size)
    with formats.reading(name, label):
        _refuse_unknown_samples(image, name)
        orientation = _orientation(image)
        dpi, dpi_from = _dpi(image, label)
        mode = _MODES.get(image.mode, image.mode)
        notes = _frames_note(image, label)
        icc = image.info.get("icc_profile")
        bits = _bits(data, image, label)
        damage.load(data, label, image, name)
        if bits > 8:
            notes += (f"{bits} bits per channel were rounded to 8.",)
        picture, more, profile = _printable(image, icc)
        notes += more
        if orientation in _TURNS and label != "TIFF":  # the TIFF reader has turned it already
            picture = picture.transpose(_TURNS[orientation])
        if orientation in _TURNS:
            notes += ("Turned upright, as its orientation tag says.",)
        if orientation in _SIDEWAYS and dpi is not None:
            dpi = dpi[1], dpi[0]
        pixels: NDArray[np.uint8] = np.array(picture, dtype=np.uint8)
    file = ArtFile(format=label, mode=mode, bits=bits, profile=profile, dpi_from=dpi_from)
    return Artwork(name=name, pixels=pixels, dpi=dpi, notes=notes, file=file)


def _printable(image: Image.Image, icc: bytes | None) -> tuple[Image.Image, tuple[str, ...], str]:
    """Return a picture as sRGB with straight alpha, notes on what was done, and its profile in words."""
    if image.mode == "RGBA" and not icc:  # what most art is: ready as it stands
        return image, (), ""
    base, alpha = _split(image)
    picture, notes, profile = to_srgb(base, icc)
    if alpha is None:
        return picture.convert("RGBA"), notes, profile
    picture.putalpha(alpha)
    return picture, notes, profile


def _split(image: Image.Image) -> tuple[Image.Image, Image.Image | None]:
    """Return (picture in mode L, RGB, CMYK or LAB, its alpha or None), both straight.

    Colour goes through the profile without alpha, which some conversions would lose.
    """
    if image.mode.startswith("I;16"):
        return _split_16bit(image)
    if image.mode in ("LA", "La"):
        grey = image.convert("LA")
        return grey.getchannel("L"), grey.getchannel("A")
    if image.has_transparency_data:
        key = image.info.get("transparency")
        if image.mode == "RGB" and isinstance(key, tuple) and max(key) > 255:
            image.info["transparency"] = tuple(each >> 8 for each in key)  # a 16-bit key for 8-bit pixels
        clear = image.convert("RGBA")
        return clear.convert("RGB"), clear.getchannel("A")
    if image.mode in ("L", "RGB", "CMYK", "LAB"):
        return image, None
    return image.convert("L" if image.mode == "1" else "RGB"), None


def _split_16bit(image: Image.Image) -> tuple[Image.Image, Image.Image | None]:
    """Return 16-bit grey as 8-bit grey; the library's own conversion would clip it to white."""
    values = np.asarray(image).astype(np.uint16)
    key = image.info.get("transparency")
    alpha = None
    if isinstance(key, int):
        alpha = Image.fromarray(np.where(values == key, 0, 255).astype(np.uint8))
    if getattr(image, "tag_v2", {}).get(_PHOTOMETRIC) == _WHITE_IS_ZERO:
        values = 65535 - values  # the library inverts fewer bits, not these
    return Image.fromarray(_TO_8BIT[values]), alpha


def _refuse_unknown_samples(image: Image.Image, name: str) -> None:
    if image.mode in ("I", "F"):
        kind = "floating-point" if image.mode == "F" else "32-bit or signed"
        raise formats.refused(
            name, f"holds {kind} samples; expected 8 or 16 bits per channel", "save it with 8 bits per channel"
        )


def _bits(data: bytes, image: ImageFile.ImageFile, label: str) -> int:
    """Return bits per channel as far as they can be told; 8 otherwise."""
    if label == "PNG":
        return data[24]  # ISO/IEC 15948 11.2.2: bit depth in IHDR
    if label == "TIFF":
        return int(max(getattr(image, "tag_v2", {}).get(_BITS_PER_SAMPLE, (8,))))
    return 8


def _orientation(image: Image.Image) -> int:
    try:
        return int(image.getexif().get(_ORIENTATION, 1))
    except Exception:  # a damaged tag must not cost the picture; readers raise nearly anything
        return 1


def _frames_note(image: Image.Image, label: str) -> tuple[str, ...]:
    if label == "JPEG":  # further pictures in a JPEG are previews or a second eye
        return ()
    count = int(getattr(image, "n_frames", 1))
    word = "pages" if label == "TIFF" else "frames"
    return (f"It has {count} {word}; the first is used.",) if count > 1 else ()


def _dpi(image: Image.Image, label: str) -> tuple[tuple[float, float] | None, str]:
    """Return dots per inch (x, y) where the file states them, and where it does; a bare aspect ratio is not dpi.

    The library's own figure is not taken for JPEG: it makes up 72 where nothing is said.
    """
    found, where = None, f"the {label}'s own tag"
    if label == "JPEG" and image.info.get("jfif_unit") in (1, 2):  # ISO/IEC 10918-5 10.1: 1 per inch, 2 per cm
        x, y = image.info["jfif_density"]
        scale = _CM_PER_INCH if image.info["jfif_unit"] == 2 else 1.0
        found, where = _sane(x * scale, y * scale), "the JPEG's header"
    elif label in ("JPEG", "WebP"):
        found, where = _exif_dpi(image), "the camera's tag (Exif)"
    elif stated := image.info.get("dpi"):
        found = _sane(*stated)
    return found, where if found is not None else ""


def _exif_dpi(image: Image.Image) -> tuple[float, float] | None:
    try:
        tags = image.getexif()
        x, y, unit = float(tags[_X_RESOLUTION]), float(tags[_Y_RESOLUTION]), tags.get(_RESOLUTION_UNIT, 2)
    except Exception:  # as for the orientation
        return None
    scale = {2: 1.0, 3: _CM_PER_INCH}.get(unit)  # Exif 2.32: 2 inch (default), 3 centimetre
    return _sane(x * scale, y * scale) if scale else None


def _sane(x: float, y: float) -> tuple[float, float] | None:
    """Return the pair as floats where both are finite and above 1, which nobody prints at."""
    x, y = float(x), float(y)
    return (x, y) if math.isfinite(x) and math.isfinite(y) and min(x, y) > 1.0 else None
