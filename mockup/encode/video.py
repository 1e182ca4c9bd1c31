"""Frames to the bytes of an MP4 file (H.264), through a library that carries its own encoder."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from numpy.typing import NDArray

from mockup.decal import ink_over_paint
from mockup.encode.threads import each


def mp4(frames: Iterable[NDArray[np.uint8]], *, frame_ms: float, turns: int = 1) -> bytes:
    """Return an MP4 file of encoded sRGB frames (h, w, 3) that plays `turns` times round.

    H.264 wants even sizes, so an odd row or column is repeated at the edge. Colour is tagged
    BT.709, limited range; alpha is laid over white before (video has none).
    """
    with TemporaryDirectory() as folder:  # an index in front ("faststart") is written by going over the file again
        path = Path(folder) / "turn.mp4"
        _encode(path, frames, Fraction(1000 / frame_ms).limit_denominator(1000), turns)
        return path.read_bytes()


def _encode(path: Path, frames: Iterable[NDArray[np.uint8]], rate: Fraction, turns: int) -> None:
    import av

    with av.open(str(path), "w", format="mp4", options={"movflags": "faststart"}) as container:
        stream = container.add_stream("libx264", rate=rate)
        stream.pix_fmt = "yuv420p"
        # The encoder's quick paths and its threads give other bytes for the same frames from run to run.
        stream.options = {"crf": "16", "preset": "medium", "tune": "animation", "x264-params": "cpu-independent=1"}
        stream.thread_count = 1
        context = stream.codec_context
        context.color_primaries = context.color_trc = context.colorspace = 1  # BT.709, ITU-T H.273 table 2 to 4
        context.color_range = 1  # limited

        def add(pixels: NDArray[np.uint8]) -> av.VideoFrame:
            frame = av.VideoFrame.from_ndarray(_even(ink_over_paint.flatten(pixels)), format="rgb24")
            turned = frame.reformat(format="yuv420p", dst_colorspace="ITU709", dst_color_range="MPEG")
            if not context.is_open:
                stream.width, stream.height = turned.width, turned.height
            container.mux(stream.encode(turned))
            return turned

        played = list(each(add, frames, threads=1))
        for _ in range(turns - 1):
            for frame in played:
                frame.pts = None  # its place is in the next turn
                container.mux(stream.encode(frame))
        container.mux(stream.encode())


def _even(pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    rows, columns = (side % 2 for side in pixels.shape[:2])
    return np.ascontiguousarray(np.pad(pixels, ((0, rows), (0, columns), (0, 0)), mode="edge"))
