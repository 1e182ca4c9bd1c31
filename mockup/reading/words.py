"""The words in a picture: each with what it says, where it stands and which pixels are its letters.

The picture is looked at twice: over white, and over a mid grey where it has opaque white that white would swallow.
What is no word is left out: a reading that is not sure, or that strokes of a drawing give as well.
"""

from __future__ import annotations

import base64
import json
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from PIL import Image

from mockup.colour import rgb
from mockup.decal.ink_over_paint import FAINT, flatten, ink_of
from mockup.memo import MEMORY, memoize
from mockup.model.finish import Artwork
from mockup.reading import network
from mockup.reading.letters import Bits, boxed, letters, upright
from mockup.reading.network import Pixels, Quad

PER_MM = 8.0  # pixels to the millimetre that lettering is found at: 94 % of 510 words; 12 finds no more
LARGEST = 1.4  # times that coarse art is enlarged for it
COARSE = 0.4  # of that scale, at which large words across stripes and grain are found besides; a sixth of its time
MOST_PX = 2_000_000  # looked at: memory and time grow with it; our choice
GREY = 110  # of 255, that white lettering is looked for over: measured, dark letters still stand out from it
SOLID = 128  # of 255: alpha that covers: our choice
# How sure a reading has to be, 0 to 1; measured on 31 sheets without lettering.
SURE, SURE_OF_TWO, SURE_OF_STROKES = 0.7, 0.8, 0.93
UPSIDE_DOWN = 0.97  # as sure as a reading turned over has to be, where the upright one is less; right ones come to 0.99
STROKES = frozenset("01ILO7DJ")  # what a drawing's strokes and rings are read as
WIDE_GAP = 0.9  # heights between two words that stand apart
NO_LETTERS: Bits = np.zeros((1, 1), np.bool_)
_ALIKE = 0.5  # share of the smaller of two boxes that the other covers, where both are one word


@dataclass(frozen=True, kw_only=True, eq=False)
class Word:
    """One word, or several in a row: its text, how sure that is (0 to 1), its box in the art's pixels, its letters.

    `mask` (h, w) are the letters over `box`, some forty rows; nowhere True where they cannot be told from what is
    round them.
    """

    text: str
    sure: float
    box: Quad
    mask: Bits


def shrink_of(per_mm: float) -> float:
    """Return the scale that art with so many pixels to the millimetre is looked at."""
    return round(min(LARGEST, PER_MM / per_mm), 2)


@memoize
def words(art: Artwork, shrink: float) -> tuple[Word, ...]:
    """Return the words of a picture looked at in a scale, from the store of what was read before where that has them.

    Empty where nothing can be read here (see `network.unavailable`).
    """
    kept = MEMORY.recall_kept(
        "words", (art.pixels, shrink), lambda: b"" if network.unavailable() else _written(_words(art, shrink))
    )
    return _parsed(kept) if kept else ()


def _words(art: Artwork, shrink: float) -> tuple[Word, ...]:
    alpha = art.pixels[..., 3]
    picture = Image.fromarray(np.ascontiguousarray(flatten(art.pixels)))
    ink = ink_of(np.asarray(picture))
    found = _pass(picture, shrink) if (ink >= FAINT).any() else []
    is_white = (alpha >= SOLID) & (ink < FAINT)
    if is_white.any() and (alpha < SOLID).any():
        grey = Image.new("RGB", picture.size, (GREY, GREY, GREY))
        grey.paste(Image.fromarray(art.pixels[..., :3]), mask=Image.fromarray(np.ascontiguousarray(alpha)))
        found += _pass(grey, shrink)
    return _each_once(found)


def _pass(picture: Image.Image, shrink: float) -> list[Word]:
    """Return the words of an opaque picture."""
    scale = min(shrink, math.sqrt(MOST_PX / (picture.width * picture.height)))
    quads = _boxes(picture, scale)
    quads += [
        each for each in _boxes(picture, COARSE * scale) if not any(_share(each, other) > _ALIKE for other in quads)
    ]
    kept = [(way, text, sure) for way, said, sure in _readings(picture, quads) if is_word(text := _trimmed(said), sure)]
    masks = letters(picture, [way for way, _, _ in kept], [text for _, text, _ in kept])
    return [
        part
        for (way, text, sure), own in zip(kept, masks, strict=True)
        for part in _apart(
            Word(
                text=text,
                sure=round(sure, 3),
                box=way if own is None else own.box,
                mask=NO_LETTERS if own is None else own.mask,
            )
        )
    ]


def _boxes(picture: Image.Image, scale: float) -> list[Quad]:
    """Return where lettering stands in a picture looked at in a scale."""
    size = max(8, round(picture.width * scale)), max(8, round(picture.height * scale))
    small = np.asarray(picture.resize(size, Image.Resampling.BOX if scale < 1 else Image.Resampling.BICUBIC))
    left, top, right, bottom = _drawn(small)
    if right - left < 8 or bottom - top < 8:
        return []
    by_x, by_y = picture.width / size[0], picture.height / size[1]
    return [
        replace(
            each, x=(each.x + left) * by_x, y=(each.y + top) * by_y, width=each.width * by_x, height=each.height * by_y
        )
        for each in network.find(small[top:bottom, left:right])
    ]


def _drawn(small: Pixels) -> tuple[int, int, int, int]:
    """Return the box (left, top, right, bottom) of all that differs from the picture's corner, with room round it."""
    differs = rgb.most(np.abs(small.astype(np.int16) - small[0, 0])) > FAINT // 2
    rows, columns = np.flatnonzero(differs.any(axis=1)), np.flatnonzero(differs.any(axis=0))
    if not len(rows):
        return 0, 0, 0, 0
    room = round(2 * PER_MM)
    return (
        max(0, int(columns[0]) - room),
        max(0, int(rows[0]) - room),
        min(small.shape[1], int(columns[-1]) + room),
        min(small.shape[0], int(rows[-1]) + room),
    )


def _readings(picture: Image.Image, quads: Sequence[Quad]) -> list[tuple[Quad, str, float]]:
    """Return how each box is read best: the way it lies then, its text, and how sure that is."""
    ways = [_ways(quad) for quad in quads]
    first = iter(_read(picture, [way for each in ways for way in each]))
    best = [max([next(first) for _ in each], key=lambda reading: reading[2]) for each in ways]
    doubted = [number for number, each in enumerate(best) if len(ways[number]) == 1 and each[2] < UPSIDE_DOWN]
    turned = _read(picture, [replace(quads[number], turn_deg=quads[number].turn_deg + 180.0) for number in doubted])
    for number, found in zip(doubted, turned, strict=True):
        if found[2] >= UPSIDE_DOWN:
            best[number] = found
    return best


def _read(picture: Image.Image, ways: Sequence[Quad]) -> list[tuple[Quad, str, float]]:
    read = network.read([upright(picture, way)[0] for way in ways])
    return [(way, text, sure) for way, (text, sure) in zip(ways, read, strict=True)]


def _ways(quad: Quad) -> tuple[Quad, ...]:
    """Return the ways that a box is read first: along its longer side, from either end where that runs down."""
    if quad.height < 1.5 * quad.width:
        return (quad,)
    lying = replace(quad, width=quad.height, height=quad.width)
    return replace(lying, turn_deg=quad.turn_deg + 90.0), replace(lying, turn_deg=quad.turn_deg - 90.0)


def _trimmed(text: str) -> str:
    """Return a text without what is no lettering at its ends: ticks, dots and rules beside a word."""
    return text.strip(" .,:;'\"`|_-~=*°·•—–()[]{}<>/\\")


def is_word(text: str, sure: float) -> bool:
    """Return whether a reading is lettering: two letters or figures of the Latin alphabet at least, and sure enough."""
    letters_in = [each for each in text if each.isalnum()]
    if len(letters_in) < 2 or any(ord(each) >= 0x250 for each in letters_in):
        return False
    is_doubtful = (
        not any(each.isalpha() for each in letters_in) or set(text.upper()) <= STROKES or len(set(text.casefold())) == 1
    )
    return sure >= (SURE_OF_STROKES if is_doubtful else SURE_OF_TWO if len(letters_in) == 2 else SURE)


def _apart(word: Word) -> list[Word]:
    """Return a row of words that stand far apart, such as the names of two knobs, as words of their own."""
    texts = word.text.split()
    columns = np.flatnonzero(word.mask.any(axis=0))
    steps = np.flatnonzero(np.diff(columns) > WIDE_GAP * len(word.mask))
    if len(texts) < 2 or len(steps) + 1 != len(texts):
        return [word]
    starts = [columns[0], *columns[steps + 1]]
    ends = [*(columns[steps] + 1), columns[-1] + 1]
    per = word.mask.shape[1] / word.box.width
    found = []
    for text, start, end in zip(texts, starts, ends, strict=True):
        own = np.zeros_like(word.mask)
        own[:, start:end] = word.mask[:, start:end]
        part = boxed(word.box, per, own)
        found.append(replace(word, text=text, box=part.box, mask=part.mask))
    return [each for each in found if is_word(each.text, each.sure)]


def _each_once(found: Sequence[Word]) -> tuple[Word, ...]:
    kept: list[Word] = []
    for word in sorted(found, key=lambda each: -each.sure):
        if not any(_share(word.box, other.box) > _ALIKE for other in kept):
            kept.append(word)
    return tuple(sorted(kept, key=lambda each: (each.box.y, each.box.x)))


def _share(one: Quad, other: Quad) -> float:
    """Return the share of the smaller box that both cover, by the upright boxes round them."""
    (left, top, right, bottom), (low_x, low_y, high_x, high_y) = _bounds(one), _bounds(other)
    both = max(0.0, min(right, high_x) - max(left, low_x)) * max(0.0, min(bottom, high_y) - max(top, low_y))
    return both / max(1e-9, min((right - left) * (bottom - top), (high_x - low_x) * (high_y - low_y)))


def _bounds(quad: Quad) -> tuple[float, float, float, float]:
    reach = np.abs(quad.axes).T @ np.array([quad.width, quad.height]) / 2
    return quad.x - reach[0], quad.y - reach[1], quad.x + reach[0], quad.y + reach[1]


def _written(found: Sequence[Word]) -> bytes:
    rows = [
        {
            "text": each.text,
            "sure": each.sure,
            "box": [each.box.x, each.box.y, each.box.width, each.box.height, each.box.turn_deg],
            "size": list(each.mask.shape),
            "mask": base64.b64encode(np.packbits(each.mask).tobytes()).decode("ascii"),
        }
        for each in found
    ]
    return json.dumps(rows).encode()


def _parsed(data: bytes) -> tuple[Word, ...]:
    found = []
    for row in json.loads(data):
        x, y, width, height, turn = row["box"]
        rows, columns = row["size"]
        bits = np.unpackbits(np.frombuffer(base64.b64decode(row["mask"]), np.uint8), count=rows * columns)
        box = Quad(x=x, y=y, width=width, height=height, turn_deg=turn)
        found.append(Word(text=row["text"], sure=row["sure"], box=box, mask=bits.reshape(rows, columns).astype(bool)))
    return tuple(found)
