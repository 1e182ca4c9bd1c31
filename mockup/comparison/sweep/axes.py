"""What a sweep goes through: lists of values for keys of a layout, and every combination of them."""

from __future__ import annotations

import csv
import io
import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mockup.colour import rgb
from mockup.finishes import sheens
from mockup.layout.edit.assignment import EACH, Assignment, split_values
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.text import printable

MOST = 1000  # combinations: more than anybody looks through, and an hour of pictures; our choice
_SEPARATORS = (";", "\t", ",")  # what spreadsheets write, by how sure a sign each is
_HEADINGS = {"name": "name", "colour": "colour", "color": "colour", "hex": "colour", "paint": "name", "sheen": "sheen"}
_COLUMNS = ("name", "colour", "sheen")  # without a heading, in this order


@dataclass(frozen=True, kw_only=True)
class Combination:
    """One value, or one of each axis: its caption, which says only what varies, and the keys that it sets."""

    caption: str
    assignments: tuple[Assignment, ...]


@dataclass(frozen=True, kw_only=True)
class Axis:
    """What one flag lists; `flag` as the command line writes it."""

    flag: str
    values: tuple[Combination, ...]


def combinations(axes: Sequence[Axis]) -> tuple[Combination, ...]:
    """Return every combination of the axes' values, the first axis turning slowest, each caption once.

    Raises `InputError` where there are more than `MOST`, or where a key is listed twice.
    """
    count = math.prod(len(axis.values) for axis in axes)
    flags = " x ".join(f"{len(axis.values)} ({axis.flag})" for axis in axes)
    if count > MOST:
        what = f"{flags} make {count} combinations; the most is {MOST}"
        raise InputError(
            Fault(file=axes[-1].flag, what=what, remedy="give shorter lists, or sweep one after the other")
        )
    owner: dict[str, str] = {}
    for axis in axes:
        for key in dict.fromkeys(each.key for value in axis.values for each in value.assignments):
            if key in owner:
                raise InputError(
                    Fault(file=axis.flag, what=f"{key} is listed already by {owner[key]}", remedy="keep one of the two")
                )
            owner[key] = axis.flag
    return tuple(_named(axes))


def _named(axes: Sequence[Axis]) -> Iterator[Combination]:
    taken: dict[str, int] = {}
    for values in itertools.product(*(axis.values for axis in axes)):
        words = [value.caption for value, axis in zip(values, axes, strict=True) if len(axis.values) > 1]
        caption = ", ".join(words) or ", ".join(value.caption for value in values) or "as drawn"
        taken[caption] = taken.get(caption, 0) + 1
        if taken[caption] > 1:
            caption = f"{caption} ({taken[caption]})"
        yield Combination(caption=caption, assignments=tuple(each for value in values for each in value.assignments))


def axis(flag: str, key: str, text: str, *, says_key: bool = False) -> Axis:
    """Return the axis of one key over a list of values written with commas.

    `says_key` puts the end of the key into captions, for values that say nothing alone, such as 12.
    Raises `InputError` where a value is missing between two commas.
    """
    values = split_values(text)
    if not all(values):
        found = "nothing" if len(values) == 1 else f"nothing at place {values.index('') + 1} of the list"
        raise InputError(Fault(file=flag, what=f"expected values with commas between, found {found}"))
    start = f"{_short(key)} " if says_key else ""
    sign = "=" if says_key else " "
    listed = (
        Combination(
            caption=start + _bare(value), assignments=(Assignment(key=key, value=value, origin=f"{flag}{sign}{value}"),)
        )
        for value in dict.fromkeys(values)
    )
    return Axis(flag=flag, values=tuple(listed))


def setting(flag: str, text: str) -> Axis:
    """Return the axis written as ``KEY=a,b,c``; raises `InputError` where it is not."""
    key, sign, values = text.partition("=")
    if not sign or not key.strip():
        what = f"{text!r} is no key with values"
        raise InputError(Fault(file=flag, what=what, remedy=f"write for example {flag} box.edge=1,2,3"))
    return axis(f"{flag} {key.strip()}", key.strip(), values, says_key=True)


def paints(text: str, file: str) -> Axis:
    """Return the axis of a list of paints: rows of name, colour and, if wanted, sheen.

    Commas, semicolons or tabs stand between; a first row of headings may put the columns in another order.
    A row may also hold a colour alone. Raises `InputError` with one fault per row that is wrong.
    """
    lines = text.splitlines()
    first = next((line for line in lines if line.strip()), "")
    separator = next((each for each in _SEPARATORS if each in first), ",")
    rows = []
    for number, line in enumerate(lines, 1):
        try:
            cells = next(csv.reader(io.StringIO(line), delimiter=separator, skipinitialspace=True), [])
        except csv.Error as error:
            what = f"cannot be read ({error})"
            raise InputError(Fault(file=f"{file} row {number}", what=what, remedy="shorten or mend it")) from None
        if any(cell.strip() for cell in cells):
            rows.append((number, [printable(cell.strip()) for cell in cells]))
    columns: tuple[str, ...] = _COLUMNS
    if rows and (headings := _headings(rows[0][1])):
        columns, rows = headings, rows[1:]
    faults: list[Fault] = []
    values: list[Combination] = []
    for number, cells in rows:
        where = f"{file} row {number}"
        found = {name: cell for name, cell in zip(columns, cells, strict=False) if cell and name}
        if len(cells) == 1 and columns == _COLUMNS:
            found = {"colour": cells[0]}
        bad = list(_row_faults(where, found, len(cells) - len(columns)))
        faults += bad
        if not bad:
            values.append(_paint(where, found))
    if not rows:
        faults = [Fault(file=file, what="holds no paint", remedy="write rows such as: Sea green, #2a6f6b, satin")]
    if faults:
        raise InputError(faults)
    return Axis(flag="--paint", values=tuple(dict.fromkeys(values)))


def _headings(cells: Sequence[str]) -> tuple[str, ...]:
    """Return the columns' names where a row is one of headings: it has a colour's heading and no colour."""
    names = tuple(_HEADINGS.get(cell.casefold(), "") for cell in cells)
    return names if "colour" in names else ()


def _row_faults(where: str, found: dict[str, str], extra: int) -> Iterator[Fault]:
    if extra > 0:
        yield Fault(file=where, what=f"has {extra} cell{'s' * (extra > 1)} too many", remedy="put quotes round a comma")
        return
    if "colour" not in found:
        yield Fault(file=where, what="has no colour", remedy='write one such as "#2a6f6b" or "teal" in its second cell')
        return
    try:
        rgb.parse(found["colour"])
    except ValueError as error:
        yield Fault(file=where, what=str(error))
    sheen = found.get("sheen")
    if sheen is not None and sheen.casefold() not in sheens():
        yield Fault(file=where, what=f"unknown sheen {sheen!r}", remedy=nearest(sheen, sheens()))


def _paint(where: str, found: dict[str, str]) -> Combination:
    assignments = [Assignment(key="finish.paint", value=found["colour"], origin=where)]
    if "sheen" in found:
        assignments.append(Assignment(key="finish.sheen", value=found["sheen"].casefold(), origin=where))
    return Combination(caption=found.get("name") or found["colour"], assignments=tuple(assignments))


def _bare(value: str) -> str:
    return value[1:-1] if len(value) > 1 and value[0] == value[-1] and value[0] in "\"'" else value


def _short(key: str) -> str:
    """Return the end of a key as a caption says it: ``TONE left``, ``box edge``, ``knob style``."""
    steps = [step for step in key.split(".") if step not in (EACH, "part", "label", "scale")]
    return " ".join(step.replace("_", " ") for step in steps[-2:])
