"""What a TIFF tells of damage: pieces that lie outside of the file or are too short, checksums of packed ones.

TIFF 6.0 itself has no checksum; what is packed with deflate has one in every piece. Of what the library that unpacks
the rest complains about, it tells nobody but its standard error: that is listened to here.
"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from PIL import ImageFile

from mockup.decal.pictures.packed import packed_damage
from mockup.decal.pictures.zeroed import zeroed_at

_RAW, _JPEG = 1, 7  # TIFF 6.0 section 8, tag 259; 7: Technical Note 2
_DEFLATE = (8, 32946)  # Technical Note 2; the older number, from memory
_YCBCR = 6  # TIFF 6.0 section 21: its rows may be of fewer samples
_WARNING = "Warning"  # from memory: how the library marks what is no error


@dataclass(frozen=True, kw_only=True)
class _Pieces:
    """How a picture is cut up: (first byte, bytes) of each strip or tile, and how many it unpacks to, 0 for unknown."""

    spans: Sequence[tuple[int, int]]
    unpacked: Sequence[int]
    stride: int


def damage(data: bytes, image: ImageFile.ImageFile, jpeg_damage: Callable[[bytes], str]) -> str:
    """Return what is damaged in a TIFF, "" where nothing shows; `jpeg_damage` judges pieces that are JPEG."""
    tags: Any = getattr(image, "tag_v2", {})
    packing = tags.get(259, _RAW)
    pieces = _pieces(tags)
    if pieces is None:
        return "the table of its pieces is broken"
    beyond = next((first + size for first, size in pieces.spans if first + size > len(data)), 0)
    if beyond:
        return f"it is cut short: it holds {len(data)} of at least {beyond} bytes"
    for number, ((first, size), whole) in enumerate(zip(pieces.spans, pieces.unpacked, strict=True), 1):
        piece = data[first : first + size]
        found = ""
        if packing == _RAW and size < whole:
            found = f"{size} of {whole} bytes are left"
        elif packing in _DEFLATE and whole:
            found = packed_damage([piece], whole)
        elif packing == _JPEG:
            tables = bytes(tags.get(347, b""))  # Technical Note 2: JPEGTables, begun and ended as a JPEG is
            found = jpeg_damage(tables[:-2] + piece[2:] if tables else piece)
        if not found and packing != _RAW:
            found = zeroed_at(data, first, first + size)
        if found:
            return f"in piece {number} of {len(pieces.spans)}, {found}"
    runs = _joined(pieces.spans) if packing == _RAW else ()
    return next(filter(None, (zeroed_at(data, first, last, pieces.stride) for first, last in runs)), "")


def _joined(spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return spans that follow on one another as one, as (first byte, byte after the last)."""
    found: list[tuple[int, int]] = []
    for first, size in spans:
        if found and found[-1][1] == first:
            found[-1] = found[-1][0], first + size
        else:
            found.append((first, first + size))
    return found


def _pieces(tags: Any) -> _Pieces | None:
    """Return how a picture is cut up, None where its tags do not fit together."""
    wide, high = int(tags.get(256, 0)), int(tags.get(257, 0))
    samples, bits = int(tags.get(277, 1)), max(tags.get(258, (1,)))
    planes = samples if tags.get(284, 1) == 2 else 1  # TIFF 6.0 section 8: 2, each sample in planes of its own
    offsets, counts = tags.get(324) or tags.get(273), tags.get(325) or tags.get(279)
    if not offsets:
        return None
    is_tiled = tags.get(324) is not None
    across = int(tags.get(322, wide)) if is_tiled else wide
    down = int(tags.get(323, high)) if is_tiled else min(int(tags.get(278, high)), high)
    if not (across > 0 and down > 0):
        return None
    stride = (across * bits * (samples // planes) + 7) // 8
    count = -(-wide // across) * -(-high // down) * planes
    if len(offsets) != count:
        return None
    rows = [down] * count
    if not is_tiled and high % down:
        rows = [down if (index + 1) % (count // planes) else high % down for index in range(count)]
    unpacked = [stride * each if tags.get(262) != _YCBCR else 0 for each in rows]
    if not counts and tags.get(259, _RAW) == _RAW:  # older writers left them out
        counts = unpacked
    if not counts or len(counts) != count:
        return None
    spans = [(int(first), int(size)) for first, size in zip(offsets, counts, strict=True)]
    return _Pieces(spans=spans, unpacked=unpacked, stride=stride)


@contextlib.contextmanager
def overheard(lines: list[str]) -> Iterator[None]:
    """Add to `lines` what libraries write to the process's standard error meanwhile, warnings left out."""
    try:
        sys.stderr.flush()
        kept = os.dup(2)
    except (OSError, AttributeError):  # there is none to listen to
        yield
        return
    listening, speaking = os.pipe()
    try:
        with contextlib.suppress(OSError, AttributeError):
            os.set_blocking(speaking, False)  # more than fits is not needed
        os.dup2(speaking, 2)
        yield
    finally:
        os.dup2(kept, 2)
        for each in (speaking, kept):
            os.close(each)
        said = os.read(listening, 2**16).decode(errors="replace")
        os.close(listening)
        lines += [line for line in said.splitlines() if line.strip() and _WARNING not in line]
