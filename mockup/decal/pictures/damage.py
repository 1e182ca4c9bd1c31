"""What a picture file itself tells of damage: checksums, stated lengths, decoders' warnings, sectors that were zeroed.

Readers of pictures make the best of a damaged file. Here it is looked for, because a wrong pixel on a printed decal
is found too late. How much there is to find depends on the format: every changed bit of a PNG; of others what breaks
their structure. `tests/decal/test_damage.py` says how much that is.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import nullcontext

from PIL import ImageFile

from mockup.decal.pictures import formats, tiff_damage
from mockup.decal.pictures.packed import packed_damage
from mockup.decal.pictures.zeroed import zeroed_at

_PNG_HEAD = 8  # ISO/IEC 15948 5.2: the signature
_PNG_FRAME = 12  # ISO/IEC 15948 5.3: length, type and CRC of a chunk
_CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}  # ISO/IEC 15948 table 11.1, samples per pixel by colour type
_PASSES = (  # ISO/IEC 15948 8.2, Adam7: first column, first row, column step, row step
    (0, 0, 8, 8),
    (4, 0, 8, 8),
    (0, 4, 4, 8),
    (2, 0, 4, 4),
    (0, 2, 2, 4),
    (1, 0, 2, 2),
    (0, 1, 1, 2),
)
_JPEG_DAMAGE = re.compile(r"(Corrupt|Premature|Invalid|Inconsistent|Unsupported marker)")
"""How the decoder's warnings of damage begin; what it cannot read for other reasons is left to the other reader."""


def load(data: bytes, label: str, image: ImageFile.ImageFile, name: str) -> None:
    """Unpack a picture whose header was read; raises `InputError` where its file is damaged.

    `name` is used in the message. A library that unpacks a TIFF complains to nobody but is heard here.
    """
    complaints: list[str] = []
    with ThreadPoolExecutor(1) as beside:
        found = beside.submit(damage, data, label, image)
        if label != "PNG":  # whose sums take as long as its pixels, and touch nothing that its reader does
            _refuse(found.result(), name)
        try:
            with tiff_damage.overheard(complaints) if label == "TIFF" else nullcontext():
                image.load()
        finally:
            _refuse(found.result(), name)  # which says more than the reader does
    if complaints:
        said = " ".join(complaints[0].split())[:80]
        raise formats.damaged(name, f"its packed data does not unpack ({said})")


def _refuse(found: str, name: str) -> None:
    if found:
        raise formats.damaged(name, found)


def damage(data: bytes, label: str, image: ImageFile.ImageFile) -> str:
    """Return what shows that a picture file is damaged, in words; "" where nothing does.

    `image` is the file as its reader opened it, with only the header read.
    """
    judges: dict[str, Callable[[], str]] = {
        "PNG": lambda: _png(data),
        "JPEG": lambda: jpeg_damage(data) or zeroed_at(data, 2, data.rfind(b"\xff\xd9") + 2),
        "TIFF": lambda: tiff_damage.damage(data, image, jpeg_damage),
        "WebP": lambda: _webp(data),
        "GIF": lambda: _gif(data),
        "BMP": lambda: _bmp(data, image),
    }
    return judges[label]()


# --- PNG: ISO/IEC 15948 ---------------------------------------------------------------------------


def _png(data: bytes) -> str:
    packed: list[memoryview] = []
    kinds: set[bytes] = set()
    at = _PNG_HEAD
    while True:
        if at + _PNG_FRAME > len(data):
            return f"it is cut short after {len(data)} bytes"
        length, kind = struct.unpack_from(">I4s", data, at)
        if not kind.isalpha():
            return f"there is no sound block of data at byte {at}"
        if at + _PNG_FRAME + length > len(data):
            return f"it is cut short in its {kind.decode()} data, after {len(data)} bytes"
        body = memoryview(data)[at + 4 : at + 8 + length]
        if zlib.crc32(body) != struct.unpack_from(">I", data, at + 8 + length)[0]:
            return f"a checksum is wrong (its {kind.decode()} data at byte {at})"
        if at == _PNG_HEAD and (kind, length) != (b"IHDR", 13):
            return "it does not begin with its size"
        kinds.add(kind)
        if kind == b"IDAT":
            packed.append(body[4:])
        at += _PNG_FRAME + length
        if kind == b"IEND":
            break
    if not packed:
        return "it holds no picture data"
    wide, high, depth, colour, *_, interlaced = struct.unpack_from(">IIBBBBB", data, 16)
    if colour not in _CHANNELS:
        return f"its colour type {colour} does not exist"
    if colour == 3 and b"PLTE" not in kinds:
        return "it has lost its table of colours"
    return packed_damage(packed, sum(_png_rows(wide, high, depth * _CHANNELS[colour], bool(interlaced))))


def _png_rows(wide: int, high: int, bits: int, interlaced: bool) -> Iterator[int]:
    """Yield the bytes of each pass's rows, each row with its filter byte."""
    for column, row, across, down in _PASSES if interlaced else ((0, 0, 1, 1),):
        columns, rows = -(-(wide - column) // across), -(-(high - row) // down)
        if columns > 0 and rows > 0:
            yield rows * (1 + (columns * bits + 7) // 8)


# --- JPEG: ISO/IEC 10918-1 ------------------------------------------------------------------------


def jpeg_damage(data: bytes) -> str:
    """Return what a strict decoder says of a JPEG's structure and scan data, "" where it is content."""
    import simplejpeg  # here: a compiled library, needed for JPEG only

    try:
        colours = simplejpeg.decode_jpeg_header(data, strict=True)[2]
        space = "CMYK" if colours in ("CMYK", "YCCK") else "GRAY"
        simplejpeg.decode_jpeg(data, space, fastdct=True, fastupsample=True, min_height=1, min_width=1, strict=True)
    except ValueError as error:
        said = str(error)
        if not _JPEG_DAMAGE.match(said):
            return ""
        if said.startswith("Premature") or "premature end" in said:
            return "its picture data ends too soon"
        return "its picture data does not decode without errors"
    except MemoryError:
        return ""  # the other reader has its own limits
    return ""


# --- WebP: RFC 9649; GIF89a; BMP ------------------------------------------------------------------


def _webp(data: bytes) -> str:
    size = struct.unpack_from("<I", data, 4)[0] + 8
    if size > len(data):
        return f"it is cut short: it holds {len(data)} of {size} bytes"
    at = 12
    while at + 8 <= size:
        kind, length = struct.unpack_from("<4sI", data, at)
        if not (kind.isascii() and kind.decode("ascii").isprintable()):
            return f"there is no sound block of data at byte {at}"
        at += 8 + length + length % 2
    if at not in (size, size + 1):
        return "its blocks of data do not add up to its size"
    return zeroed_at(data, 12, size)


def _gif(data: bytes) -> str:
    """Follow the blocks to the trailer (GIF89a sections 15 to 27)."""
    short = f"it is cut short after {len(data)} bytes"

    def table(flags: int) -> int:
        return 3 << ((flags & 7) + 1) if flags & 0x80 else 0

    try:
        at = 13 + table(data[10])
        while data[at] != 0x3B:
            if data[at] == 0x2C:
                at += 10 + table(data[at + 9]) + 1
            elif data[at] == 0x21:
                at += 2
            else:
                return f"there is no sound block of data at byte {at}"
            while data[at]:
                at += 1 + data[at]
            at += 1
    except IndexError:
        return short
    return zeroed_at(data, 13, at)


def _bmp(data: bytes, image: ImageFile.ImageFile) -> str:
    offset, header, wide, high, _, bits, packing = struct.unpack_from("<IIiiHHI", data, 10)
    if header < 40 or packing not in (0, 3):  # core headers are older; packed rows have lengths of their own
        return ""
    stride = (abs(wide) * bits + 31) // 32 * 4
    needed = offset + stride * abs(high)
    if needed > len(data):
        return f"it is cut short: it holds {len(data)} of {needed} bytes"
    return zeroed_at(data, offset, needed, stride)
