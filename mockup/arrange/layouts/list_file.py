"""A list of controls as TOML: parts with the faces and places that are known of them, and groups that stay in order."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from typing import Any

from mockup.arrange.layouts.controls import (
    GROUP_KINDS,
    Control,
    Group,
    Pin,
    Wanted,
    control_faults,
    controls,
    count_faults,
    known_faces,
    lines,
)
from mockup.hardware import kinds
from mockup.layout.toml import read_toml
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.part import Kind
from mockup.model.units import parse_length

PART_KEYS = ("name", "kind", "face", "left", "right", "top", "bottom", "rotation")
GROUP_KEYS = ("kind", "parts")
PLACES = ("left", "right", "top", "bottom")


def wanted(text: str, source: str, own_kinds: Mapping[str, Kind] | None = None) -> Wanted:
    """Return the controls of a list file, TOML with ``[[part]]`` tables or NAME=KIND on each line.

    `own_kinds` are known beside those of the parts table. Raises `InputError` with one `Fault` per mistake.
    """
    known = {**kinds(), **(own_kinds or {})}
    if "[[" not in text:
        return controls(lines(text), source, known)
    raw = read_toml(text, source)
    faults = [*_key_faults(source, "the list", raw, ("part", "group")), *_table_faults(source, raw)]
    if faults:
        raise InputError(faults)
    found: list[Control] = []
    for table in raw.get("part", []):
        taken = [each.name for each in found]
        wrong = list(_part_faults(source, table, known, taken))
        faults += wrong
        if not wrong:
            found.append(_control(table, known))
    faults += count_faults(source, len(found), is_empty=not faults)
    if not faults:
        names = [each.name for each in found]
        faults += [fault for table in raw.get("group", []) for fault in _group_faults(source, table, names)]
        faults += _doubled(source, raw.get("group", []))
    if faults:
        raise InputError(faults)
    groups = tuple(Group(kind=each["kind"], names=tuple(each["parts"])) for each in raw.get("group", []))
    return Wanted(controls=tuple(found), groups=groups)


def _key_faults(source: str, where: str, table: Mapping[str, Any], known: tuple[str, ...]) -> Iterator[Fault]:
    for key in table:
        if key not in known:
            yield Fault(file=source, what=f"{where} has an unknown key {key!r}", remedy=nearest(key, known))


def _table_faults(source: str, raw: Mapping[str, Any]) -> Iterator[Fault]:
    for key in ("part", "group"):
        tables = raw.get(key, [])
        if not isinstance(tables, list) or not all(isinstance(each, dict) for each in tables):
            yield Fault(file=source, what=f"{key} is no list of tables", remedy=f"begin each with [[{key}]]")


def _part_faults(source: str, table: Mapping[str, Any], known: Mapping[str, Kind], taken: list[str]) -> Iterator[Fault]:
    name, kind = table.get("name"), table.get("kind")
    if not isinstance(name, str) or not name.strip() or not isinstance(kind, str):
        yield Fault(file=source, what="a part has no name or no kind", remedy='write name = "GAIN" and kind = "pot-16"')
        return
    yield from _key_faults(source, name, table, PART_KEYS)
    named = _face_names(table.get("face", []))
    if named is None:
        yield Fault(file=source, what=f"the face of {name} is no name", remedy='write face = "far", or a list of faces')
    yield from control_faults(source, name, kind, named or [], known, taken)
    for key in PLACES:
        if key in table and _length(table[key]) is None:
            remedy = f"write {key} = 20, in millimetres"
            yield Fault(file=source, what=f"{key} of {name} is no length", remedy=remedy)
    for one, other in (("left", "right"), ("top", "bottom")):
        if one in table and other in table:
            yield Fault(file=source, what=f"{name} has both {one} and {other}", remedy="keep one of the two")
    rotation = table.get("rotation", 0)
    if isinstance(rotation, bool) or not isinstance(rotation, int | float) or not abs(rotation) <= 360:
        yield Fault(file=source, what=f"rotation of {name} is no angle", remedy="write degrees, as in rotation = 90")
    if named is not None and len(named) > 1 and any(key in table for key in PLACES):
        remedy = "name the one face that the place is on"
        yield Fault(file=source, what=f"{name} is pinned and has several faces", remedy=remedy)


def _group_faults(source: str, table: Mapping[str, Any], names: list[str]) -> Iterator[Fault]:
    yield from _key_faults(source, "a group", table, GROUP_KEYS)
    kind, parts = table.get("kind"), table.get("parts")
    if kind not in GROUP_KINDS:
        remedy = f"write kind = one of {', '.join(GROUP_KINDS)}"
        yield Fault(file=source, what=f"a group has the kind {kind!r}", remedy=remedy)
        return
    if not isinstance(parts, list) or not all(isinstance(each, str) for each in parts) or len(parts) < 2:
        yield Fault(file=source, what=f"a {kind} names fewer than two parts", remedy='write parts = ["GAIN", "TONE"]')
        return
    for name in parts:
        if name not in names:
            yield Fault(file=source, what=f"a {kind} names an unknown part {name!r}", remedy=nearest(name, names))
    if kind in ("pair", "over") and len(parts) != 2:
        yield Fault(file=source, what=f"a {kind} names {len(parts)} parts", remedy="name two")
    if len(set(parts)) != len(parts):
        yield Fault(file=source, what=f"a {kind} names a part twice", remedy="name each once")


def _doubled(source: str, groups: list[Mapping[str, Any]]) -> Iterator[Fault]:
    """Yield parts that two groups of one kind name: they cannot both be obeyed, or say one thing twice."""
    for kind in GROUP_KINDS:
        alike = [each["parts"] for each in groups if each.get("kind") == kind and isinstance(each.get("parts"), list)]
        seen: set[str] = set()
        for name in itertools.chain.from_iterable(alike):
            if name in seen:
                what = f"{name} is in two groups of the kind {kind}"
                yield Fault(file=source, what=what, remedy="keep one of them")
            seen.add(name)


def _face_names(value: Any) -> list[str] | None:
    named = [value] if isinstance(value, str) else value
    return named if isinstance(named, list) and all(isinstance(each, str) for each in named) else None


def _length(value: Any) -> float | None:
    try:
        return parse_length(value, "mm")
    except ValueError:
        return None


def _control(table: Mapping[str, Any], known: Mapping[str, Kind]) -> Control:
    places = {key: _length(table[key]) for key in PLACES if key in table}
    turn = table.get("rotation")
    return Control(
        name=table["name"],
        kind=known[table["kind"]],
        faces=known_faces(_face_names(table.get("face", [])) or []),
        pin=Pin(**places) if places else None,
        turn_deg=None if turn is None else float(turn) % 360.0,
    )
