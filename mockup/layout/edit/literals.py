"""Values as TOML text: in the style of the one they replace, or plain."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

_NUMBER = re.compile(r"[+-]?\d[\d_]*(?:\.(?P<decimals>[\d_]+))?")
_DECIMALS = 8  # far below anything that can be measured


def styled(before: str, value: Any) -> str:
    """Return a value as TOML text in the style of the text that it replaces: its decimals, its quotes."""
    if isinstance(value, str):
        is_plain = before.startswith("'") and not before.startswith("'''") and "'" not in value and value.isprintable()
        return f"'{value}'" if is_plain else literal(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return literal(value)
    match = _NUMBER.fullmatch(before)
    decimals = len((match["decimals"] or "").replace("_", "")) if match else 0
    needed = literal(value).partition(".")[2]
    is_whole = match is not None and match["decimals"] is None and needed in ("", "0")
    if is_whole:
        return f"{value + 0.0:.0f}"
    return f"{_zeroed(value):.{max(decimals, len(needed), 1)}f}"


def literal(value: Any) -> str:
    """Return a value as TOML text on one line: numbers with at most eight decimals, text in double quotes."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, Mapping):
        inside = ", ".join(f"{key(name)} = {literal(each)}" for name, each in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(literal(each) for each in value)}]"
    if isinstance(value, int):
        return str(value)
    text = f"{_zeroed(value):.{_DECIMALS}f}".rstrip("0")
    return text[:-1] if text.endswith(".") else text


def key(name: str) -> str:
    """Return a key as TOML text, in quotes where it needs them."""
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else literal(name)


def dotted(*names: str) -> str:
    """Return keys joined by dots, as a header holds them."""
    return ".".join(key(name) for name in names)


def _zeroed(value: float) -> float:
    """Return the number, a negative zero as zero, also where it rounds to it; never a library's scalar."""
    return round(float(value), _DECIMALS) + 0.0
