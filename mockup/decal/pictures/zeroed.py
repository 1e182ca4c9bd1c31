"""Sectors of a file that were never written: zeros from one multiple of 512 bytes to another, where data should be.

A card that was pulled, a full disk or a lost network leave them, and many readers take them for black or for
nothing. Zeros alone are no sign: a blank picture packs to long runs of them, up to 77 kB of 290 kB (measured on a
progressive JPEG). That a run begins and ends at a sector's edge is, by chance, one in 512 x 512.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

SECTOR = 512  # bytes; file systems and discs give out multiples of it: common practice, no source
_INK = 0.5  # share of the row before that holds something where this one breaks off: our choice


def zeroed_at(data: bytes, start: int, end: int, stride: int = 0) -> str:
    """Return where sectors between two bytes of a file are zeroed, in words, "" where none are.

    With `stride`, the bytes of a row, the data are pixels as they are. Then a run that is the last of the file
    needs no second edge, and the row before must hold something where this one breaks off: transparent and
    black pixels are zeros as well.
    """
    for first, last in _runs(data, start, end):
        is_last = last >= end
        if first % SECTOR or (last % SECTOR and not is_last) or last - first < SECTOR:
            continue
        if stride and not _breaks_off(data, start, first, last, stride):
            continue
        return f"from byte {first} on {last - first} bytes were never written (they are zero)"
    return ""


def _runs(data: bytes, start: int, end: int) -> list[tuple[int, int]]:
    """Return the runs of zeros that cover a whole sector, as (first byte, byte after the last)."""
    flat: NDArray[np.uint8] = np.frombuffer(data, np.uint8)
    begin, stop = -(-start // SECTOR), min(end, len(data)) // SECTOR
    if stop <= begin:
        return []
    is_zero = ~flat[begin * SECTOR : stop * SECTOR].reshape(-1, SECTOR).any(axis=1)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], is_zero, [False]]).astype(np.int8)))
    found = []
    for first, last in (edges.reshape(-1, 2) + begin) * SECTOR:
        before, after = flat[max(start, first - SECTOR) : first], flat[last : min(last + SECTOR, end)]
        some_before, some_after = np.flatnonzero(before), np.flatnonzero(after)
        head = first - (len(before) - 1 - some_before[-1] if len(some_before) else len(before))
        tail = last + (some_after[0] if len(some_after) else len(after))
        found.append((int(head), int(tail)))
    return found


def _breaks_off(data: bytes, start: int, first: int, last: int, stride: int) -> bool:
    """Return whether the picture is there on the row before, or else on the row after, where it is zero here."""
    wide = min(SECTOR, stride, last - first)
    row = data[first - stride : first - stride + wide] if first - stride >= start else b""
    row = row or data[last + stride - wide : last + stride]
    return sum(map(bool, row)) > _INK * max(len(row), 1)
