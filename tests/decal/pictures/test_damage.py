"""Damaged art is never read as good art, as far as its format can tell: seeded damage to every format, counted.

How many bits a file may lose unnoticed follows from the format, not from us: a PNG has a checksum over every byte
(ISO/IEC 15948 5.3), a deflate stream one over what it unpacks to (RFC 1950), JPEG, LZW, WebP and raw rows have none.
The least shares below are what was measured, less a little.
"""

from __future__ import annotations

import random
import struct
import zlib
from collections.abc import Callable

import numpy as np
import picture_files as files
import pytest
from PIL import Image, ImageDraw

from mockup.decal.pictures.artwork import decode
from mockup.decal.pictures.zeroed import zeroed_at
from mockup.model.errors import InputError

SECTOR = 512


def art(mode: str) -> Image.Image:
    """Return art as people draw it: shapes and words on a ground (none in RGBA), a little grain."""
    chance = random.Random(3)
    image = Image.new("RGBA", (240, 180), (0, 0, 0, 0) if mode == "RGBA" else (235, 225, 200, 255))
    pen = ImageDraw.Draw(image)
    for _ in range(60):
        x, y = chance.randrange(240), chance.randrange(180)
        colour = (chance.randrange(256), chance.randrange(256), chance.randrange(256), 255)
        pen.ellipse((x, y, x + chance.randrange(60), y + chance.randrange(60)), fill=colour)
        pen.text((chance.randrange(200), chance.randrange(170)), "TONE", fill=(0, 0, 0, 255))
    pixels = np.asarray(image).astype(int)
    pixels[..., :3] += np.random.default_rng(1).integers(-6, 7, pixels.shape[:2])[..., None]
    pixels = pixels.clip(0, 255).astype(np.uint8)
    pixels[pixels[..., 3] == 0] = 0
    return Image.fromarray(pixels).convert(mode)


FILES = {
    "png": files.saved(art("RGB"), "PNG"),
    "png clear": files.saved(art("RGBA"), "PNG"),
    "png palette": files.saved(art("RGB").quantize(64), "PNG"),
    "jpeg": files.saved(art("RGB"), "JPEG", quality=90),
    "jpeg progressive": files.saved(art("RGB"), "JPEG", quality=90, progressive=True),
    "tiff": files.saved(art("RGB"), "TIFF"),
    "tiff lzw": files.saved(art("RGB"), "TIFF", compression="tiff_lzw"),
    "tiff deflate": files.saved(art("RGBA"), "TIFF", compression="tiff_adobe_deflate"),
    "tiff packbits": files.saved(art("RGB"), "TIFF", compression="packbits"),
    "tiff jpeg": files.saved(art("RGB"), "TIFF", compression="jpeg"),
    "webp": files.saved(art("RGBA"), "WEBP", quality=85),
    "webp lossless": files.saved(art("RGBA"), "WEBP", lossless=True),
    "gif": files.saved(art("RGB").quantize(64), "GIF"),
    "bmp": files.saved(art("RGB"), "BMP"),
}


def bit(data: bytearray, chance: random.Random) -> None:
    place = chance.randrange(8 * len(data))
    data[place // 8] ^= 1 << place % 8


def sector(data: bytearray, chance: random.Random) -> None:
    start = SECTOR * chance.randrange(-(-len(data) // SECTOR))
    data[start : start + SECTOR] = bytes(len(data[start : start + SECTOR]))


def garbage(data: bytearray, chance: random.Random) -> None:
    start = SECTOR * chance.randrange(-(-len(data) // SECTOR))
    data[start : start + SECTOR] = chance.randbytes(len(data[start : start + SECTOR]))


def tail(data: bytearray, chance: random.Random) -> None:
    start = SECTOR * chance.randrange(-(-len(data) // SECTOR))
    data[start:] = bytes(len(data) - start)


def cut(data: bytearray, chance: random.Random) -> None:
    del data[chance.randrange(len(data)) :]


def caught(name: str, harm: Callable[[bytearray, random.Random], None], tries: int) -> tuple[int, int]:
    """Return how many of the files that were harmed were refused, and how many gave other pixels without a word."""
    good, chance = decode(FILES[name], name).pixels, random.Random(f"{name} {harm.__name__}")
    refused = wrong = 0
    for _ in range(tries):
        data = bytearray(FILES[name])
        harm(data, chance)
        try:
            pixels = decode(bytes(data), "art").pixels
        except InputError as error:
            assert "\n" not in str(error)
            refused += 1
            continue
        wrong += pixels.shape != good.shape or bool((pixels != good).any())
    return refused, wrong


WHOLE = ("png", "png clear", "png palette", "tiff deflate")


@pytest.mark.parametrize("name", WHOLE)
@pytest.mark.parametrize("harm", [bit, sector, garbage, tail, cut])
def test_what_has_checksums_never_gives_a_wrong_pixel(
    name: str, harm: Callable[[bytearray, random.Random], None]
) -> None:
    assert caught(name, harm, 150)[1] == 0


@pytest.mark.parametrize("name", [name for name in FILES if name not in WHOLE])
def test_what_was_cut_short_is_refused_whatever_the_format(name: str) -> None:
    refused, wrong = caught(name, cut, 60)
    assert (refused, wrong) == (60, 0)


LEAST = {  # share of harmed files that is refused: (bit, zeroed sector, garbled sector, zeroed tail)
    "jpeg": (0.15, 0.97, 0.97, 0.98),
    "jpeg progressive": (0.15, 0.97, 0.97, 0.98),
    "tiff": (0.0, 0.9, 0.0, 0.95),
    "tiff lzw": (0.2, 0.97, 0.97, 0.98),
    "tiff packbits": (0.0, 0.9, 0.0, 0.95),
    "tiff jpeg": (0.1, 0.95, 0.95, 0.98),
    "webp": (0.15, 0.9, 0.3, 0.95),
    "webp lossless": (0.03, 0.9, 0.08, 0.95),
    "gif": (0.2, 0.97, 0.97, 0.98),
    "bmp": (0.0, 0.9, 0.0, 0.95),
}


@pytest.mark.parametrize("name", LEAST)
def test_the_rest_is_refused_as_often_as_its_format_lets_one_tell(name: str) -> None:
    for harm, least in zip((bit, sector, garbage, tail), LEAST[name], strict=True):
        refused, wrong = caught(name, harm, 100)
        assert refused >= least * (refused + wrong), (harm.__name__, refused, wrong)


# --- single defects, and what is none ---------------------------------------------------------------


def fault(data: bytes) -> str:
    with pytest.raises(InputError) as caught:
        decode(data, "art.png")
    return str(caught.value)


def png_of(packed: bytes, extra: bytes = b"") -> bytes:
    header = struct.pack(">IIBBBBB", 16, 16, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + files.chunk(b"IHDR", header)
        + extra
        + files.chunk(b"IDAT", packed)
        + files.chunk(b"IEND", b"")
    )


ROWS = bytes(17 * 16)  # sixteen rows of a filter byte and sixteen grey pixels


def test_a_wrong_sum_of_the_packed_rows_is_told_also_where_every_block_is_right() -> None:
    packed = bytearray(zlib.compress(ROWS))
    assert decode(png_of(bytes(packed)), "art.png").pixels.shape == (16, 16, 4)
    packed[-1] ^= 1
    assert "does not unpack to what was packed" in fault(png_of(bytes(packed)))
    assert "cut short: 255 of 272 bytes" in fault(png_of(zlib.compress(ROWS[:255])))
    assert "holds more data" in fault(png_of(zlib.compress(bytes(10**6))))


def test_messages_name_the_kind_of_damage() -> None:
    good = FILES["png"]
    flipped = bytearray(good)
    flipped[60] ^= 1
    assert fault(bytes(flipped)) == (
        "art.png: is damaged or cut short: a checksum is wrong (its IDAT data at byte 33); save or export it again"
    )
    assert "it is cut short in its IDAT data, after 1000 bytes" in fault(good[:1000])
    assert "it is cut short after" in fault(good[:-12])
    half = bytearray(FILES["tiff"])
    half[65024:] = bytes(len(half) - 65024)
    assert "from byte 65024 on" in fault(bytes(half)) or "cannot be read" in fault(bytes(half))
    jpeg = FILES["jpeg"]
    assert "its picture data ends too soon" in fault(jpeg[:-2])


def test_what_follows_the_end_of_a_picture_is_no_damage() -> None:
    """Cameras and editors put previews and notes there, file systems zeros."""
    for name in ("png", "jpeg", "jpeg progressive", "webp", "gif", "bmp", "tiff"):
        for more in (b"a note", bytes(4096), FILES["jpeg"]):
            assert (decode(FILES[name] + more, "a").pixels == decode(FILES[name], "a").pixels).all(), name


def test_black_and_clear_art_is_no_damage() -> None:
    """Long runs of zeros are what blank art is made of, in every format; only their edges tell."""
    for mode, ground in (("RGBA", (0, 0, 0, 0)), ("RGB", (0, 0, 0)), ("RGB", (255, 255, 255))):
        image = Image.new(mode, (1024, 700), ground)
        ImageDraw.Draw(image).ellipse((300, 200, 500, 330), fill=(200, 30, 40))
        for kind, options in (
            ("PNG", {}),
            ("TIFF", {}),
            ("TIFF", {"compression": "tiff_lzw"}),
            ("WEBP", {"lossless": True, "exact": True}),
            ("WEBP", {}),
            ("GIF", {}),
            ("JPEG", {"progressive": True}),
            ("BMP", {}),
        ):
            held = image.convert("RGB") if kind in ("JPEG", "BMP") else image
            assert decode(files.saved(held, kind, **options), "a").pixels.shape == (700, 1024, 4), (mode, kind)


def test_a_run_of_zeros_counts_only_from_edge_to_edge() -> None:
    data = bytearray(random.Random(1).randbytes(8 * SECTOR).replace(b"\0", b"\1"))
    assert zeroed_at(bytes(data), 0, len(data)) == ""
    data[1000:2500] = bytes(1500)
    assert zeroed_at(bytes(data), 0, len(data)) == "", "it begins and ends anywhere"
    data[1000:2500] = b"\1" * 1500
    data[1024:2048] = bytes(1024)
    assert zeroed_at(bytes(data), 0, len(data)).startswith("from byte 1024 on 1024 bytes were never written")
