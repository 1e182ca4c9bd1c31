"""PNG files say their size and their encoding, as ISO/IEC 15948 puts it."""

from __future__ import annotations

import io
import struct

import numpy as np
import pytest
from PIL import Image

from mockup.encode.jpeg import jpeg
from mockup.encode.png import png


def chunks(data: bytes) -> dict[bytes, bytes]:
    """Read a PNG's chunks by the standard's own layout: length, type, data, check sum."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    found, at = {}, 8
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        found[data[at + 4 : at + 8]] = data[at + 8 : at + 8 + length]
        at += 12 + length
    return found


def test_resolution_is_kept_in_pixels_per_metre() -> None:
    """600 dpi = 23622 pixels per metre (600 / 0.0254, ISO/IEC 15948 pHYs)."""
    found = chunks(png(np.zeros((4, 5, 3), np.uint8), dpi=600))
    assert struct.unpack(">IIB", found[b"pHYs"]) == (23622, 23622, 1)


def test_no_resolution_means_no_chunk() -> None:
    assert b"pHYs" not in chunks(png(np.zeros((4, 5, 3), np.uint8)))


def test_encoding_is_named_and_text_survives() -> None:
    data = png(np.zeros((2, 2, 4), np.uint8), text={"Title": "Läuterung", "View": "above"})
    assert chunks(data)[b"sRGB"] == b"\0"
    with Image.open(io.BytesIO(data)) as image:
        assert image.info["Title"] == "Läuterung"
        assert image.info["View"] == "above"


def test_pixels_come_back() -> None:
    pixels = np.arange(4 * 6 * 3, dtype=np.uint8).reshape(4, 6, 3)
    with Image.open(io.BytesIO(png(pixels))) as image:
        assert np.array_equal(np.asarray(image), pixels)


def test_a_jpeg_keeps_its_facts_and_its_size() -> None:
    data = jpeg(np.full((20, 30, 3), 90, np.uint8), dpi=300, text={"Design": "K7QM2X", "View": "above"})
    with Image.open(io.BytesIO(data)) as image:
        assert image.size == (30, 20)
        assert image.info["dpi"] == pytest.approx((300, 300), abs=0.5)
        assert image.info["comment"] == b"Design: K7QM2X\nView: above"
