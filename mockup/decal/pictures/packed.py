"""Deflate streams checked to their end: what they unpack to is counted, their own checksum compared."""

from __future__ import annotations

import zlib
from collections.abc import Iterable

_PIECE = 2**20  # bytes unpacked at a time
_SURPLUS = 2**16  # bytes too many that some writers leave: our choice


def packed_damage(pieces: Iterable[bytes | memoryview], expected: int, surplus: int = _SURPLUS) -> str:
    """Return what is wrong with a stream (RFC 1950) in pieces that should hold so many bytes, "" where nothing is.

    More than `surplus` bytes too many are wrong as well, and are not unpacked.
    """
    stream = zlib.decompressobj()
    size = 0
    try:
        for piece in pieces:
            left: bytes | memoryview = piece
            while not stream.eof and size <= expected + surplus:
                more = len(stream.decompress(left, _PIECE))
                size += more
                left = stream.unconsumed_tail
                if not left and more < _PIECE:
                    break
    except zlib.error:
        return "its packed data does not unpack to what was packed (a checksum or a code in it is wrong)"
    if size > expected + surplus:
        return "it holds more data than a picture of its size"
    if not stream.eof or size < expected:
        return f"it is cut short: {size} of {expected} bytes of its pixels are left"
    return ""
