"""A layout with single keys set to other values, as a sweep over paints or sizes wants it.

A key is written as the way to it in the file: ``finish.paint``, ``box.size``, ``decal.film`` (every decal),
``decal.2.width`` or ``decal.near.film``, ``part.TONE.left``, ``part.*.knob.style`` (every part that takes it),
``lettering.size``, ``label.TONE.colour``, ``scale.TONE.marks``, ``border.1.line``, ``limits.wander_mm``. A name
with a dot in it is put in quotes. The changed tables go through the same checks as the file itself.
"""

from __future__ import annotations

import copy
import tomllib
import typing
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from typing import Annotated, Any

from pydantic import TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from mockup import hardware
from mockup.layout.edit.variants import INSTEAD
from mockup.layout.fields import Table
from mockup.layout.parse import Layout, checked
from mockup.layout.schema import LayoutFile, context
from mockup.model.enclosure import FACES
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.part import Kind

EVERY = "*"
ARRAYS = {"part": ("name",), "kind": ("name",), "decal": ("face",), "label": ("text", "part"), "scale": ("part",)}
"""The arrays of tables, and the keys that tell one entry from the next besides its number."""
_NUMBERED = (*ARRAYS, "border")
_DECAL_SIZES = {"dpi": ("width", "height"), "width": ("dpi",), "height": ("dpi",)}
_FIXED = ("units", "variants")  # one says how to read the others, the other is chosen with --variant


@dataclass(frozen=True, kw_only=True)
class Change:
    """One key set to one value, both as written; `origin` says where they were written, for messages."""

    key: str
    value: str
    origin: str

    @property
    def fault(self) -> Fault:
        """Return a fault of this change with nothing said yet."""
        return Fault(file=self.origin, what="")


@dataclass(frozen=True, kw_only=True)
class _Target:
    """A key found in the schema: its array (if any) and entry, and the way to it inside the table."""

    table: str
    entry: str | None
    way: tuple[str, ...]
    field: FieldInfo


def laid(layout: Layout, variant: str | None, changes: Sequence[Change]) -> Layout:
    """Return the layout with changes made to one variant of it (None: to the file itself).

    Other variants are left out. Raises `InputError` that names each change which the layout does not take,
    in the words of the file's own checks.
    """
    raw = copy.deepcopy({key: value for key, value in layout.raw.items() if key != "variants"})
    if variant is not None:
        raw["variants"] = {variant: copy.deepcopy(dict(layout.raw["variants"][variant]))}
    faults: list[Fault] = []
    for change in changes:
        try:
            _lay(raw, layout, variant, change)
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    own = [kind for name, kind in layout.kinds.items() if name not in {*hardware.kinds(), *_own_names(layout.raw)}]
    with blaming(changes):
        return checked(raw, layout.source, layout.lines, own)


@contextmanager
def blaming(changes: Sequence[Change]) -> Iterator[None]:
    """Name the mistakes of a changed layout by the changes that brought them about."""
    try:
        yield
    except InputError as error:
        raise _blamed(error, changes) from None


def _blamed(error: InputError, changes: Sequence[Change]) -> InputError:
    where = ", ".join(dict.fromkeys(change.origin for change in changes))
    last = {change.key.rpartition(".")[2] for change in changes}
    return InputError(
        replace(each, file=where, table="", key="")
        if each.key.rpartition(".")[2] in last
        else replace(each, file=where)
        for each in error.faults
    )


def listed(text: str) -> list[str]:
    """Return the values of a list written with commas; commas in quotes, brackets and braces belong to a value."""
    found, depth, quote = [""], 0, ""
    for letter in text:
        if quote:
            quote = "" if letter == quote else quote
        elif letter in "\"'":
            quote = letter
        depth += (letter in "[{(") - (letter in "]})") if not quote else 0
        if letter == "," and depth == 0 and not quote:
            found.append("")
        else:
            found[-1] += letter
    return [each.strip() for each in found]


def _lay(raw: dict[str, Any], layout: Layout, variant: str | None, change: Change) -> None:
    target = _found(change)
    value = _value(target, change, layout)
    base, place = layout.raw, raw if variant is None or target.table == "kind" else raw["variants"][variant]
    if target.table not in _NUMBERED:
        _put(place, (target.table, *target.way), value)
        return
    entries = _entries(place, base, target.table, is_variant=place is not raw)
    chosen = list(_chosen(entries, target, layout, change))
    if place is not raw and target.table == "part":
        chosen = [_own_change(place, entry["name"]) for entry in chosen]
    elif place is not raw:
        place[target.table] = entries
    for entry in chosen:
        _put(entry, target.way, value)


def _put(table: dict[str, Any], way: tuple[str, ...], value: Any) -> None:
    """Set a key, and take away what contradicts it, as a variant would."""
    for step in way[:-1]:
        table = table.setdefault(step, {})
    instead = _DECAL_SIZES if "art" in table and way[-1] in _DECAL_SIZES else INSTEAD
    for other in instead.get(way[-1], ()) if way[-1] != "size" or way[0] == "box" else ():
        table.pop(other, None)
    table[way[-1]] = value


def _entries(place: dict[str, Any], base: Mapping[str, Any], array: str, *, is_variant: bool) -> list[dict[str, Any]]:
    """Return the entries of an array as this version has them; for a variant, a list of its own to be put in place."""
    if not is_variant:
        return list(place.get(array, ()))
    own: list[dict[str, Any]] | None = place.get(array)
    before: list[dict[str, Any]] = copy.deepcopy(list(base.get(array, ())))
    if array == "part":
        changed = {entry["name"]: entry for entry in own or ()}
        gone = {name for name, entry in changed.items() if entry.get("remove")}
        merged = [{**entry, **changed.get(entry["name"], {})} for entry in before if entry["name"] not in gone]
        known = {entry["name"] for entry in before}
        return merged + [entry for name, entry in changed.items() if name not in known]
    if own is None:
        gone = {entry["name"] for entry in place.get("part", ()) if entry.get("remove")}
        return [entry for entry in before if entry.get("part") not in gone]
    if array == "decal" and own:
        faces = {entry.get("face", FACES[0]) for entry in own}
        return [entry for entry in before if entry.get("face", FACES[0]) not in faces] + own
    return list(own)


def _own_change(place: dict[str, Any], name: str) -> dict[str, Any]:
    """Return the variant's own change of a part, started if there is none."""
    parts: list[dict[str, Any]] = place.setdefault("part", [])
    for entry in parts:
        if entry["name"] == name:
            return entry
    parts.append({"name": name})
    return parts[-1]


def _chosen(entries: list[dict[str, Any]], target: _Target, layout: Layout, change: Change) -> Iterator[dict[str, Any]]:
    keys = ARRAYS.get(target.table, ())
    if not entries:
        raise _wrong(change, f"there is no [[{target.table}]] to set it on", f"the layout has no {target.table} table")
    if target.entry == EVERY:
        takes = [each for each in entries if target.table != "part" or _takes(layout.kinds[each["kind"]], target.way)]
        if not takes:
            raise _wrong(change, f"no part takes {'.'.join(target.way)!r}", "name a part that does")
        yield from takes
        return
    names: dict[str, list[dict[str, Any]]] = {}
    for number, entry in enumerate(entries, 1):
        own = [entry.get(key, FACES[0] if key == "face" else None) for key in keys]
        for name in dict.fromkeys((*(each.strip() for each in own if isinstance(each, str)), str(number))):
            names.setdefault(name, []).append(entry)
    plain = {name.casefold(): name for name in reversed(names)}
    chosen = names.get(target.entry or "") or names.get(plain.get((target.entry or "").casefold(), ""))
    if chosen is None:
        shown = [name for name in names if not name.isdigit()] or list(names)
        what = f"there is no {target.table} {target.entry!r} in {layout.source}"
        raise _wrong(change, what, nearest(target.entry or "", shown))
    yield from chosen


def _takes(kind: Kind, way: tuple[str, ...]) -> bool:
    if way[0] == "knob":
        return kind.shaft is not None
    if way[0] in ("colour", "lit"):
        return kind.is_lamp
    return way[0] != "depth" or kind.mount == "inside"


def _found(change: Change) -> _Target:
    """Return what a key names; raises `InputError` with the nearest key where it names nothing."""
    steps = _steps(change)
    tables = [name for name in LayoutFile.model_fields if name not in _FIXED]
    if steps[0] not in tables:
        starts = [*tables, *(f"{name}.{key}" for name in ("box", "finish") for key in _keys(LayoutFile, name))]
        raise _wrong(change, f"there is no key {change.key!r}", _nearest_key(change.key, starts))
    table, rest, entry = steps[0], steps[1:], None
    field = LayoutFile.model_fields[table]
    model = _table_of(field)
    if table in _NUMBERED:
        assert model is not None
        if table not in ("part", "kind", "label", "scale") and len(rest) == 1:
            entry = EVERY
        elif len(rest) >= 2:
            entry, rest = rest[0], rest[1:]
        else:
            raise _wrong(change, f"{change.key!r} names no key of a {table}", f"write for example {_example(table)}")
    way: list[str] = []
    for step in rest:
        if model is None or step not in model.model_fields:
            known = list(model.model_fields) if model is not None else []
            before = ".".join((*steps[: len(steps) - len(rest)], *way))
            remedy = _nearest_key(step, known) if known else "it holds a single value"
            raise _wrong(change, f"there is no key {step!r} in {before}", remedy)
        field = model.model_fields[step]
        model = _table_of(field)
        way.append(step)
    if model is not None:
        keys = ", ".join(list(model.model_fields)[:4])
        raise _wrong(change, f"{change.key!r} is a table", f"name a key in it, such as {keys}")
    return _Target(table=table, entry=entry, way=tuple(way), field=field)


def _value(target: _Target, change: Change, layout: Layout) -> Any:
    """Return the value as TOML would give it: the first reading that the schema takes, else the plain text."""
    readings: list[Any] = [change.value]
    with suppress(ValueError, RecursionError):
        readings.insert(0, tomllib.loads(f"value = {change.value}")["value"])
    told: Any = target.field.annotation
    for each in target.field.metadata:
        told = Annotated[told, each]
    adapter: TypeAdapter[Any] = TypeAdapter(told)
    for reading in readings:
        try:
            adapter.validate_python(reading, strict=True, context=context(layout.file.units))
        except ValidationError:
            continue
        return reading
    return readings[0]


def _steps(change: Change) -> list[str]:
    found, quote = [""], ""
    for letter in change.key.strip():
        if quote or letter in "\"'":
            quote, letter = ("", "") if letter == quote else (quote or letter, letter if quote else "")
            found[-1] += letter
        elif letter == ".":
            found.append("")
        else:
            found[-1] += letter
    steps = [each.strip() for each in found]
    if not all(steps):
        raise _wrong(change, f"{change.key!r} is no key", "write the way to it, such as finish.paint")
    return steps


def _keys(model: type[Table], table: str) -> tuple[str, ...]:
    inner = _table_of(model.model_fields[table])
    return tuple(inner.model_fields) if inner is not None else ()


def _table_of(field: FieldInfo) -> type[Table] | None:
    return _within(field.annotation)


def _within(annotation: Any) -> type[Table] | None:
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    return next((found for each in typing.get_args(annotation) if (found := _within(each)) is not None), None)


def _own_names(raw: Mapping[str, Any]) -> Iterable[str]:
    return [str(entry.get("name", "")).strip() for entry in raw.get("kind", ()) if isinstance(entry, dict)]


def _example(table: str) -> str:
    return {"part": "part.TONE.left", "kind": "kind.NAME.about", "scale": "scale.TONE.marks"}.get(
        table, f"{table}.TONE.colour"
    )


def _nearest_key(key: str, known: Iterable[str]) -> str:
    listed = list(known)
    bare = {name.rpartition(".")[2]: name for name in listed if "." in name}
    if key in bare:
        return f"did you mean {bare[key]!r}?"
    return nearest(key, listed)


def _wrong(change: Change, what: str, remedy: str) -> InputError:
    return InputError(replace(change.fault, what=what, remedy=remedy))
