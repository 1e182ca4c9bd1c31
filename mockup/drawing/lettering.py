"""How much room lettering takes on a page, and free places for it."""

from __future__ import annotations

from collections.abc import Sequence

_WIDE, _MIDDLE, _NARROW = 0.74, 0.6, 0.36  # advances in sizes of the face: read off its tables, rounded up
CAPITAL = 0.72  # height of a capital in sizes of the face: the face's own figure

Area = tuple[float, float, float, float]
"""Left, top, right, bottom, in millimetres."""


def width_mm(text: str, size_mm: float) -> float:
    """Return about how wide a line of text is; it errs to the wide side."""
    return size_mm * sum(map(_advance, text))


def shortened(text: str, size_mm: float, room_mm: float) -> str:
    """Return a text cut short with an ellipsis where it would not fit."""
    if width_mm(text, size_mm) <= room_mm:
        return text
    kept = text
    while kept and width_mm(kept + "…", size_mm) > room_mm:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def wrapped(text: str, size_mm: float, room_mm: float) -> list[str]:
    """Return a text as lines that fit a width, each as full as it gets; a word too long for it stays whole."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, size_mm) <= room_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _advance(letter: str) -> float:
    if letter in " .,;:'/|!()ijl":
        return _NARROW
    return _WIDE if letter.isupper() or letter in "Ø×>…@%mw–—" else _MIDDLE


def spread(wanted: Sequence[float], apart_mm: float) -> list[float]:
    """Return places at least `apart_mm` apart, in order, as near to the wanted ones (ascending) as can be.

    Least squares under an order: neighbours that would come too close are pooled about their mean.
    """
    groups: list[tuple[float, int]] = []  # mean of (place - room before it), how many
    for index, place in enumerate(wanted):
        mean, count = place - index * apart_mm, 1
        while groups and groups[-1][0] > mean:
            before, many = groups.pop()
            mean, count = (before * many + mean * count) / (many + count), many + count
        groups.append((mean, count))
    pooled = [mean for mean, count in groups for _ in range(count)]
    return [mean + index * apart_mm for index, mean in enumerate(pooled)]


def overlap_mm2(first: Area, second: Area) -> float:
    """Return the area that two upright rectangles share."""
    wide = min(first[2], second[2]) - max(first[0], second[0])
    tall = min(first[3], second[3]) - max(first[1], second[1])
    return max(0.0, wide) * max(0.0, tall)


def text_area(x_mm: float, y_mm: float, text: str, size_mm: float, anchor: str) -> Area:
    """Return the room of a line of text whose baseline has its anchor at (x, y)."""
    wide = width_mm(text, size_mm)
    left = x_mm - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    return left, y_mm - CAPITAL * size_mm, left + wide, y_mm + 0.2 * size_mm
