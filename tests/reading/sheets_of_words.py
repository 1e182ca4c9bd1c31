"""Sheets of art with words on many grounds, drawn on the spot with known boxes; no test itself."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

sys.path.append(str(Path(__file__).parent.parent / "checks"))  # for art_desk, which is no test
from art_desk import MIDDLE, Desk, artwork, cloudy
from PIL import Image

from mockup.model.finish import Artwork
from mockup.reading.words import Word, shrink_of, words

DPI = 300.0
NAMES = ("VOLUME", "Treble", "FUZZ", "BIAS", "Level", "OUTPUT")


@dataclass(frozen=True)
class Sheet:
    """Art, and each word on it with its middle (u, v) in face millimetres."""

    name: str
    art: Artwork
    places: dict[str, tuple[float, float]]


def places(names: tuple[str, ...] = NAMES) -> dict[str, tuple[float, float]]:
    return {name: (MIDDLE + (-12 if number % 2 else 12), 20.0 + 14 * number) for number, name in enumerate(names)}


def lettered(desk: Desk, where: dict[str, tuple[float, float]], colour: str, capital: float = 2.6) -> Desk:
    for name, (u, v) in where.items():
        desk.text(name, u, v, capital, colour)
    return desk


def over(ground: NDArray[np.uint8], desk: Desk) -> NDArray[np.uint8]:
    """The desk's drawing over a picture, opaque."""
    base = Image.fromarray(ground).convert("RGBA")
    base.alpha_composite(Image.fromarray(desk.pixels()))
    return np.asarray(base)


def ramp(size: tuple[int, int]) -> NDArray[np.uint8]:
    """Full colour to the edges: a slanted ramp through bright hues."""
    y, x = np.mgrid[: size[1], : size[0]] / max(size)
    return (
        (255 * np.stack([0.5 + 0.5 * x, 0.9 - 0.6 * y, 0.4 + 0.5 * np.sin(3 * (x + y))], axis=-1))
        .clip(0, 255)
        .astype(np.uint8)
    )


def halftone(desk: Desk, pitch: float = 0.9) -> Desk:
    for row, v in enumerate(np.arange(8.0, 104.0, pitch)):
        for u in np.arange(MIDDLE - 23 + (row % 2) * pitch / 2, MIDDLE + 23, pitch):
            desk.disc(u, v, 0.12 + 0.3 * abs(np.sin(v / 17)), "#203060")
    return desk


def positives(seed: int = 11, capital: float = 2.6) -> Iterator[Sheet]:
    where = places()
    yield Sheet("bare", artwork(lettered(Desk(DPI), where, "black", capital).pixels()), where)
    yield Sheet("flat", artwork(lettered(Desk(DPI, ground="#d0502a"), where, "#fff4d8", capital).pixels()), where)
    bars = Desk(DPI)
    for u, v in where.values():
        bars.box(u, v, 20, 6, "#e8dcc0")
    yield Sheet("pale bars", artwork(lettered(bars, where, "#5a3018", capital).pixels()), where)
    bands = Desk(DPI)
    for u, v in where.values():
        bands.box(u, v, 22, 6, "#182838")
    yield Sheet("knocked out", artwork(lettered(bands, where, "white", capital).pixels()), where)
    yield Sheet("white", artwork(lettered(Desk(DPI), where, "white", capital).pixels()), where)
    size = Desk(DPI).size
    yield Sheet("ramp", artwork(over(ramp(size), lettered(Desk(DPI), where, "#101830", capital))), where)
    yield Sheet("photo", artwork(over(cloudy(seed, size), lettered(Desk(DPI), where, "white", capital))), where)
    dim = (cloudy(seed + 1, size) // 3).astype(np.uint8)
    yield Sheet("dark photo", artwork(over(dim, lettered(Desk(DPI), where, "#f0d060", capital))), where)


def negatives(seed: int = 21) -> Iterator[Sheet]:
    size = Desk(DPI).size
    yield Sheet("no words: photo", artwork(cloudy(seed, size)), {})
    yield Sheet("no words: halftone", artwork(halftone(Desk(DPI)).pixels()), {})
    marks = Desk(DPI).frame(3, 0.8)
    for v in (28, 52, 76):
        for u in (MIDDLE - 13, MIDDLE + 13):
            marks.ticks(u, v, 8).ring(u, v, 7, 0.4)
    yield Sheet("no words: scales", artwork(marks.pixels()), {})
    rays = Desk(DPI)
    for angle in np.radians(np.arange(0, 360, 7.5)):
        rays.line(MIDDLE, 55, MIDDLE + 22 * np.cos(angle), 55 + 40 * np.sin(angle), 0.5)
    yield Sheet("no words: rays", artwork(rays.pixels()), {})


def read(sheet: Sheet) -> tuple[Word, ...]:
    return words(sheet.art, shrink_of(DPI / 25.4))


def found(sheet: Sheet, within_mm: float = 1.0) -> list[str]:
    """The words that were found in their place and read right, capitals aside."""
    corner = Desk(DPI).corner
    right = []
    for word in read(sheet):
        u, v = word.box.x / DPI * 25.4 + corner[0], word.box.y / DPI * 25.4 + corner[1]
        for name, (at_u, at_v) in sheet.places.items():
            if word.text.casefold() == name.casefold() and max(abs(u - at_u), abs(v - at_v)) <= within_mm:
                right.append(name)
    return right
