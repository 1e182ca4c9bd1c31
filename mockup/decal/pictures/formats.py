"""Which picture files are read, how large they may be, and the one door to Pillow's readers.

A reader looks at the header only; nothing is unpacked before the size has been checked.
"""

from __future__ import annotations

import math
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import BytesIO

from PIL import (
    BmpImagePlugin,
    GifImagePlugin,
    Image,
    ImageFile,
    JpegImagePlugin,
    PngImagePlugin,
    TiffImagePlugin,
    WebPImagePlugin,
)

from mockup.model.errors import Fault, InputError

MAX_PIXELS = 60_000_000  # about 240 MB once decoded; A4 at 600 dpi is 35 million: our choice
MIN_SIDE_PX = 16  # anything smaller is a placeholder, not art: our choice

EXPECTED = "PNG, JPEG, TIFF, WebP, SVG, OpenRaster, GIF or BMP"

_Reader = Callable[[BytesIO], ImageFile.ImageFile]

_READERS: tuple[tuple[bytes, str, _Reader], ...] = (
    (b"\x89PNG\r\n\x1a\n", "PNG", PngImagePlugin.PngImageFile),  # ISO/IEC 15948 5.2
    (b"\xff\xd8\xff", "JPEG", JpegImagePlugin.jpeg_factory),  # ISO/IEC 10918-1 B.1.1.3, SOI
    (b"II*\x00", "TIFF", TiffImagePlugin.TiffImageFile),  # TIFF 6.0 section 2
    (b"MM\x00*", "TIFF", TiffImagePlugin.TiffImageFile),  # TIFF 6.0 section 2
    (b"II+\x00", "TIFF", TiffImagePlugin.TiffImageFile),  # BigTIFF, from memory
    (b"MM\x00+", "TIFF", TiffImagePlugin.TiffImageFile),  # BigTIFF, from memory
    (b"RIFF", "WebP", WebPImagePlugin.WebPImageFile),  # RFC 9649 2.4
    (b"GIF8", "GIF", GifImagePlugin.GifImageFile),  # GIF89a section 17
    (b"BM", "BMP", BmpImagePlugin.BmpImageFile),  # from memory
)
_FOREIGN = (
    (0, b"%PDF", "a PDF file"),
    (0, b"%!PS", "a PostScript file"),
    (0, b"8BPS", "a layered picture"),
    (0, bytes.fromhex("67696d702078636620"), "a layered picture"),
    (4, b"ftyp", "a HEIC or AVIF picture or a video"),
    (0, b"PK\x03\x04", "a zip archive"),
    (0, b"AC10", "a CAD drawing"),
)  # from memory

_UNREAD = ("unknown pixel mode", "unknown data organization", "Unsupported BMP bitfields layout")  # in Pillow's words
_PLAIN = "save it as a PNG with 8 bits per channel"


def refused(name: str, what: str, remedy: str = "") -> InputError:
    """Return the error for one file that cannot be art."""
    return InputError(Fault(file=name, what=what, remedy=remedy))


def damaged(name: str, how: str) -> InputError:
    """Return the error for one file that is not what was saved; `how` says what shows it."""
    return refused(name, f"is damaged or cut short: {how}", "save or export it again")


def check_size(name: str, width_px: int, height_px: int) -> None:
    """Raise `InputError` where a picture is too large to unpack or too small to be art."""
    pixels = width_px * height_px
    if pixels > MAX_PIXELS:
        megapixels = math.ceil(pixels / 1e5) / 10
        raise refused(
            name,
            f"{width_px} x {height_px} px is {megapixels:.1f}".removesuffix(".0")
            + f" megapixels; the limit is {MAX_PIXELS // 1_000_000}",
            "save it at 600 dpi at its printed size; no printer needs more",
        )
    if min(width_px, height_px) < MIN_SIDE_PX:
        raise refused(
            name,
            f"{width_px} x {height_px} px is too small for art; expected at least {MIN_SIDE_PX} px each way",
            "name the picture you want to print",
        )


def kind_of(data: bytes) -> str | None:
    """Return the name of the pixel format that the bytes begin as, or None."""
    found = _reader(data)
    return found[0] if found else None


def open_raster(data: bytes, name: str) -> tuple[str, ImageFile.ImageFile]:
    """Return (format, picture) with only its header read.

    The reader is called directly, not through `Image.open`: that refuses very large pictures
    before their size can be told. Raises `InputError` for what is no picture, and whatever a reader
    raises for damage: wrap the call in `reading`.
    """
    found = _reader(data)
    if found is None:
        foreign = next((label for at, magic, label in _FOREIGN if data[at : at + len(magic)] == magic), None)
        what = f"is {foreign}, not a picture that can be printed" if foreign else "is not a picture"
        raise refused(name, f"{what}; expected {EXPECTED}", "export it as PNG at its printed size")
    label, reader = found
    return label, reader(BytesIO(data))


@contextmanager
def reading(name: str, label: str = "") -> Iterator[None]:
    """Turn whatever a reader raises into one `InputError`, and keep its warnings to itself.

    Readers raise nearly every built-in error on damaged data, so all of them are caught here, and
    only here.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    except InputError:
        raise
    except Image.DecompressionBombError:
        raise refused(name, f"is far beyond the limit of {MAX_PIXELS // 1_000_000} megapixels") from None
    except Exception as error:
        if str(error) in _UNREAD:
            raise refused(name, "is damaged, or its pixels are of a kind that is not read", _PLAIN) from error
        kind = f"{label} picture" if label else "picture"
        raise damaged(name, f"the {kind} cannot be read") from error


def _reader(data: bytes) -> tuple[str, _Reader] | None:
    for magic, label, reader in _READERS:
        if data.startswith(magic) and (label != "WebP" or data[8:12] == b"WEBP"):
            return label, reader
    return None
