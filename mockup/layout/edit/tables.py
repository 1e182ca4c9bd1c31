"""A layout as plain tables, as TOML reads it: what is found at a place, and the few changes that edits come down to.

A place is the way to something from the top of the file, through the variant's own table; one table of a list is named
by its number or by what tells it apart.
"""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from mockup.model.edit import Step
from mockup.model.enclosure import FACES
from mockup.model.units import Unit

Place = tuple[Step, ...]
MISSING: Any = object()
"""Stands for a value that is not there."""
LISTS = {
    "part": ("name",),
    "decal": ("face",),
    "label": ("text", "part"),
    "scale": ("part",),
    "border": ("face",),
    "kind": ("name",),
    "accept": ("check",),
    "credit": ("file",),
    "copy": ("serial",),
}
"""The lists of tables, and the keys that tell one table from the next; the last says what it belongs to."""
NAMED = ("part", "kind")
WHOLE = {"kind": "kinds", "accept": "accepted findings", "credit": "credits", "copy": "copies"}
"""The lists that the layout alone has, for every variant, and what they hold."""
_DECIMALS = 8  # numbers that agree so far are the same: far below anything that can be measured


@dataclass(frozen=True, kw_only=True)
class Put:
    """A key, or one value of a list, gets a value; a table comes into a list with the number that its place ends in.

    Tables and the list on the way are made. `source` is the place that the value is a copy of, comments included.
    """

    place: Place
    value: Any
    source: Place | None = None


@dataclass(frozen=True, kw_only=True)
class Delete:
    """A key, a table or one table of a list goes; a list that has nothing left goes with it."""

    place: Place


@dataclass(frozen=True, kw_only=True)
class Shift:
    """What stands at a place gets another key, or another number in its list."""

    place: Place
    to: Step


TableChange = Put | Delete | Shift


def units_of(raw: Mapping[str, Any]) -> Unit:
    """Return what plain numbers of a file are counted in."""
    return "in" if raw.get("units") == "in" else "mm"


def texts(table: Any, keys: Sequence[str]) -> list[str]:
    """Return what tells a table from the next, by some of its keys: text without blanks around it."""
    values = [table.get(key, FACES[0] if key == "face" else None) if isinstance(table, dict) else None for key in keys]
    return [value.strip() for value in values if isinstance(value, str)]


def index(tables: Any, step: Step, name: Step) -> Step:
    """Return the number of the table that a step names in a list called `name`; any other step as it is."""
    if isinstance(tables, list) and isinstance(step, str):
        keys = LISTS.get(str(name), ("name",))
        return next((number for number, each in enumerate(tables) if step in texts(each, keys)), step)
    return step


def resolved(raw: Any, place: Place) -> Place:
    """Return a place with every table of a list by its number."""
    steps: list[Step] = []
    for step in place:
        steps.append(index(raw, step, steps[-1] if steps else ""))
        raw = _inside(raw, steps[-1])
    return tuple(steps)


def found(raw: Any, place: Place) -> Any:
    """Return the value at a place, `MISSING` where there is none."""
    for step in resolved(raw, place):
        raw = _inside(raw, step)
    return raw


def count(raw: Any, place: Place) -> int:
    """Return how many tables the list at a place has, 0 where there is none."""
    listed = found(raw, place)
    return 0 if listed is MISSING else len(listed)


def _inside(node: Any, step: Step) -> Any:
    if isinstance(node, dict):
        return node.get(step, MISSING)
    return node[step] if isinstance(node, list) and isinstance(step, int) and -1 < step < len(node) else MISSING


def change(raw: dict[str, Any], made: TableChange) -> None:
    """Make a change in tables; its place must be there, tables of a list by number."""
    if isinstance(made, Delete):
        _delete(raw, made.place)
        return
    parent, step = _parent(raw, made.place), made.place[-1]
    if isinstance(made, Shift):
        value, step = parent.pop(step), made.to
    else:
        value = copy.deepcopy(made.value)
    if isinstance(step, int) and isinstance(value, Mapping):
        parent.insert(step, value)
    else:
        parent[step] = value


def _parent(raw: Any, place: Place) -> Any:
    """Return what holds the last step of a place; tables on the way are made, and the list for a number."""
    for step, after in pairwise(place):
        if isinstance(raw, dict) and step not in raw:
            raw[step] = [] if isinstance(after, int) else {}
        raw = raw[step]
    return raw


def _delete(raw: Any, place: Place) -> None:
    parent = found(raw, place[:-1])
    del parent[place[-1]]
    if isinstance(parent, list) and not parent:
        del found(raw, place[:-2])[place[-2]]


def same(one: Any, two: Any) -> bool:
    """Return whether two readings are equal, a whole number equal to the same one with decimals."""
    if isinstance(one, dict) and isinstance(two, dict):
        return set(one) == set(two) and all(same(one[key], two[key]) for key in one)
    if isinstance(one, list | tuple) and isinstance(two, list | tuple):
        return len(one) == len(two) and all(same(a, b) for a, b in zip(one, two, strict=True))
    if isinstance(one, bool) or isinstance(two, bool):
        return one is two
    if isinstance(one, float | int) and isinstance(two, float | int):
        return one == two or abs(one - two) < 10.0**-_DECIMALS
    return bool(one == two)
