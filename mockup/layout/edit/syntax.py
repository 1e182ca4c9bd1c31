"""Where every table, key and value of a TOML text stands: TOML 1.0.0 (toml.io), of a text that is known to be valid.

Positions count characters from 0; a span is (start, end) with `end` behind the last character.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Loc = tuple[str | int, ...]
Span = tuple[int, int]
_SPACE = re.compile(r"[ \t]*")
_GAP = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")  # what may stand between two values of a list
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_QUOTED = re.compile(
    r'"""(?:[^\\]|\\.)*?"""(?:"{0,2}(?!"))|\'\'\'.*?\'\'\'(?:\'{0,2}(?!\'))|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'', re.DOTALL
)
_PLAIN = re.compile(r"[^,\]}#\r\n]+")  # a number, a date, a truth value


@dataclass(frozen=True, kw_only=True)
class Element:
    """One header, one key with its value, or one value of a list.

    `loc` is the way to it from the top, tables of a list by number; `home` the way to the table that it is written
    in. `span` holds all of it, on its own lines or within its brackets; `keys` the written steps of its way, each with
    its number in `loc`; `value` what stands behind the sign, None for a header.
    """

    sort: Literal["table", "list", "key", "inner"]
    loc: Loc
    home: Loc
    span: Span
    keys: tuple[tuple[int, Span], ...] = ()
    value: Span | None = None

    @property
    def is_header(self) -> bool:
        """Whether it opens a table: ``[box]`` or ``[[part]]``."""
        return self.sort in ("table", "list")


def elements(text: str) -> tuple[Element, ...]:
    """Return everything that a text gives, in its order.

    The span of a header or a key on a line of its own is that whole line (or lines), its end included. Raises
    `ValueError` for what cannot be read; that a text is valid TOML in full is not checked here.
    """
    try:
        return tuple(_elements(text))
    except IndexError:
        raise ValueError("the text ends too early") from None


def _elements(text: str) -> Iterator[Element]:
    home: Loc = ()
    counts: dict[Loc, int] = {}
    at = _end(_GAP, text, 0)
    while at < len(text):
        start = text.rfind("\n", 0, at) + 1
        if text[at] == "[":
            is_list = text.startswith("[[", at)
            keys, at = _keys(text, at + 1 + is_list)
            home, written = _header(keys, counts, is_list=is_list)
            sort: Literal["table", "list"] = "list" if is_list else "table"
            at = _line_end(text, at)
            yield Element(sort=sort, loc=home, home=home, span=(start, at), keys=written)
        else:
            keys, at = _keys(text, at)
            at = _end(_SPACE, text, at + 1)
            loc = (*home, *(key for key, _ in keys))
            inner: list[Element] = []
            end = _value(text, at, loc, inner)
            written = tuple((len(home) + number, span) for number, (_, span) in enumerate(keys))
            line_end = _line_end(text, end)
            yield Element(sort="key", loc=loc, home=home, span=(start, line_end), keys=written, value=(at, end))
            yield from inner
            at = line_end
        at = _end(_GAP, text, at)


def _header(
    keys: list[tuple[str, Span]], counts: dict[Loc, int], *, is_list: bool
) -> tuple[Loc, tuple[tuple[int, Span], ...]]:
    """Return the way to the table that a header opens, and which of its steps are written."""
    loc: Loc = ()
    written = []
    for number, (key, span) in enumerate(keys):
        written.append((len(loc), span))
        loc = (*loc, key)
        if number < len(keys) - 1 and loc in counts:
            loc = (*loc, counts[loc] - 1)
    if is_list:
        counts[loc] = counts.get(loc, 0) + 1
        loc = (*loc, counts[loc] - 1)
    return loc, tuple(written)


def _keys(text: str, at: int) -> tuple[list[tuple[str, Span]], int]:
    """Return the keys of a dotted key from a position, each with its span, and where it ends."""
    found: list[tuple[str, Span]] = []
    while True:
        at = _end(_SPACE, text, at)
        match = _BARE.match(text, at) or _QUOTED.match(text, at)
        if match is None:
            raise ValueError(f"no key at {at}")
        key = match[0] if match[0][0] not in "\"'" else tomllib.loads(f"key = {match[0]}")["key"]
        found.append((key, match.span()))
        at = _end(_SPACE, text, match.end())
        if text[at] != ".":
            return found, at
        at += 1


def _value(text: str, at: int, loc: Loc, inner: list[Element]) -> int:
    """Return where the value at a position ends; what is inside it is added to `inner`."""
    if text[at] in "[{":
        return _inside(text, at, loc, inner)
    if text[at] in "\"'":
        return _end(_QUOTED, text, at)
    return at + len(text[at : _end(_PLAIN, text, at)].rstrip())


def _inside(text: str, at: int, loc: Loc, inner: list[Element]) -> int:
    is_list, number = text[at] == "[", 0
    at = _end(_GAP, text, at + 1)
    while text[at] not in "]}":
        start = at
        written: tuple[tuple[int, Span], ...] = ()
        if is_list:
            own: Loc = (*loc, number)
        else:
            keys, at = _keys(text, at)
            own = (*loc, *(key for key, _ in keys))
            written = tuple((len(loc) + step, span) for step, (_, span) in enumerate(keys))
            at = _end(_SPACE, text, at + 1)
        place = len(inner)
        end = _value(text, at, own, inner)
        inner.insert(place, Element(sort="inner", loc=own, home=loc, span=(start, end), keys=written, value=(at, end)))
        number += 1
        at = _end(_GAP, text, end)
        if text[at] == ",":
            at = _end(_GAP, text, at + 1)
    return at + 1


def _end(pattern: re.Pattern[str], text: str, at: int) -> int:
    match = pattern.match(text, at)
    if match is None:
        raise ValueError(f"no value at {at}")
    return match.end()


def _line_end(text: str, at: int) -> int:
    """Return where the line after a position begins."""
    end = text.find("\n", at)
    return len(text) if end < 0 else end + 1
