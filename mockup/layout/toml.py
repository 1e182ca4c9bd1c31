"""TOML text to plain tables, within limits that no layout comes near, and the reader's mistakes in plain words."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from mockup.model.errors import Fault, InputError
from mockup.model.text import uncapitalized

# Far above any pedal, and low enough that a file past them is refused within a second: our choice.
MAX_CHARACTERS = 500_000
MAX_TABLES = 5_000
MAX_KEYS = 10_000
MAX_STEPS = 32  # of one dotted key, and of tables in each other

_KEY = r"""(?:(?<![^\s.=,{\[])[^\s.="',{}\[\]]++|"(?:\\.|[^"\\\n]){0,200}+"|'[^'\n]{0,200}+')"""
_LONG_KEY = re.compile(rf"{_KEY}(?:[ \t]*+\.[ \t]*+{_KEY}){{{MAX_STEPS}}}")
"""A key of too many steps, told before the reader sees it: it takes 20 s over one of 20 000."""

_COMMA = re.compile(r"=\s*([+-]?\d+,\d+)\s*(?:[,}#\r]|$)")
_PLAIN = {
    "Invalid value": "this is not a value that TOML knows (text needs quotes)",
    "Illegal character '\\n'": "the quotes are not closed on this line",
    "Cannot overwrite a value": "this key is given twice",
    "Cannot declare": "this table is written twice",
    "Unescaped '\\' in a string": 'a backslash in text has to be doubled (between folders write "/")',
}
"""The reader's messages, by how they start, in words that help a builder."""


def read_toml(text: str, source: str) -> dict[str, Any]:
    """Return the tables of a TOML text; raises `InputError` that names line and column where it is none."""
    if len(text) > MAX_CHARACTERS:
        said = f"is {len(text)} characters long; the limit is {MAX_CHARACTERS}"
        raise InputError(Fault(file=source, what=said, remedy="take out what does not belong there"))
    if _LONG_KEY.search(text):
        what = f"a dotted key has more than {MAX_STEPS} steps"
        raise InputError(Fault(file=source, what=what, remedy="no key that is read here has more than four"))
    try:
        raw = tomllib.loads(text)
    except RecursionError:
        raise _too_deep(source) from None
    except ValueError as error:
        raise InputError(_syntax_fault(str(error), text, source)) from None
    _require_bounded(raw, source)
    return raw


def _syntax_fault(message: str, text: str, source: str) -> Fault:
    match = re.match(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)$", message, re.DOTALL)
    what = match[1] if match else "a number is too long to read"
    what = next((plain for start, plain in _PLAIN.items() if what.startswith(start)), what)
    line, column = (match[2], match[3]) if match else (None, None)
    if line is None and match:
        rows = text.split("\n")
        line, column = str(len(rows)), str(len(rows[-1]) + 1)
    comma = _COMMA.search(text.split("\n")[int(line) - 1]) if line else None
    if comma:
        what, remedy = f"line {line}: {comma[1]} has a decimal comma", f"write {comma[1].replace(',', '.')}"
        return Fault(file=source, what=what, remedy=remedy)
    place = f"line {line}, column {column}: " if line else ""
    return Fault(file=source, what=f"{place}not valid TOML: {uncapitalized(what)}", remedy="correct that line first")


def _require_bounded(raw: dict[str, Any], source: str) -> None:
    """Raise `InputError` where there is more in a file than anything that is read here holds."""
    keys = tables = 0
    waiting: list[tuple[int, Any]] = [(0, raw)]
    while waiting:
        depth, value = waiting.pop()
        if depth > MAX_STEPS:
            raise _too_deep(source)
        if isinstance(value, dict):
            tables += 1
            keys += len(value)
            waiting += [(depth + 1, each) for each in value.values()]
        elif isinstance(value, list):
            waiting += [(depth + 1, each) for each in value]
    for count, limit, what in ((tables, MAX_TABLES, "tables"), (keys, MAX_KEYS, "keys")):
        if count > limit:
            said = f"holds {count} {what}; the limit is {limit}"
            raise InputError(Fault(file=source, what=said, remedy="take out what does not belong there"))


def _too_deep(source: str) -> InputError:
    return InputError(Fault(file=source, what="lists or tables are nested too deeply"))
