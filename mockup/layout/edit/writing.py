"""One change made in the text of a layout: every way it may be written is tried until one reads as meant.

What comes out is read again and compared with what the tables should then hold, so nothing but the change is ever
written: a text that can only be changed otherwise is refused.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import Any

from mockup.layout.edit.blocks import TableBlock, blocks, inserted, line_end, moved_to, under, without
from mockup.layout.edit.literals import dotted, key, literal, styled
from mockup.layout.edit.syntax import Element, Span, elements
from mockup.layout.edit.tables import (
    MISSING,
    Delete,
    Place,
    Shift,
    TableChange,
    change,
    found,
    same,
)
from mockup.model.edit import Address
from mockup.model.errors import Fault, InputError

_TAIL = re.compile(r"[ \t]*,?[ \t]*(?:#[^\n]*)?\r?\n")  # what may stand behind a value on its line
_FIRST = ("top", "bottom", "left", "right", "face", "kind", "name", "paint", "sheen", "style", "size", "art")


def written(text: str, raw: dict[str, Any], made: TableChange, source: str) -> str:
    """Return the text with one change in it, every other byte as it was, and make the change in its tables `raw` too.

    The change's place must be there, tables of a list by number. Raises `InputError` in one line where the text is
    written in a way that does not allow it.
    """
    wanted = raw
    raw = copy.deepcopy(raw)
    change(wanted, made)
    with suppress(ValueError):  # a way that leaves no valid text behind half-way
        for tried in _ways(text, raw, made):
            if _reads_as(tried, wanted):
                return tried
    what = f"{Address(way=made.place)} is written in a way that cannot be changed from here"
    raise InputError(Fault(file=source, what=what, remedy="change it in the file itself"))


def _reads_as(text: str, wanted: Mapping[str, Any]) -> bool:
    try:
        return same(tomllib.loads(text), wanted)
    except ValueError:  # that way does not fit how the file is written
        return False


def _ways(text: str, raw: Mapping[str, Any], made: TableChange) -> Iterator[str]:
    if isinstance(made, Delete):
        yield from _deleted(text, made.place)
    elif isinstance(made, Shift):
        yield from _shifted(text, made.place, made.to) if isinstance(made.to, int) else _renamed(text, made)
    elif made.source is not None or (isinstance(made.place[-1], int) and isinstance(made.value, Mapping)):
        copied = _copied(text, made.source, made.place) if made.source is not None else ""
        for body in (copied, _block(text, made.place, made.value)):
            if body:
                yield from _new_table(text, raw, made.place, body, made.value)
    elif there := next((each.value for each in elements(text) if each.loc == made.place and each.value), None):
        yield _replaced(text, there, styled(text[slice(*there)], made.value))
    else:
        yield from _new_key(text, raw, made.place, made.value)


def _replaced(text: str, span: Span, new: str) -> str:
    return text[: span[0]] + new + text[span[1] :]


# A key that was not there


def _new_key(text: str, raw: Any, place: Place, value: Any) -> Iterator[str]:
    """Yield ways to add a key: on a line of its own, within braces, dotted, in a table of its own."""
    table, name = place[:-1], str(place[-1])
    inside, end = found(raw, table), line_end(text)
    if isinstance(value, Mapping) and _is_header_place(place):
        yield _as_block(text, place, value)
    if isinstance(inside, dict):
        for near in _neighbours(text, table):
            yield _beside(text, near, len(table), f"{key(name)} = {literal(value)}")
        header = next((each for each in elements(text) if each.is_header and each.loc == table), None)
        if header is not None:
            yield _with_line(text, header.span[1], f"{key(name)} = {literal(value)}")
        if not table:
            first = next((each.start for each in blocks(text)), len(text))
            yield inserted(text, first, f"{key(name)} = {literal(value)}{end}")
        empty = next((each for each in elements(text) if each.loc == table and each.value), None)
        if empty is not None and empty.value is not None:
            yield _replaced(text, empty.value, f"{{ {key(name)} = {literal(value)} }}")
        if table:
            yield _as_block(text, table, {name: value})
    elif table:
        if _is_header_place(table):
            yield _as_block(text, table, {name: value})
        yield from _new_key(text, raw, table, {name: value})


def _is_header_place(place: Place) -> bool:
    """Return whether a table has a header of its own where there is a choice: ``[finish]``, ``[variants.night]``."""
    return len(place) == 1 or (place[0] == "variants" and len(place) == 2)


def _neighbours(text: str, table: Place) -> list[Element]:
    """Return the keys of a table beside which a new one may stand, the fittest first."""

    def fitness(each: Element) -> tuple[int, int]:
        name = str(each.loc[len(table)])
        is_plain = len(each.loc) == len(table) + 1 and each.value is not None and text[each.value[0]] not in "[{"
        return (_FIRST.index(name) if is_plain and name in _FIRST else len(_FIRST) + (not is_plain), each.span[0])

    near = [
        each
        for each in elements(text)
        if not each.is_header
        and each.loc[: len(table)] == table
        and any(step == len(table) for step, _ in each.keys)  # the step below the table is written here
    ]
    return sorted(near, key=fitness)


def _beside(text: str, near: Element, depth: int, written_key: str) -> str:
    """Return the text with a key behind another of the same table, the steps before it written as they are there."""
    prefix = "".join(f"{text[slice(*span)]}." for step, span in near.keys if step < depth)
    if near.sort == "inner":
        return _replaced(text, (near.span[1], near.span[1]), f", {prefix}{written_key}")
    indent = re.match(r"[ \t]*", text[near.span[0] :])
    return _with_line(text, near.span[1], f"{indent[0] if indent else ''}{prefix}{written_key}")


def _with_line(text: str, at: int, line: str) -> str:
    """Return the text with a line put at the start of another, or behind the last."""
    end = line_end(text)
    before = text[:at] if not text[:at] or text[:at].endswith("\n") else text[:at] + end
    return f"{before}{line}{end}{text[at:]}"


def _as_block(text: str, table: Place, values: Mapping[str, Any]) -> str:
    """Return the text with a table of its own."""
    return inserted(text, _block_place(text, table), _block(text, table, values))


def _block_place(text: str, place: Place) -> int:
    """Return where a new block of a table or list belongs: before its inner tables, behind its variant's, else last.

    Variants come last in a file, so a table of the layout itself comes before them.
    """
    below = under(text, place)
    if below:
        return below[0].start
    variant = under(text, place[:2]) if place[0] == "variants" else ()
    if variant:
        return variant[-1].end
    behind = under(text, ("variants",)) if place[0] != "variants" else ()
    return behind[0].start if behind else len(text)


def _block(text: str, place: Place, values: Mapping[str, Any]) -> str:
    """Return a table as text: its header, and each key on a line."""
    end = line_end(text)
    path = dotted(*(step for step in place if isinstance(step, str)))
    header = f"[[{path}]]" if isinstance(place[-1], int) else f"[{path}]"
    return "".join(f"{line}{end}" for line in (header, *(f"{key(k)} = {literal(v)}" for k, v in values.items())))


# A table of a list


def _new_table(text: str, raw: Any, place: Place, body: str, values: Mapping[str, Any]) -> Iterator[str]:
    """Yield ways to bring a table into a list, or under a key of its own."""
    number = place[-1]
    if not isinstance(number, int):
        yield inserted(text, _block_place(text, place), body)
        yield from _new_key(text, raw, place, values)
        return
    array = place[:-1]
    listed = found(raw, array)
    if listed is MISSING or not listed:
        bare = next(_deleted(text, array), text) if listed is not MISSING else text
        yield inserted(bare, _block_place(bare, array), body)
        there = next((each for each in elements(text) if each.loc == array and each.value), None)
        if there is not None and there.value is not None:
            yield _replaced(text, there.value, f"[{literal(values)}]")
        else:
            yield from _new_key(text, raw, array, [values])
        return
    yield from _at_number(text, array, number, len(listed), body, literal(values))


def _at_number(text: str, array: Place, number: int, count: int, body: str, inner: str) -> Iterator[str]:
    """Yield ways to put a table into a list that has some: as a block, or within the list's brackets."""
    before, behind = under(text, (*array, number - 1)), under(text, (*array, number))
    if number < count and behind:
        yield inserted(text, behind[0].start, body)
    if number == count and before:
        yield inserted(text, before[-1].end, body)
    there = {each.loc: each for each in elements(text) if each.sort == "inner"}
    if number < count and (*array, number) in there:
        start = there[(*array, number)].span[0]
        indent = text[text.rfind("\n", 0, start) + 1 : start]
        gap = " " if indent.strip() else f"{line_end(text)}{indent}"
        yield _replaced(text, (start, start), f"{inner},{gap}")
    elif number == count and (*array, count - 1) in there:
        last = there[(*array, count - 1)]
        row = _row(text, last)
        if row is not None:
            line = text[row[0] : last.span[0]] + inner + line_end(text)
            yield _replaced(text, row, _with_comma(text, last, row) + line)
        yield _replaced(text, (last.span[1], last.span[1]), f", {inner}")


def _copied(text: str, source: Place, place: Place) -> str:
    """Return the blocks of a table as blocks of another, "" where it is not written in blocks."""
    old, new = (tuple(step for step in each if isinstance(step, str)) for each in (source, place))
    pieces = [moved_to(text, each, old, new) for each in under(text, source)]
    end = line_end(text)
    return "".join(piece if piece.endswith("\n") else piece + end for piece in _apart(pieces, end))


def _apart(pieces: list[str], end: str) -> Iterator[str]:
    for number, piece in enumerate(pieces):
        yield piece if number == 0 or piece.lstrip().startswith("[part.") else end + piece


def _shifted(text: str, place: Place, number: int) -> Iterator[str]:
    """Yield ways to move one table of a list to another number: blocks, lines within brackets, values within them."""
    array, own = place[:-1], under(text, place)
    count = len(found(tomllib.loads(text), array)) - 1
    element = next((each for each in elements(text) if each.loc == place and each.sort == "inner"), None)
    if own:
        body, bare = "".join(text[each.start : each.end] for each in own), text
        for each in reversed(own):
            bare = without(bare, each)
        yield from _at_number(bare, array, number, count, body, "")
    elif element is not None:
        yield from _shifted_line(text, element, (*array, number))
        body = text[slice(*element.span)]
        yield from _at_number(_cut_inner(text, element), array, number, count, body, body)


def _shifted_line(text: str, element: Element, place: Place) -> Iterator[str]:
    """Yield the text with the line of one value of a list moved to that of another, its comment with it."""
    row = _row(text, element)
    if row is None:
        return
    bare = text[: row[0]] + text[row[1] :]
    number = int(place[-1])
    there = {each.loc: each for each in elements(bare) if each.sort == "inner"}
    near = there.get(place) or there.get((*place[:-1], number - 1))
    at = _row(bare, near) if near is not None else None
    if near is None or at is None:
        return
    moved = _with_comma(text, element, row)
    if near.loc == place:
        yield bare[: at[0]] + moved + bare[at[0] :]
    else:
        yield bare[: at[0]] + _with_comma(bare, near, at) + moved + bare[at[1] :]


def _row(text: str, element: Element) -> Span | None:
    """Return the whole lines of a value of a list, its comma and comment included, None where more stands on them."""
    line = text.rfind("\n", 0, element.span[0]) + 1
    tail = _TAIL.match(text, element.span[1])
    return None if text[line : element.span[0]].strip() or tail is None else (line, tail.end())


def _with_comma(text: str, element: Element, row: Span) -> str:
    behind = text[element.span[1] : row[1]]
    comma = "" if behind.lstrip().startswith(",") else ","
    return text[row[0] : element.span[1]] + comma + behind


# What goes


def _deleted(text: str, place: Place) -> Iterator[str]:
    """Yield ways to take out a key, a table or one table of a list."""
    depth = len(place)
    own = under(text, place)
    keys = [each for each in elements(text) if not each.is_header and each.loc[:depth] == place]
    gone: list[Element | TableBlock] = [*own, *(each for each in keys if each.home[:depth] != place)]
    bare = text
    for piece in sorted(gone, key=_start, reverse=True):
        if isinstance(piece, TableBlock):
            bare = without(bare, piece)
        else:
            bare = _cut_inner(bare, piece) if piece.sort == "inner" else _replaced(bare, piece.span, "")
    yield bare
    if isinstance(place[-1], int):  # the last table of a list within brackets: the list goes too
        yield from _deleted(text, place[:-1])
    elif own and depth > 1:  # a table that only its inner ones gave keeps a header of its own
        yield _replaced(text, (own[0].start, own[-1].end), f"[{dotted(*map(str, place[:-1]))}]{line_end(text)}")
    elif depth > 1:  # the same where it is written in dotted keys
        yield from _new_key(bare, tomllib.loads(bare), place[:-1], {})


def _start(piece: Element | TableBlock) -> int:
    return piece.start if isinstance(piece, TableBlock) else piece.span[0]


def _cut_inner(text: str, element: Element) -> str:
    """Return the text without one value of a list or one key within braces, its comma included."""
    start, end = element.span
    row = _row(text, element)
    behind = re.compile(r"[ \t]*,[ \t]*").match(text, end)
    if row is not None:
        return text[: row[0]] + text[row[1] :]
    if behind is not None:
        return text[:start] + text[behind.end() :]
    before = re.compile(r",[ \t]*$").search(text[:start])
    return text[: before.start() if before is not None else start] + text[end:]


def _renamed(text: str, made: Shift) -> Iterator[str]:
    """Yield the text with one step of the way to a table written otherwise, wherever it is written."""
    depth = len(made.place)
    inside = [each.keys for each in elements(text) if each.loc[:depth] == made.place]
    spans = {span for keys in inside for step, span in keys if step == depth - 1}
    for span in sorted(spans, reverse=True):
        text = _replaced(text, span, key(str(made.to)))
    yield text
