"""Where things stand in a TOML file, and what a builder calls that place."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mockup.layout.edit.syntax import elements
from mockup.layout.edit.tables import found
from mockup.layout.fields import Loc, describe

_TITLES = (
    "name",
    "text",
    "part",
    "file",
    "serial",
)  # what tells one entry of an array from the next: the first of these it has
_LAST = 1 << 30  # sorts behind everything that stands in the file


def table_lines(text: str) -> dict[Loc, int]:
    """Return the line (from 1) of every table header in a valid TOML text, by location."""
    headers = [each for each in elements(text) if each.is_header]
    return {each.loc: text.count("\n", 0, each.span[0]) + 1 for each in reversed(headers)}


def order(loc: Loc, raw: Any, lines: Mapping[Loc, int]) -> tuple[int, ...]:
    """Return a key that sorts locations as they stand in the file; what is missing comes last in its table."""
    around = [place for end in range(len(loc), 0, -1) for place in (loc[:end], (*loc[:end], 0)) if place in lines]
    line = lines[around[0]] if around else 0
    path: list[int] = []
    for step in loc:
        if isinstance(raw, dict):
            keys = list(raw)
            path.append(keys.index(step) if step in raw else _LAST)
            raw = raw.get(step)
        elif isinstance(raw, list) and isinstance(step, int):
            path.append(step)
            raw = raw[step] if step < len(raw) else None
        else:
            break
    if line == 0 and len(path) == 1 and path[0] == _LAST:
        line = _LAST  # a whole table is missing
    return (line, *path)


def named(loc: Loc, raw: Any) -> tuple[str, str]:
    """Return the table as the builder wrote it, such as ``[[part]] "TONE"``, and the key inside it."""
    prefix, rest, node = "", loc, raw
    if loc[:1] == ("variants",) and len(loc) > 1:
        prefix, rest = f"variants.{loc[1]}", loc[2:]
        node = found(raw, loc[:2])
        if not rest:
            return f"[{prefix}]", ""
    value = node.get(rest[0]) if isinstance(node, dict) else None
    path = f"{prefix}.{rest[0]}" if prefix else str(rest[0])
    if len(rest) > 1 and isinstance(rest[1], int):
        entry = found(value, rest[1:2])
        names = [entry.get(key) for key in _TITLES] if isinstance(entry, dict) else []
        title = next((describe(name) for name in names if isinstance(name, str) and name.strip()), str(rest[1] + 1))
        return f"[[{path}]] {title}", key_text(rest[2:])
    if isinstance(value, list):
        return f"[[{path}]]", ""
    if isinstance(value, dict) or rest[0] in ("box", "finish", "variants"):
        return f"[{path}]", key_text(rest[1:])
    return (f"[{prefix}]" if prefix else ""), key_text(rest)


def key_text(loc: Loc) -> str:
    """Return the way to a key inside its table: ``knob.diameter``, or ``above 1, material``."""
    text = ""
    for before, step in zip((None, *loc), loc, strict=False):
        if isinstance(step, int):
            text += f" {step + 1}"
        elif before is None:
            text = step
        else:
            text += f", {step}" if isinstance(before, int) else f".{step}"
    return text
