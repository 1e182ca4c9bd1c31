"""Things in a row, pushed apart until none covers another."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float, *, gap: float) -> list[float]:
    """Return middles as near as can be to those wanted, so that things of these sizes are `gap` apart.

    They stay between `low` and `high`; where that is too short they start at `low` and run out of it. Of equal wishes
    the first named comes first.
    """
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    starts = _apart([wanted[index] - sizes[index] / 2 for index in order], [sizes[index] + gap for index in order])
    found = [0.0] * len(wanted)
    end = high
    for index, start in reversed(list(zip(order, starts, strict=True))):  # from the far end: none runs out of it
        found[index] = min(start, end - sizes[index])
        end = found[index] - gap
    start = low
    for index in order:
        found[index] = max(found[index], start)
        start = found[index] + sizes[index] + gap
    return [at + size / 2 for at, size in zip(found, sizes, strict=True)]


def _apart(starts: Sequence[float], steps: Sequence[float]) -> list[float]:
    """Return starts, in order, that lie at least a step apart, each group about the middle of what its members want.

    Members of a group that touch are moved together: the least squares of how far each is from where it wants to be
    (isotonic regression by pooling adjacent violators: Ayer et al., 1955).
    """
    offsets, total = [], 0.0
    for step in steps:
        offsets.append(total)
        total += step
    groups: list[tuple[float, int]] = []  # mean of start - offset, and how many
    for start, offset in zip(starts, offsets, strict=True):
        mean, count = start - offset, 1
        while groups and groups[-1][0] > mean:
            before, number = groups.pop()
            mean = (before * number + mean * count) / (number + count)
            count += number
        groups.append((mean, count))
    means = [mean for mean, count in groups for _ in range(count)]
    return [mean + offset for mean, offset in zip(means, offsets, strict=True)]
