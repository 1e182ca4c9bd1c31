"""Frames to one looping picture file: WebP, GIF or APNG."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.decal import ink_over_paint

Format = Literal["webp", "gif", "apng"]


def animation(frames: Sequence[NDArray[np.uint8]], *, frame_ms: float, kind: Format, quality: int = 88) -> bytes:
    """Return an endlessly looping file of encoded sRGB frames, each (h, w, 3) or (h, w, 4).

    `frame_ms` is each frame's duration; GIF rounds it to hundredths of a second (GIF89a). `quality`
    0 to 100 matters to WebP only. A GIF gets ONE palette over all frames, so that a resting surface
    does not flicker, and no dither, which would crawl.
    """
    images = [Image.fromarray(np.ascontiguousarray(frame)) for frame in frames]
    out = io.BytesIO()
    if kind == "webp":
        images[0].save(
            out,
            "WEBP",
            save_all=True,
            append_images=images[1:],
            duration=round(frame_ms),
            loop=0,
            quality=quality,
            method=4,
        )
    elif kind == "apng":
        images[0].save(out, "PNG", save_all=True, append_images=images[1:], duration=frame_ms, loop=0)
    else:
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
