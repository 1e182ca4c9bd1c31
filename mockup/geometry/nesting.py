"""Rectangles nested on pages: none overlaps, each keeps its distance, few pages are used.

Maximal free rectangles, top left and best short side fit (J. Jylanki, A Thousand Ways to Pack the Bin, 2010).
All lengths are whole cells of one grid, so that nothing is lost to rounding.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

_Free = tuple[int, int, int, int]  # left, top, right, bottom
_Place = tuple[int, int, bool]  # x, y, is turned
_Rank = Callable[[_Free, int, int], tuple[int, ...]]
_FEW, _TRIES = 12, 240  # rectangles for which other orders are tried, and how many: a tenth of a second, by trial
_TURNS = ((False,), (True,), (False, True))


@dataclass(frozen=True, kw_only=True)
class Slot:
    """Where one rectangle lies: the page (from 0), its top-left corner, and whether it was turned by a quarter."""

    page: int
    x: int
    y: int
    is_turned: bool


def fits(size: tuple[int, int], width: int, height: int) -> bool:
    """Return whether a rectangle fits on an empty page, turned if need be."""
    return (size[0] <= width and size[1] <= height) or (size[1] <= width and size[0] <= height)


def nested(sizes: Sequence[tuple[int, int]], width: int, height: int, gap: int) -> tuple[Slot, ...]:
    """Return a slot for each rectangle (width, height), `gap` apart from each other, on pages of one size.

    The largest are placed first, each on the first page with room for it. It is tried upright, turned and
    mixed, and where few need more pages than their area would, in other orders too. The fewest pages win, then the
    fewest turned, then the least used height of the last page. Raises
    `ValueError` for one that is larger than a page.
    """
    for across, down in sizes:
        if not fits((across, down), width, height):
            raise ValueError(f"{across} x {down} is larger than {width} x {height}")
    order = sorted(range(len(sizes)), key=lambda each: (-max(sizes[each]), -min(sizes[each]), each))
    tries = [
        _packed(sizes, order, width, height, gap, turns=turns, rank=rank)
        for turns in _TURNS
        for rank in (_top_left, _tight)
    ]
    best = min(tries, key=lambda slots: _used(sizes, slots))
    cells = sum((across + gap) * (down + gap) for across, down in sizes)
    least = -(-cells // ((width + gap) * (height + gap)))
    if len(sizes) <= _FEW and _used(sizes, best)[0] > least:
        return min((best, *_shuffled(sizes, order, width, height, gap)), key=lambda slots: _used(sizes, slots))
    return best


def _shuffled(
    sizes: Sequence[tuple[int, int]], order: Sequence[int], width: int, height: int, gap: int
) -> Iterator[tuple[Slot, ...]]:
    """Yield packings in other orders, the same each time: the largest still come early."""
    dice = random.Random(0)
    for number in range(_TRIES):
        weight = {index: max(sizes[index]) * dice.uniform(0.3, 1.0) for index in order}
        shuffled = sorted(order, key=lambda each: -weight[each])
        turns, rank = _TURNS[number % 3], (_top_left, _tight)[number // 3 % 2]
        yield _packed(sizes, shuffled, width, height, gap, turns=turns, rank=rank)


def _packed(
    sizes: Sequence[tuple[int, int]],
    order: Sequence[int],
    width: int,
    height: int,
    gap: int,
    *,
    turns: Sequence[bool],
    rank: _Rank,
) -> tuple[Slot, ...]:
    pages: list[list[_Free]] = []
    slots: dict[int, Slot] = {}
    for index in order:
        across, down = sizes[index]
        ways = [turn for turn in turns if _goes(sizes[index], turn, width, height)] or [not turns[0]]
        place: _Place | None = None
        number = 0
        while place is None:
            if number == len(pages):  # what is placed carries its gap to the right and below
                pages.append([(0, 0, width + gap, height + gap)])
            place = _best(pages[number], across + gap, down + gap, ways, rank)
            number += place is None
        x, y, is_turned = place
        if is_turned:
            across, down = down, across
        pages[number] = _without(pages[number], (x, y, x + across + gap, y + down + gap))
        slots[index] = Slot(page=number, x=x, y=y, is_turned=is_turned)
    return tuple(slots[index] for index in range(len(sizes)))


def _goes(size: tuple[int, int], is_turned: bool, width: int, height: int) -> bool:
    across, down = size[::-1] if is_turned else size
    return across <= width and down <= height


def _used(sizes: Sequence[tuple[int, int]], slots: Sequence[Slot]) -> tuple[int, int, int]:
    """Return the number of pages, how many were turned, and how far down the last page is used."""
    last = max((slot.page for slot in slots), default=-1)
    reach = (
        slot.y + size[0 if slot.is_turned else 1] for size, slot in zip(sizes, slots, strict=True) if slot.page == last
    )
    return last + 1, sum(slot.is_turned for slot in slots), max(reach, default=0)


def _top_left(free: _Free, across: int, down: int) -> tuple[int, ...]:
    return free[1] + down, free[0]


def _tight(free: _Free, across: int, down: int) -> tuple[int, ...]:
    """Rank by the room left on one side, then on the other."""
    left, top, right, bottom = free
    spare = right - left - across, bottom - top - down
    return min(spare), max(spare), top, left


def more(sizes: Sequence[tuple[int, int]], copies: int, width: int, height: int, gap: int, most: int) -> int:
    """Return how many copies of a whole set more than `copies` go on the pages that these need, at most `most`."""

    def pages(count: int) -> int:
        return max((slot.page for slot in nested(list(sizes) * count, width, height, gap)), default=-1) + 1

    now = pages(copies)
    cells = sum((across + gap) * (down + gap) for across, down in sizes)
    low, high = 0, min(most, now * (width + gap) * (height + gap) // cells - copies)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if pages(copies + middle) <= now else (low, middle - 1)
    return max(low, 0)


def _best(free: Sequence[_Free], across: int, down: int, turns: Sequence[bool], rank: _Rank) -> _Place | None:
    """Return the place that ranks lowest, None where there is none."""
    found = [
        (rank(each, a, d), is_turned, each)
        for each in free
        for is_turned in turns
        for a, d in ((down, across) if is_turned else (across, down),)
        if each[2] - each[0] >= a and each[3] - each[1] >= d
    ]
    if not found:
        return None
    _, is_turned, (left, top, _, _) = min(found)
    return left, top, is_turned


def _without(free: Sequence[_Free], used: _Free) -> list[_Free]:
    """Return the free rectangles that are left once one place is used; none lies within another."""
    pieces = {piece for each in free for piece in _cut(each, used)}
    return sorted(one for one in pieces if not any(one != other and _holds(other, one) for other in pieces))


def _cut(free: _Free, used: _Free) -> Iterator[_Free]:
    left, top, right, bottom = free
    if used[0] >= right or used[2] <= left or used[1] >= bottom or used[3] <= top:
        yield free
        return
    if used[0] > left:
        yield left, top, used[0], bottom
    if used[2] < right:
        yield used[2], top, right, bottom
    if used[1] > top:
        yield left, top, right, used[1]
    if used[3] < bottom:
        yield left, used[3], right, bottom


def _holds(outer: _Free, inner: _Free) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and outer[2] >= inner[2] and outer[3] >= inner[3]
