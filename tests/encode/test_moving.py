"""Animated files: frames, order, duration and endless loop, read back by independent readers."""

from __future__ import annotations

import io
from collections.abc import Iterator
from threading import Event, Timer

import av
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageSequence

from mockup.encode.animation import animation
from mockup.encode.threads import each
from mockup.encode.video import mp4

COLOURS = [(200, 30, 30), (30, 180, 40), (40, 60, 200), (220, 200, 40)]


def plain_frames(width: int = 64, height: int = 48) -> list[NDArray[np.uint8]]:
    return [np.full((height, width, 3), colour, np.uint8) for colour in COLOURS]


@pytest.mark.parametrize(("kind", "slack"), [("webp", 6), ("gif", 6), ("apng", 0)])
def test_frames_come_back_in_order(kind: str, slack: int) -> None:
    data = animation(plain_frames(), frame_ms=120, kind=kind)  # type: ignore[arg-type]
    with Image.open(io.BytesIO(data)) as image:
        assert image.info["loop"] == 0  # endless
        assert image.n_frames == 4
        for frame, colour in zip(ImageSequence.Iterator(image), COLOURS, strict=True):
            frame.load()
            assert frame.info["duration"] == 120
            middle = np.asarray(frame.convert("RGB"))[24, 32].astype(int)
            assert np.abs(middle - colour).max() <= slack


def test_a_resting_patch_does_not_flicker_in_gif() -> None:
    """One palette over all frames: what does not change in the input does not change in the file."""
    rng = np.random.default_rng(3)
    still = rng.integers(0, 256, (32, 32, 3), dtype=np.uint8)
    frames = []
    for colour in COLOURS:
        frame = np.full((32, 64, 3), colour, np.uint8)
        frame[:, :32] = still
        frames.append(frame)
    with Image.open(io.BytesIO(animation(frames, frame_ms=50, kind="gif"))) as image:
        left = [np.asarray(frame.convert("RGB"))[:, :32] for frame in ImageSequence.Iterator(image)]
    assert all(np.array_equal(each, left[0]) for each in left)


def test_transparency_survives_in_webp() -> None:
    frame = np.zeros((16, 16, 4), np.uint8)
    frame[4:12, 4:12] = (250, 10, 10, 255)
    frame[12:, :] = (0, 0, 0, 90)  # a soft shadow
    other = frame.copy()
    other[6, 6] = (0, 0, 0, 255)
    with Image.open(io.BytesIO(animation([frame, other], frame_ms=50, kind="webp"))) as image:
        assert image.mode == "RGBA"
        assert image.getpixel((0, 0))[3] == 0
        assert image.getpixel((2, 14))[3] == pytest.approx(90, abs=4)
        assert image.getpixel((8, 8))[3] == 255


def test_video_plays_the_colours_it_was_given() -> None:
    """Read back by the same container library's decoder: BT.709, even size, three turns."""
    data = mp4(plain_frames(63, 47), frame_ms=40, turns=3)
    with av.open(io.BytesIO(data)) as container:
        stream = container.streams.video[0]
        assert (stream.width, stream.height) == (64, 48)
        assert stream.average_rate == 25
        decoded = [frame.to_ndarray(format="rgb24") for frame in container.decode(stream)]
    assert len(decoded) == 12
    for frame, colour in zip(decoded, COLOURS * 3, strict=True):
        assert np.abs(frame[20, 30].astype(int) - colour).max() <= 8
    assert data[4:8] == b"ftyp"
    assert data.index(b"moov") < data.index(b"mdat"), "plays while loading"


def test_work_beside_keeps_the_order_and_runs_only_a_little_ahead() -> None:
    asked: list[int] = []

    def items() -> Iterator[int]:
        for number in range(20):
            asked.append(number)
            yield number

    held = Event()
    first = each(lambda number: (held.wait(10.0), number * number)[1], items(), threads=2)
    Timer(0.2, held.set).start()
    assert next(first) == 0
    assert len(asked) <= 4  # two for each thread
    assert list(first) == [number * number for number in range(1, 20)]


@pytest.mark.parametrize("kind", ["webp", "mp4"])
def test_what_goes_wrong_with_a_frame_is_raised_where_the_frames_are_made(kind: str) -> None:
    """An interrupt while drawing, and a frame that no encoder takes."""

    def interrupted() -> Iterator[NDArray[np.uint8]]:
        yield from plain_frames()
        raise KeyboardInterrupt

    def encoded(frames: Iterator[NDArray[np.uint8]]) -> bytes:
        return mp4(frames, frame_ms=40) if kind == "mp4" else animation(frames, frame_ms=40, kind="webp")

    with pytest.raises(KeyboardInterrupt):
        encoded(interrupted())
    with pytest.raises((ValueError, TypeError)):
        encoded(iter([np.zeros((8, 8, 3), np.float64)] * 3))  # type: ignore[list-item]
