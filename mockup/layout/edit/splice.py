"""Values put back into the text of a TOML file, every other byte as it was.

A place is the way to a value from the top: keys, and for an entry of a list of tables the entry's own
`name` or its index, such as ("part", "TONE", "left") or ("decal", 0, "film").
"""

from __future__ import annotations

import copy
import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import pairwise
from typing import Any

from mockup.layout.places import table_lines
from mockup.model.errors import Fault, InputError

Step = str | int
Place = tuple[Step, ...]
Value = str | float | bool
MISSING: Any = object()
"""Stands for a value that is not there."""

_MARK = "\ue000mark\ue000"  # a private character, Unicode 23.5: no text holds it in earnest
_NUMBER = re.compile(r"[+-]?\d[\d_]*(?:\.(?P<decimals>[\d_]+))?")
_BEFORE = ("top", "bottom", "left", "right", "face", "kind", "name", "paint", "sheen", "style", "size", "art")
_LAST = 8  # decimals; far below anything that can be measured


def found(raw: Any, place: Place) -> Any:
    """Return the value at a place of a file as TOML reads it, `MISSING` where there is none."""
    for step in place:
        raw = _inside(raw, _index(raw, step))
    return raw


def _inside(node: Any, step: Step) -> Any:
    if isinstance(node, dict):
        return node.get(step, MISSING)
    return node[step] if isinstance(node, list) and isinstance(step, int) and -1 < step < len(node) else MISSING


def put(text: str, values: Mapping[Place, Value], source: str) -> str:
    """Return the text with values put at places, in place where they are and else added to their table.

    A value keeps the style of the one it replaces: decimals, quotes. A table that is not there is added
    at the end. What comes out is read again and compared; raises `InputError` in one line where the file
    is written in a way that cannot be changed without touching anything else.
    """
    raw = _read(text, source)
    there = {place: value for place, value in values.items() if found(raw, place) is not MISSING}
    spans = {place: _span(text, _resolved(raw, place), source) for place in there}
    done = text
    for place, (start, end) in sorted(spans.items(), key=lambda entry: entry[1], reverse=True):
        done = done[:start] + _styled(text[start:end], there[place]) + done[end:]
    wanted = copy.deepcopy(raw)
    for place, value in there.items():
        _set(wanted, place, value)
    if not _same(_read(done, source), wanted):
        raise _refused(source, next(iter(there)))
    for place, value in values.items():
        if place not in there:
            done = _added(done, place, value, source)
    return done


def _added(text: str, place: Place, value: Value, source: str) -> str:
    """Return the text with a key that was not there: the first way to write it that reads as meant."""
    raw = _read(text, source)
    wanted = copy.deepcopy(raw)
    _set(wanted, place, value)
    for tried in _ways(text, raw, place, _literal(value)):
        try:
            if _same(tomllib.loads(tried), wanted):
                return tried
        except ValueError:  # that way does not fit how this file is written
            continue
    raise _refused(source, place)


def _ways(text: str, raw: Any, place: Place, literal: str) -> Iterator[str]:
    """Yield ways to add a key: on a line of its own, within braces, dotted, as a new table."""
    table, key = place[:-1], str(place[-1])
    inside = found(raw, table)
    end = "\r\n" if "\r\n" in text else "\n"
    if isinstance(inside, dict):
        for near in _near(inside):
            span = _try_span(text, _resolved(raw, (*table, near)))
            if span is None:
                continue
            line, at = _line_of(text, span)
            indent = re.match(r"[ \t]*", text[line:])
            before = text[:at] if text[:at].endswith("\n") or not text[:at] else text[:at] + end
            for written in (key, f"{table[-1]}.{key}"):
                yield f"{before}{indent[0] if indent else ''}{written} = {literal}{end}{text[at:]}"
            yield f"{text[: span[1]]}, {key} = {literal}{text[span[1] :]}"
        lines = table_lines(text)
        number = lines.get(_resolved(raw, table))
        if number is not None:  # a table with nothing in it yet
            rows = text.splitlines(keepends=True)
            rows[number - 1] = rows[number - 1].rstrip("\r\n") + end
            yield "".join([*rows[:number], f"{key} = {literal}{end}", *rows[number:]])
    elif table:
        parent = found(raw, table[:-1])
        if isinstance(parent, dict):  # a table of its own on one line, such as knob = { pointer = 0.5 }
            yield from _ways(text, raw, table, f"{{ {key} = {literal} }}")
    body = text if not text or text.endswith("\n") else text + end
    header = [str(step) for step in table]
    if len(table) > 1 and table[-2] == "part":
        dotted = ".".join(_key(step) for step in header[:-1])
        yield f"{body}{end}[[{dotted}]]{end}name = {_literal(header[-1])}{end}{key} = {literal}{end}"
    elif table:
        yield f"{body}{end}[{'.'.join(_key(step) for step in header)}]{end}{key} = {literal}{end}"


def _near(table: Mapping[str, Any]) -> Iterator[str]:
    """Yield the keys of a table after which a new one may stand, the fittest first."""
    plain = [key for key, value in table.items() if not isinstance(value, dict | list)]
    yield from (key for key in _BEFORE if key in plain)
    yield from (key for key in plain if key not in _BEFORE)


def _line_of(text: str, span: tuple[int, int]) -> tuple[int, int]:
    """Return where the line of a value begins, and where the next line begins."""
    start = text.rfind("\n", 0, span[0]) + 1
    end = text.find("\n", span[1])
    return start, len(text) if end < 0 else end + 1


def _span(text: str, loc: Place, source: str) -> tuple[int, int]:
    span = _try_span(text, loc)
    if span is None:
        raise _refused(source, loc)
    return span


@lru_cache(maxsize=256)
def _try_span(text: str, loc: Place) -> tuple[int, int] | None:
    """Return where in a text a value stands, None where that cannot be told for certain.

    A mark is put in its place and everything around it compared: what the library would change besides
    is found out here, and never written.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        node: Any = (document := tomlkit.parse(text))
        for step in loc[:-1]:
            node = node[step]
        node[loc[-1]] = _MARK
        out = tomlkit.dumps(document)
    except (TOMLKitError, KeyError, IndexError, TypeError, AttributeError, ValueError):
        return None
    marked = f'"{_MARK}"'
    start = out.find(marked)
    rest = out[start + len(marked) :]
    end = len(text) - len(rest)
    if start < 0 or end <= start or text[:start] != out[:start] or text[end:] != rest:
        return None
    return start, end


def _styled(before: str, value: Value) -> str:
    """Return a value as TOML text in the style of the one it replaces."""
    if isinstance(value, bool):
        return _literal(value)
    if isinstance(value, str):
        is_plain = before.startswith("'") and not before.startswith("'''") and "'" not in value and value.isprintable()
        return f"'{value}'" if is_plain else _literal(value)
    match = _NUMBER.fullmatch(before)
    decimals = len((match["decimals"] or "").replace("_", "")) if match else 0
    needed = _literal(value).partition(".")[2]
    is_whole = match is not None and match["decimals"] is None and needed in ("", "0")
    if is_whole:
        return f"{value + 0.0:.0f}"
    return f"{_zeroed(value):.{max(decimals, len(needed), 1)}f}"


def _literal(value: Value) -> str:
    """Return a value as TOML text: numbers plain, with at most eight decimals; text in double quotes."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    text = f"{_zeroed(value):.{_LAST}f}".rstrip("0")
    return text[:-1] if text.endswith(".") else text


def _zeroed(value: float) -> float:
    """Return the number, a negative zero as zero, also where it rounds to it; never a library's scalar."""
    return round(float(value), _LAST) + 0.0


def _key(step: str) -> str:
    return step if re.fullmatch(r"[A-Za-z0-9_-]+", step) else _literal(step)


def _index(node: Any, step: Step) -> Step:
    """Return the index of the table of that name in a list of tables; any other step as it is."""
    if isinstance(node, list) and isinstance(step, str):
        for index, entry in enumerate(node):
            name = entry.get("name") if isinstance(entry, dict) else None
            if isinstance(name, str) and name.strip() == step:
                return index
    return step


def _resolved(raw: Any, place: Place) -> Place:
    """Return a place with every name of an entry as its index."""
    steps: list[Step] = []
    for step in place:
        steps.append(_index(raw, step))
        raw = _inside(raw, steps[-1])
    return tuple(steps)


def _set(raw: Any, place: Place, value: Value) -> None:
    """Put a value into tables as TOML reads them, tables that are not there included."""
    node = raw
    for step, after in pairwise(place):
        step = _index(node, step)
        if isinstance(node, list) and isinstance(step, str):
            node.append({"name": step})
            node = node[-1]
        elif isinstance(node, dict) and step not in node:
            is_list = step == "part" and isinstance(after, str)
            node[step] = [] if is_list else {}
            node = node[step]
        else:
            node = node[step]
    node[place[-1]] = value


def _same(one: Any, two: Any) -> bool:
    """Return whether two readings are equal, a whole number equal to the same one with decimals."""
    if isinstance(one, dict) and isinstance(two, dict):
        return set(one) == set(two) and all(_same(one[key], two[key]) for key in one)
    if isinstance(one, list) and isinstance(two, list):
        return len(one) == len(two) and all(_same(a, b) for a, b in zip(one, two, strict=True))
    if isinstance(one, bool) or isinstance(two, bool):
        return one is two
    if isinstance(one, float | int) and isinstance(two, float | int):
        return one == two or abs(one - two) < 10.0**-_LAST
    return bool(one == two)


def _read(text: str, source: str) -> dict[str, Any]:
    from mockup.layout.parse import read_toml

    return read_toml(text, source)


def _refused(source: str, place: Place) -> InputError:
    words = " ".join(str(step) for step in place)
    what = f"{words} is written in a way that cannot be changed from here"
    return InputError(Fault(file=source, what=what, remedy="change it in the file itself"))
