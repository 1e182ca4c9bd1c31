"""Which control stands in which row of the top: the ways in which the trade sets out knobs, switches and lamps.

All of it is common practice without a source. Rows run from the far edge to the near one, names from left to right.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from mockup.arrange.layouts.controls import Control, Wanted
from mockup.checks.report.sentences import listed
from mockup.clearance.placed import FOOTSWITCHES
from mockup.clearance.plugs import FAMILIES

MOST_ROWS = 5
LEVEL_MM = 0.5  # pinned parts no farther apart in height stand in one row: our choice
APART = 3.0  # what it costs that pinned parts stand in no row: our choice
Names = tuple[str, ...]
KNOB, FADER, SWITCH = "knob", "fader", "switch"
OVER, AMONG, FAR, BETWEEN = "over the switch", "between the knobs", "at the far edge", "between the switches"
"""Where lamps may stand, in the trade's order."""


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Rows of knobs, faders and switches.

    `among` is the lamp that stands in one of them, `lamps` those that stand elsewhere, `lamp` says where. `nouns` says
    what each control without a knob is. `liking` is how far it is from the trade's first choice; 0 is that.
    """

    rows: tuple[Names, ...]
    feet: Names = ()
    lamps: Names = ()
    lamp: str = ""
    among: str = ""
    nouns: Mapping[str, str] = field(default_factory=dict)
    liking: float = 0.0

    @property
    def about(self) -> str:
        """The plan in a few words, for people: ``two over one, lamp between the knobs``."""
        rows = [[name for name in row if name != self.among] for row in self.rows]
        beside = {self.nouns.get(name, KNOB) for row in self.rows if self.among in row for name in row}
        where = "between the faders" if self.lamp == AMONG and FADER in beside else self.lamp
        lamp = f"lamp{'s' * (len(self.lamps) > 1)} {where}" if where and where != OVER else ""
        return ", ".join(each for each in (_rows_said(rows, self.nouns), lamp) if each)


_NUMBERS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _rows_said(rows: Sequence[Sequence[str]], nouns: Mapping[str, str]) -> str:
    """Return rows in a few words: so many knobs, faders and switches each, only their number where all are knobs."""
    is_plain = not any(name in nouns for row in rows for name in row)
    said = [_number(len(row)) if is_plain else _row_said(row, nouns) for row in rows if row]
    if len(set(said)) > 1:
        return f"rows of {', '.join(said[:-1])} and {said[-1]}" if len(said) > 2 else " over ".join(said)
    if len(said) < 2:
        is_one = [len(row) for row in rows if row] == [1]
        return "".join(f"{each} in the middle" if is_one else f"{each} in a row" for each in said)
    return "one below the other" if said[0] == _number(1) else f"{_number(len(said))} rows of {said[0]}"


def _row_said(row: Sequence[str], nouns: Mapping[str, str]) -> str:
    """Return what a row holds: ``two knobs and one switch``."""
    counts = Counter(nouns.get(name, KNOB) for name in row)
    return listed(
        [
            f"{_number(counts[noun])} {noun}{plural * (counts[noun] > 1)}"
            for noun, plural in ((KNOB, "s"), (FADER, "s"), (SWITCH, "es"))
            if counts[noun]
        ]
    )


def _number(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def plans(wanted: Wanted, pins: Mapping[str, float] | None = None) -> Iterator[Plan]:
    """Yield the ways to set a list's controls out on the top, those that keep its groups.

    `pins` says how far down each pinned control stands: it takes part in a row, farther rows before nearer ones. Then
    come the ways in which it stands apart, and no row is about it.
    """
    pins = pins or {}
    top = [each for each in wanted.controls if is_on_top(each)]
    if pins:
        for controls in dict.fromkeys((tuple(top), tuple(sorted(top, key=lambda each: pins.get(each.name, math.inf))))):
            yield from (plan for plan in _plans(wanted, controls) if _keeps_pins(plan, pins))
    alone = [each for each in top if each.pin is None]
    yield from (replace(plan, liking=plan.liking + (APART if pins else 0.0)) for plan in _plans(wanted, alone))


def _plans(wanted: Wanted, top: Sequence[Control]) -> Iterator[Plan]:
    """Yield the ways to set controls out that keep a list's groups."""
    over = {group.names[0] for group in wanted.groups if group.kind == "over"}
    held = [each.name for each in top if each.kind.shaft is not None]
    small = [each.name for each in top if _is_small(each)]
    feet = tuple(each.name for each in top if each.kind.family == FOOTSWITCHES)
    lamps = tuple(each.name for each in top if each.kind.is_lamp and each.name not in over)
    seen: set[tuple[tuple[Names, ...], Names, str]] = set()
    for rows, uneven in _knob_rows(held, wanted):
        for with_small, apart in _with_small(rows, small):
            for plan in _with_lamps(with_small, feet, lamps):
                ordered = replace(
                    plan,
                    rows=tuple(_mirrored(row, wanted) for row in plan.rows),
                    nouns={name: FADER if wanted.named(name).kind.family == FADER else SWITCH for name in small},
                    liking=plan.liking + uneven + apart,
                )
                key = ordered.rows, ordered.lamps, ordered.lamp
                if key not in seen and _keeps_groups(ordered, wanted):
                    seen.add(key)
                    yield ordered


def _keeps_pins(plan: Plan, pins: Mapping[str, float]) -> bool:
    """Return whether pinned controls of one row stand at one height, and those of farther rows farther."""
    heights = [[pins[name] for name in row if name in pins] for row in plan.rows]
    if any(max(each) - min(each) > LEVEL_MM for each in (*heights, *_pinned_of(plan, pins)) if each):
        return False
    found = [max(each) for each in heights if each]
    return all(near - far > LEVEL_MM for far, near in itertools.pairwise(found))


def _pinned_of(plan: Plan, pins: Mapping[str, float]) -> list[list[float]]:
    return [[pins[name] for name in row if name in pins] for row in (plan.feet, plan.lamps)]


def is_on_top(control: Control) -> bool:
    """Return whether a control goes on the top: what a hand or a foot works, and what shines."""
    if control.kind.mount != "panel":
        return False
    return control.faces[0] == "top" if control.faces else control.kind.family not in FAMILIES


def _is_small(control: Control) -> bool:
    return control.kind.shaft is None and control.kind.family != FOOTSWITCHES and not control.kind.is_lamp


def _knob_rows(held: Sequence[str], wanted: Wanted) -> Iterator[tuple[tuple[Names, ...], float]]:
    """Yield knobs in rows, with what each way is short of the first: even rows, then uneven; groups in one piece."""
    fixed = [tuple(n for n in g.names if n in held) for g in wanted.groups if g.kind == "row"]
    fixed = [row for row in fixed if row]
    in_row = {name for row in fixed for name in row}
    columns = [tuple(n for n in g.names if n in held and n not in in_row) for g in wanted.groups if g.kind == "column"]
    if any(columns):
        deep = max(len(column) for column in columns)
        fixed += [tuple(column[at] for column in columns if at < len(column)) for at in range(deep)]
    free = [name for name in held if not any(name in row for row in fixed)]
    if not free:
        yield tuple(fixed), 0.0
        return
    for count in range(1, min(MOST_ROWS - 1, len(free)) + 1):
        for sizes in _sizes(len(free), count):
            starts = [sum(sizes[:index]) for index in range(count)]
            rows = tuple(tuple(free[start : start + size]) for start, size in zip(starts, sizes, strict=True))
            spread = max(sizes) - min(sizes)
            falls = 0.4 * sum(near > far for far, near in itertools.pairwise(sizes))
            yield (*fixed, *rows), 1.2 * max(0, spread - 1) + 0.5 * (spread == 1) + falls + 0.6 * (count - 1)
            if fixed:
                yield (*rows, *fixed), 1.2 * spread + 0.5 + 0.6 * (count - 1)


def _sizes(total: int, count: int) -> Iterator[tuple[int, ...]]:
    """Yield the sizes of so many rows: as even as can be, longer ones far or near, and in turn."""
    even = [total // count + (index < total % count) for index in range(count)]
    low, high = min(even), max(even)
    ways = [tuple(even), tuple(reversed(even))]
    if low != high and count > 2:
        ways += [tuple(order) for order in itertools.permutations(even) if order == tuple(reversed(order))][:1]
    if count == 2 and total % 2 == 0 and total > 2:
        ways += [(total // 2 + 1, total // 2 - 1), (total // 2 - 1, total // 2 + 1)]
    yield from dict.fromkeys(ways)


def _with_small(rows: tuple[Names, ...], small: Sequence[str]) -> Iterator[tuple[tuple[Names, ...], float]]:
    """Yield rows with the switches among them: between the knobs of even rows, in rows of their own, at the ends."""
    if not small:
        yield rows, 0.0
        return
    even = [index for index, row in enumerate(rows) if len(row) % 2 == 0]
    if len(small) <= len(even):
        for chosen in itertools.combinations(even, len(small)):
            mixed = list(rows)
            for index, name in zip(chosen, small, strict=True):
                half = len(rows[index]) // 2
                mixed[index] = (*rows[index][:half], name, *rows[index][half:])
            yield tuple(mixed), 0.1 * chosen[0]
    for block in _small_rows(small):
        for at in range(len(rows), -1, -1):
            likes = 0.2 if 0 < at < len(rows) else 0.3 if at else 0.8
            yield (*rows[:at], *block, *rows[at:]), likes + 0.4 * (len(block) - 1)
    if len(small) % 2 == 0:
        for index, row in enumerate(rows):
            half = len(small) // 2
            yield (*rows[:index], (*small[:half], *row, *small[half:]), *rows[index + 1 :]), 0.5 + 0.2 * index
    if len(small) == 1 and len(rows) == 1 and len(rows[0]) > 2:  # a knob gives its place to the switch
        yield ((rows[0][0], small[0], rows[0][-1]), rows[0][1:-1]), 0.8


def _small_rows(small: Sequence[str]) -> Iterator[tuple[Names, ...]]:
    yield (tuple(small),)
    if len(small) > 2:
        half = (len(small) + 1) // 2
        yield (tuple(small[:half]), tuple(small[half:]))


def _with_lamps(rows: tuple[Names, ...], feet: Names, lamps: Names) -> Iterator[Plan]:
    """Yield a plan for each place that the lamps may have."""
    if not lamps:
        yield Plan(rows=rows, feet=feet)
        return
    if len(lamps) == 1 and len(feet) == 2:
        yield Plan(rows=rows, feet=feet, lamps=lamps, lamp=BETWEEN)
    yield Plan(rows=rows, feet=feet, lamps=lamps, lamp=OVER if feet else FAR, liking=0.0 if len(feet) != 2 else 0.2)
    if len(lamps) == 1:
        for index, row in enumerate(rows):
            if row and len(row) % 2 == 0:
                half = len(row) // 2
                mixed = (*rows[:index], (*row[:half], *lamps, *row[half:]), *rows[index + 1 :])
                yield Plan(rows=mixed, feet=feet, lamp=AMONG, among=lamps[0], liking=0.4 + 0.1 * index)
    if feet:
        yield Plan(rows=rows, feet=feet, lamps=lamps, lamp=FAR, liking=0.8)


def _mirrored(row: Names, wanted: Wanted) -> Names:
    """Return a row with its mirrored pairs set about its middle, the rest in their order."""
    pairs = [g.names for g in wanted.groups if g.kind == "pair" and all(name in row for name in g.names)]
    if not pairs:
        return row
    rest = [name for name in row if not any(name in pair for pair in pairs)]
    left, right = [pair[0] for pair in pairs], [pair[1] for pair in reversed(pairs)]
    return (*left, *rest, *right)


def _keeps_groups(plan: Plan, wanted: Wanted) -> bool:
    """Return whether pairs stand in one row, and rows of a group in one."""
    rows = [*plan.rows, plan.feet, plan.lamps]
    every = {name for row in rows for name in row}
    for group in wanted.groups:
        is_here = group.kind in ("pair", "row") and all(name in every for name in group.names)
        if is_here and not any(set(group.names) <= set(row) for row in rows):
            return False
        if group.kind == "row":
            row = next((each for each in rows if set(group.names) <= set(each)), ())
            if [name for name in row if name in group.names] != list(group.names):
                return False
    return True
