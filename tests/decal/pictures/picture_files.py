"""Tiny picture files, built byte by byte where no library writes them."""

from __future__ import annotations

import io
import itertools
import struct
import zlib
from collections.abc import Callable, Sequence

from PIL import Image


def saved(image: Image.Image, kind: str, **options: object) -> bytes:
    """Return a picture as the bytes of a file."""
    out = io.BytesIO()
    image.save(out, kind, **options)  # type: ignore[arg-type]
    return out.getvalue()


def chunk(kind: bytes, data: bytes) -> bytes:
    """Return one PNG chunk (ISO/IEC 15948 5.3)."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width: int, height: int, *, depth: int, colour: int, rows: bytes = b"", extra: bytes = b"") -> bytes:
    """Return a PNG of raw rows without their filter bytes (ISO/IEC 15948 11.2.2)."""
    length = len(rows) // height if rows else 0
    raw = b"".join(b"\0" + rows[i * length : (i + 1) * length] for i in range(height)) if rows else b""
    header = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0)
    body = chunk(b"IHDR", header) + extra + chunk(b"IDAT", zlib.compress(raw)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


def tiff(
    width: int, height: int, strip: bytes, *, bits: Sequence[int], photometric: int, sample_format: int = 1,
    extra: Sequence[tuple[int, int, int]] = (),
) -> bytes:  # fmt: skip
    """Return an uncompressed little-endian TIFF of one strip (TIFF 6.0); `extra` are (tag, type, value) entries."""
    bits_at = 8 + len(strip)
    tags = [
        (256, 4, 1, width),
        (257, 4, 1, height),
        (258, 3, len(bits), bits_at if len(bits) > 2 else sum(each << 16 * index for index, each in enumerate(bits))),
        (259, 3, 1, 1),
        (262, 3, 1, photometric),
        (273, 4, 1, 8),
        (277, 3, 1, len(bits)),
        (278, 4, 1, height),
        (279, 4, 1, len(strip)),
        (339, 3, 1, sample_format),
        *((tag, kind, 1, value) for tag, kind, value in extra),
    ]
    table = b"".join(struct.pack("<HHII", *tag) for tag in sorted(tags))
    listed = struct.pack(f"<{len(bits)}H", *bits)
    start = bits_at + len(listed)
    return b"II*\0" + struct.pack("<I", start) + strip + listed + struct.pack("<H", len(tags)) + table + b"\0" * 4


def _fixed(value: float) -> bytes:
    return struct.pack(">i", round(value * 65536))


# sRGB's primaries adapted to D50, as every sRGB profile lists them (ICC.1, and IEC 61966-2-1 annex F).
RED, GREEN, BLUE = (0.43607, 0.22249, 0.01392), (0.38515, 0.71687, 0.09708), (0.14307, 0.06061, 0.71410)
_D50 = (0.9642, 1.0, 0.8249)  # ICC.1 7.2.16


def _profile(
    space: bytes,
    tags: Sequence[tuple[bytes, bytes]],
    *,
    pcs: bytes = b"XYZ ",
    kind: bytes = b"mntr",
    white: Sequence[float] = _D50,
) -> bytes:
    """Return an ICC version 2 profile (ICC.1:2001-04 section 6)."""
    description = b"desc\0\0\0\0" + struct.pack(">I", 5) + b"test\0" + b"\0" * 78
    every = [(b"desc", description), (b"cprt", b"text\0\0\0\0none\0"), (b"wtpt", _xyz(white)), *tags]
    table, body = struct.pack(">I", len(every)), b""
    start = 128 + 4 + 12 * len(every)
    for name, data in every:
        table += name + struct.pack(">II", start + len(body), len(data))
        body += data + b"\0" * (-len(data) % 4)
    size = start + len(body)
    header = struct.pack(">I4sI4s4s4s", size, b"\0" * 4, 0x02400000, kind, space, pcs) + b"\0" * 12 + b"acsp"
    header += b"\0" * 28 + b"".join(map(_fixed, _D50))
    return header.ljust(128, b"\0") + table + body


def _xyz(value: Sequence[float]) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(map(_fixed, value))


def _gamma(value: float) -> bytes:
    return b"curv\0\0\0\0" + struct.pack(">IHH", 1, round(value * 256), 0)


def rgb_profile(gamma: float, primaries: Sequence[Sequence[float]] = (RED, GREEN, BLUE)) -> bytes:
    """Return a matrix profile with one gamma and three D50 primaries."""
    colours = [(name, _xyz(value)) for name, value in zip((b"rXYZ", b"gXYZ", b"bXYZ"), primaries, strict=True)]
    return _profile(b"RGB ", [*colours, *((name, _gamma(gamma)) for name in (b"rTRC", b"gTRC", b"bTRC"))])


def grey_profile(gamma: float) -> bytes:
    """Return a grey profile of one gamma."""
    return _profile(b"GRAY", [(b"kTRC", _gamma(gamma))])


def table_profile(space: str, lab: Callable[..., tuple[float, float, float]], paper: Sequence[float] = _D50) -> bytes:
    """Return a profile for CMYK or RGB whose corners have the given CIELAB (D50) colours (lut8Type).

    The colours are relative to the paper, whose own XYZ is `paper`.
    """
    channels = len(space)
    head = b"mft1\0\0\0\0" + bytes((channels, 3, 2, 0)) + b"".join(map(_fixed, (1, 0, 0, 0, 1, 0, 0, 0, 1)))
    nodes = b""
    for corner in itertools.product((0, 1), repeat=channels):  # the last channel runs fastest, ICC.1 10.9
        lightness, a, b = lab(*corner)
        nodes += bytes((round(lightness * 2.55), round(a) + 128, round(b) + 128))
    straight = bytes(range(256))
    table = head + straight * channels + nodes + straight * 3
    kind = b"prtr" if space == "CMYK" else b"mntr"
    return _profile(space.ljust(4).encode(), [(b"A2B0", table), (b"A2B1", table)], pcs=b"Lab ", kind=kind, white=paper)
