"""Frames to one looping picture file: WebP, GIF or APNG; a frame of WebP is encoded while the next ones are made."""

from __future__ import annotations

import io
import struct
from collections.abc import Iterable, Sequence
from functools import partial
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.decal import ink_over_paint
from mockup.encode.threads import each

Format = Literal["webp", "gif", "apng"]
Pixels = NDArray[np.uint8]

_ALPHA, _MOVES = 0x10, 0x02  # of a WebP file's flags: RFC 9649, 2.7.1
_IN_PLACE = 0x02  # a WebP frame's: neither blended nor disposed of; RFC 9649, 2.7.1.1


def animation(frames: Iterable[Pixels], *, frame_ms: float, kind: Format, quality: int = 88) -> bytes:
    """Return an endlessly looping file of encoded sRGB frames of one size, each (h, w, 3) or (h, w, 4).

    `frame_ms` is each frame's duration; WebP rounds it to milliseconds (RFC 9649), GIF to hundredths of a second
    (GIF89a). `quality` 0 to 100 matters to WebP only. A GIF gets ONE palette over all frames, so that a resting
    surface does not flicker, and no dither, which would crawl.
    """
    if kind == "webp":
        return _webp(each(partial(_webp_frame, quality=quality), frames), frame_ms)
    out = io.BytesIO()
    if kind == "apng":
        images = [Image.fromarray(np.ascontiguousarray(frame)) for frame in frames]
        images[0].save(out, "PNG", save_all=True, append_images=images[1:], duration=frame_ms, loop=0)
        return out.getvalue()
    # GIF has one-bit transparency only; a soft shadow needs a ground, and a page is white.
    flat = [Image.fromarray(ink_over_paint.flatten(frame)) for frame in frames]
    palette = _shared_palette(flat)
    indexed = [image.quantize(palette=palette, dither=Image.Dither.NONE) for image in flat]
    indexed[0].save(
        out,
        "GIF",
        save_all=True,
        append_images=indexed[1:],
        duration=10 * max(2, round(frame_ms / 10)),
        loop=0,
        disposal=1,
        optimize=False,
    )
    return out.getvalue()


def _shared_palette(images: Sequence[Image.Image]) -> Image.Image:
    sample = images[:: max(1, len(images) // 8)]
    width, height = sample[0].size
    strip = Image.new("RGB", (width, height * len(sample)))
    for row, image in enumerate(sample):
        strip.paste(image, (0, row * height))
    return strip.quantize(colors=256, method=Image.Quantize.MEDIANCUT)


def _webp_frame(pixels: Pixels, quality: int) -> tuple[tuple[int, int], dict[bytes, bytes]]:
    """Return a frame's width and height and the chunks that hold its picture."""
    out = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(pixels)).save(out, "WEBP", quality=quality, method=4)
    data, place, found = out.getvalue(), 12, dict[bytes, bytes]()
    while place < len(data):
        name, size = struct.unpack_from("<4sI", data, place)
        if name in (b"ALPH", b"VP8 ", b"VP8L"):
            found[name] = data[place + 8 : place + 8 + size]
        place += 8 + size + size % 2
    return (pixels.shape[1], pixels.shape[0]), found


def _webp(frames: Iterable[tuple[tuple[int, int], dict[bytes, bytes]]], frame_ms: float) -> bytes:
    """Return an animated file (RFC 9649, 2.7) of encoded frames, all of one size."""
    made, flags, last = [], _MOVES, (1, 1)
    for last, chunks in frames:
        head = bytes(6) + _less_one(*last) + round(frame_ms).to_bytes(3, "little") + bytes([_IN_PLACE])
        made.append(_riff(b"ANMF", head + b"".join(_riff(*chunk) for chunk in chunks.items())))
        flags |= 0 if b"VP8 " in chunks and b"ALPH" not in chunks else _ALPHA
    head = _riff(b"VP8X", bytes([flags, 0, 0, 0]) + _less_one(*last)) + _riff(b"ANIM", bytes(6))  # 0: for ever
    return _riff(b"RIFF", b"WEBP" + head + b"".join(made))


def _less_one(width: int, height: int) -> bytes:
    return (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")


def _riff(name: bytes, data: bytes) -> bytes:
    return struct.pack("<4sI", name, len(data)) + data + bytes(len(data) % 2)
