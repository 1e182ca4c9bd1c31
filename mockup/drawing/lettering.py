"""Lettering on a page: how much room it takes, how it is broken into lines, free places for it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import numpy as np

from mockup import fonts
from mockup.model.material import Colour
from mockup.model.mesh import Floats
from mockup.model.sheet import INK, Circle, Mark, Text

CAPITAL = 0.72  # height of a capital in sizes of the face: the face's own figure
FAINT: Colour = (0.38, 0.40, 0.43)  # of what is read last: our taste
WHITE: Colour = (1.0, 1.0, 1.0)
_FIGURE = re.compile(r"(?<=\d) (?=(?:mm³|mm|cm²|sq in|in|degrees|%)(?!\w))")  # between a figure and its unit
_KEPT = "\u00a0"  # no-break space

Area = tuple[float, float, float, float]
"""Left, top, right, bottom, in millimetres."""


def width_mm(text: str, size_mm: float) -> float:
    """Return how wide a line of bold text is without kerning; plain text is about 4 % less wide."""
    return size_mm * fonts.advance(text)


def shortened(text: str, size_mm: float, room_mm: float) -> str:
    """Return a text cut short with an ellipsis where it would not fit."""
    if width_mm(text, size_mm) <= room_mm:
        return text
    kept = text
    while kept and width_mm(kept + "…", size_mm) > room_mm:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def wrapped(text: str, size_mm: float, room_mm: float) -> list[str]:
    """Return a text as lines that fit a width, each as full as it gets; none for an empty text.

    It is broken between words, but not between a figure and its unit; a word that is too long alone, anywhere.
    """
    lines: list[str] = []
    for word in _words(text, size_mm, room_mm):
        if lines and width_mm(f"{lines[-1]} {word}", size_mm) <= room_mm:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _words(text: str, size_mm: float, room_mm: float) -> Iterator[str]:
    """Yield what a text may be broken between, each narrow enough for a line."""
    for joined in _FIGURE.sub(_KEPT, " ".join(text.split())).split(" "):
        whole = joined.replace(_KEPT, " ")
        for word in [whole] if width_mm(whole, size_mm) <= room_mm else whole.split():
            rest = word
            while width_mm(rest, size_mm) > room_mm and len(rest) > 1:
                cut = next((end for end in range(len(rest) - 1, 1, -1) if width_mm(rest[:end], size_mm) <= room_mm), 1)
                yield rest[:cut]
                rest = rest[cut:]
            yield rest


def lines(
    said: Sequence[str],
    x_mm: float,
    y_mm: float,
    size_mm: float,
    pitch_mm: float,
    *,
    is_bold: bool = False,
    colour: Colour = INK,
) -> Iterator[Text]:
    """Yield lines of text under each other: the first on the baseline `y_mm`, `pitch_mm` from one to the next."""
    for row, text in enumerate(said):
        y = y_mm + row * pitch_mm
        yield Text(x_mm=x_mm, y_mm=y, text=text, size_mm=size_mm, is_bold=is_bold, colour=colour)


def disc(x_mm: float, y_mm: float, radius_mm: float, text: str, fill: Colour, rim_mm: float = 0.0) -> Iterator[Mark]:
    """Yield a disc about a place with a number or letter in it; `rim_mm` is the width of its white edge."""
    size = radius_mm * (1.2 if len(text) == 1 else 1.0)
    rim = WHITE if rim_mm else None
    yield Circle(x_mm=x_mm, y_mm=y_mm, radius_mm=radius_mm, fill=fill, stroke=rim, line_mm=rim_mm)
    base = y_mm + CAPITAL / 2 * size
    yield Text(x_mm=x_mm, y_mm=base, text=text, size_mm=size, anchor="middle", is_bold=True, colour=WHITE)


def spread(wanted: Sequence[float], apart_mm: float | Sequence[float]) -> list[float]:
    """Return places in order, as near to the wanted ones (ascending) as can be, that far apart or more.

    `apart_mm` is one distance for all, or one from each place to the next. Least squares under an order:
    neighbours that would come too close are pooled about their mean.
    """
    steps = [apart_mm] * len(wanted) if isinstance(apart_mm, float) else list(apart_mm)
    before = [sum(steps[:index]) for index in range(len(wanted))]
    groups: list[tuple[float, int]] = []  # mean of (place - room before it), how many
    for place, room in zip(wanted, before, strict=True):
        mean, count = place - room, 1
        while groups and groups[-1][0] > mean:
            other, many = groups.pop()
            mean, count = (other * many + mean * count) / (many + count), many + count
        groups.append((mean, count))
    pooled = [mean for mean, count in groups for _ in range(count)]
    return [mean + room for mean, room in zip(pooled, before, strict=True)]


def overlap_mm2(first: Area, second: Area) -> float:
    """Return the area that two upright rectangles share."""
    wide = min(first[2], second[2]) - max(first[0], second[0])
    tall = min(first[3], second[3]) - max(first[1], second[1])
    return max(0.0, wide) * max(0.0, tall)


def overlaps_mm2(areas: Floats, others: Floats) -> Floats:
    """Return how much of each of some upright rectangles (..., 4) lies under others (n, 4), added up (...)."""
    low = np.maximum(areas[..., None, :2], others[:, :2])
    high = np.minimum(areas[..., None, 2:], others[:, 2:])
    sides = np.maximum(high - low, 0.0)
    return np.asarray((sides[..., 0] * sides[..., 1]).sum(axis=-1))


def text_area(line: Text, wide_mm: float | None = None) -> Area:
    """Return the room of a line of text; `wide_mm` is its width where that is known."""
    wide = width_mm(line.text, line.size_mm) if wide_mm is None else wide_mm
    left = line.x_mm - {"start": 0.0, "middle": wide / 2, "end": wide}[line.anchor]
    return left, line.y_mm - CAPITAL * line.size_mm, left + wide, line.y_mm + 0.2 * line.size_mm
