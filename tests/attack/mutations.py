"""Sound files of every kind that is read, and seeded damage to them."""

from __future__ import annotations

import io
import random
import zlib
from collections.abc import Callable
from importlib import resources

import numpy as np
from PIL import Image

from mockup import archive, hardware
from mockup.calibration import readings

SECTOR = 512  # bytes, as a disk loses them

LAYOUT = """\
name = "Sea"
units = "mm"
[box]
size = "112x60x31"
[finish]
paint = "#a5d2c8"
sheen = "gloss"
[[decal]]
art = "art.png"
width = 40
[[part]]
name = "TONE"
kind = "pot-16"
left = "3/4 in"
top = 19
knob = { style = "conical", diameter = 15, pointer = 0.7 }
[[part]]
name = "LAMP"
kind = "lamp-5"
bottom = 39
colour = "#ff3b1f"
[variants.night]
finish = { paint = "#c3c9d6", sheen = "satin" }
[[variants.night.part]]
name = "LAMP"
colour = "teal"
"""
PAINTS = "name, colour, sheen\nSea green, #2a6f6b, satin\nCream, #f2e7c9\nNight, navy, gloss\n"
SVG = """<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="40mm" height="60mm">
<defs><linearGradient id="g"><stop offset="0" stop-color="red"/><stop offset="1" stop-color="#00f"/></linearGradient>
<filter id="f"><feGaussianBlur stdDeviation="3"/></filter>
<clipPath id="c"><circle r="40" cx="50" cy="50"/></clipPath></defs>
<g transform="translate(3,4) scale(1.5)" clip-path="url(#c)"><rect width="60" height="40" fill="url(#g)"/>
<path d="M10 10 L 40 40 C 1 2 3 4 5 6 A 5 5 0 0 1 30 30 Z" filter="url(#f)" stroke="black" stroke-width="2"/>
<use xlink:href="#p" x="4"/><text id="p" x="5" y="30">SEA</text></g></svg>
"""
JUNK = (
    *("", "nan", "inf", "-1", "1e999", "9" * 400, "0.0", '"', "'", "\\", "[", "]]", "{", "}", "=", "true", "null"),
    *(
        "\0",
        "\x1b[2J",
        "\u202e",
        "\ufeff",
        "\ud7ff",
        "é",
        "漢",
        "😀",
        "a" * 5000,
        "../..",
        "CON",
        "%s%n",
        "<b>",
        "-",
        "\t",
    ),
    *("1979-05-27", '"3/0 in"', '"' + "x" * 300 + '"', "[[part]]", "[box]", "#", "&e;", 'url("#g")', "1e-320"),
)


def picture(kind: str) -> bytes:
    """Return a small picture with every colour in it, as a file of a kind."""
    rows, columns = np.mgrid[0:48, 0:64]
    pixels = np.stack([rows * 5 % 256, columns * 4 % 256, (rows * columns) % 256, 128 + rows], axis=2).astype(np.uint8)
    out = io.BytesIO()
    image = Image.fromarray(pixels if kind in {"PNG", "TIFF", "WEBP"} else pixels[..., :3])
    image.save(out, kind, dpi=(300, 300))
    return out.getvalue()


def sound() -> dict[str, bytes]:
    """Return a sound file of every kind, by a name whose ending tells it."""
    font = (resources.files("font_manrope") / "files" / "Manrope-Bold.ttf").read_bytes()
    art = picture("PNG")
    return {
        "layout.toml": LAYOUT.encode(),
        "art.png": art,
        "art.jpg": picture("JPEG"),
        "art.tif": picture("TIFF"),
        "art.webp": picture("WEBP"),
        "art.svg": SVG.encode(),
        "face.ttf": font,
        "sea.zip": archive.archive({"layout.toml": LAYOUT.encode(), "art.png": art}, "layout.toml"),
        "paints.csv": PAINTS.encode(),
        "readings.toml": readings.template().encode(),
        "parts.toml": (f'[[kind]]\nname = "eye"\nabout = "{next(iter(hardware.kinds()))}"\n').encode(),
    }


def damaged(data: bytes, chance: random.Random) -> bytes:
    """Return a file with one to three kinds of damage, as accident or malice does it."""
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        data = chance.choice(_DAMAGES)(data, chance)
    return data


def flipped(data: bytes, chance: random.Random) -> bytes:
    """Return a file with one bit turned over."""
    if not data:
        return data
    place = chance.randrange(len(data))
    return data[:place] + bytes([data[place] ^ 1 << chance.randrange(8)]) + data[place + 1 :]


def _zeroed(data: bytes, chance: random.Random) -> bytes:
    start = chance.randrange(max(1, len(data) // SECTOR + 1)) * SECTOR
    lost = data[start : start + SECTOR]
    return data[:start] + b"\0" * len(lost) + data[start + SECTOR :]


def _cut(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randrange(len(data) + 1)]


def _span(data: bytes, chance: random.Random) -> tuple[int, int]:
    start = chance.randrange(len(data) + 1)
    return start, min(len(data), start + int(2 ** chance.uniform(0, 9)))


def _dropped(data: bytes, chance: random.Random) -> bytes:
    start, end = _span(data, chance)
    return data[:start] + data[end:]


def _repeated(data: bytes, chance: random.Random) -> bytes:
    start, end = _span(data, chance)
    return data[:end] + data[start:end] * chance.choice((1, 2, 50)) + data[end:]


def _moved(data: bytes, chance: random.Random) -> bytes:
    (start, end), place = _span(data, chance), chance.randrange(len(data) + 1)
    return data[:place] + data[start:end] + data[place:]


def _noisy(data: bytes, chance: random.Random) -> bytes:
    start, end = _span(data, chance)
    return data[:start] + chance.randbytes(end - start) + data[end:]


def _junked(data: bytes, chance: random.Random) -> bytes:
    """Replace one word of a text, or a few bytes of anything else."""
    words = [word for word in data[:20_000].split() if word]
    junk = chance.choice(JUNK).encode("utf-8", "surrogatepass")
    if not words:
        return junk
    return data.replace(chance.choice(words), junk, chance.choice((1, 1, -1)))


def _shuffled(data: bytes, chance: random.Random) -> bytes:
    lines = data.split(b"\n")
    first, second = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[first], lines[second] = lines[second], lines[first]
    return b"\n".join(lines)


def _counted(data: bytes, chance: random.Random) -> bytes:
    """Put a huge or a negative number where a format may count something."""
    place = chance.randrange(len(data) + 1)
    number = chance.choice((b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff", b"\0\0\0\0", b"\x80\0\0\0"))
    return data[:place] + number + data[place + 4 :]


def _resealed(data: bytes, chance: random.Random) -> bytes:
    """Damage a PNG inside and set its checksums right again, as malice does."""
    if not data.startswith(b"\x89PNG"):
        return flipped(data, chance)
    at, out = 8, data[:8]
    while at + 12 <= len(data):
        size = int.from_bytes(data[at : at + 4], "big")
        sort, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        if chance.random() < 0.4:
            body = flipped(body, chance)
        out += len(body).to_bytes(4, "big") + sort + body + zlib.crc32(sort + body).to_bytes(4, "big")
        at += 12 + size
    return out


_DAMAGES: tuple[Callable[[bytes, random.Random], bytes], ...] = (
    flipped,
    _zeroed,
    _cut,
    _dropped,
    _repeated,
    _moved,
    _noisy,
    _junked,
    _shuffled,
    _counted,
    _resealed,
)
