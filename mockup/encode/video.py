"""Frames to the bytes of an MP4 file (H.264), through a library that carries its own encoder."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from numpy.typing import NDArray

from mockup.decal import ink_over_paint


def mp4(frames: Sequence[NDArray[np.uint8]], *, frame_ms: float, turns: int = 1) -> bytes:
    """Return an MP4 file of encoded sRGB frames (h, w, 3) that plays `turns` times round.

    H.264 wants even sizes, so an odd row or column is repeated at the edge. Colour is tagged
    BT.709, limited range; alpha is laid over white before (video has none).
    """
    height, width = frames[0].shape[:2]
    even = (height + height % 2, width + width % 2)
    with TemporaryDirectory() as folder:  # an index in front ("faststart") is written by going over the file again
        path = Path(folder) / "turn.mp4"
        _encode(path, frames, even, Fraction(1000 / frame_ms).limit_denominator(1000), turns)
        return path.read_bytes()


def _encode(path: Path, frames: Sequence[NDArray[np.uint8]], even: tuple[int, int], rate: Fraction, turns: int) -> None:
    import av

    with av.open(str(path), "w", format="mp4", options={"movflags": "faststart"}) as container:
        stream = container.add_stream("libx264", rate=rate)
        stream.height, stream.width = even
        stream.pix_fmt = "yuv420p"
        # The encoder's quick paths and its threads give other bytes for the same frames from run to run.
        stream.options = {"crf": "16", "preset": "medium", "tune": "animation", "x264-params": "cpu-independent=1"}
        stream.thread_count = 1
        context = stream.codec_context
        context.color_primaries = context.color_trc = context.colorspace = 1  # BT.709, ITU-T H.273 table 2 to 4
        context.color_range = 1  # limited
        for _ in range(turns):
            for pixels in frames:
                frame = av.VideoFrame.from_ndarray(_even(ink_over_paint.flatten(pixels), even), format="rgb24")
                turned = frame.reformat(format="yuv420p", dst_colorspace="ITU709", dst_color_range="MPEG")
                for packet in stream.encode(turned):
                    container.mux(packet)
        for packet in stream.encode():
            container.mux(packet)


def _even(pixels: NDArray[np.uint8], size: tuple[int, int]) -> NDArray[np.uint8]:
    rows, columns = size[0] - pixels.shape[0], size[1] - pixels.shape[1]
    return np.ascontiguousarray(np.pad(pixels, ((0, rows), (0, columns), (0, 0)), mode="edge"))
