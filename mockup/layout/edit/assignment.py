"""Single keys of a layout set to other values, as a sweep over paints or sizes wants it: ``KEY=VALUE``.

A key is written as the way to it in the file: ``finish.paint``, ``box.size``, ``decal.film`` (every decal),
``decal.2.width`` or ``decal.near.film``, ``part.TONE.left``, ``part.*.knob.style`` (every part that takes it),
``lettering.size``, ``label.TONE.colour``, ``scale.TONE.marks``, ``border.1.line``, ``limits.wander_mm``. A name
with a dot in it is put in quotes. The changed tables go through the same checks as the file itself.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from typing import Annotated, Any

from pydantic import TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from mockup import hardware
from mockup.layout.edit.plan import Plan
from mockup.layout.edit.tables import LISTS, texts
from mockup.layout.edit.variants import shown
from mockup.layout.fields import table_within
from mockup.layout.parse import Layout, checked
from mockup.layout.schema import BoxTable, FinishTable, LayoutFile, context
from mockup.model.edit import Address, PutValue
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.part import Kind

EACH = "*"
"""Stands for every table of a list that takes the key."""
_FIXED = ("units", "variants")  # one says how to read the others, the other is chosen with --variant


@dataclass(frozen=True, kw_only=True)
class Assignment:
    """One key and its new value, both as written; `origin` says where they were written, for messages."""

    key: str
    value: str
    origin: str

    @property
    def fault(self) -> Fault:
        """Return a fault of this assignment with nothing said yet."""
        return Fault(file=self.origin, what="")


@dataclass(frozen=True, kw_only=True)
class _Target:
    """A key found in the schema: its list of tables (if any) and which of them, and the way to it inside the table."""

    table: str
    entry: str | None
    way: tuple[str, ...]
    field: FieldInfo


def assign(layout: Layout, variant: str | None, assignments: Sequence[Assignment]) -> Layout:
    """Return the layout with keys set in one variant of it (None: in the layout itself).

    Other variants are left out. Raises `InputError` that names each assignment which the layout does not take,
    in the words of the file's own checks.
    """
    raw = {key: value for key, value in layout.raw.items() if key != "variants"}
    if variant is not None:
        raw["variants"] = {variant: layout.raw["variants"][variant]}
    plan = Plan(raw, layout.source)
    faults: list[Fault] = []
    for each in assignments:
        try:
            _assign(plan, layout, variant, each)
        except InputError as error:
            faults += [replace(fault, file=each.origin) for fault in error.faults]
    if faults:
        raise InputError(faults)
    inside = {*hardware.kinds(), *(each.name for each in layout.file.kind)}
    own = [kind for name, kind in layout.kinds.items() if name not in inside]
    with fault_origin(assignments):
        return checked(plan.raw, layout.source, layout.lines, own)


@contextmanager
def fault_origin(assignments: Sequence[Assignment]) -> Iterator[None]:
    """Name the mistakes of a changed layout by the assignments that brought them about."""
    try:
        yield
    except InputError as error:
        where = ", ".join(dict.fromkeys(each.origin for each in assignments))
        last = {each.key.rpartition(".")[2] for each in assignments}
        raise InputError(
            replace(fault, file=where, table="", key="")
            if fault.key.rpartition(".")[2] in last
            else replace(fault, file=where)
            for fault in error.faults
        ) from None


def split_values(text: str) -> list[str]:
    """Return the values of a list written with commas; commas in quotes, brackets and braces belong to a value."""
    return _split(text, ",", opening="[{(", closing="]})")


def _split(text: str, mark: str, opening: str = "", closing: str = "") -> list[str]:
    """Return what stands between the marks in a text, but for marks in quotes and brackets."""
    found, depth, quote = [""], 0, ""
    for letter in text:
        if quote:
            quote = "" if letter == quote else quote
        elif letter in "\"'":
            quote = letter
        depth += (letter in opening) - (letter in closing) if not quote else 0
        if letter == mark and depth == 0 and not quote:
            found.append("")
        else:
            found[-1] += letter
    return [each.strip() for each in found]


def _assign(plan: Plan, layout: Layout, variant: str | None, assignment: Assignment) -> None:
    target = _found(assignment)
    value = _value(target, assignment, layout)
    where = None if target.table == "kind" else variant
    if target.table not in LISTS:
        plan.make(PutValue(address=Address(way=(target.table, *target.way), variant=where), value=value))
        return
    tables = shown(plan.raw, where).get(target.table, [])
    for number in list(_chosen(tables, target, layout, assignment)):
        address = Address(way=(target.table, number), variant=where).inside(*target.way)
        plan.make(PutValue(address=address, value=value))


def _chosen(
    tables: Sequence[Mapping[str, Any]], target: _Target, layout: Layout, assignment: Assignment
) -> Iterator[int]:
    """Yield the numbers, from 0, of the tables that a key names: all that take it, or those of that name or number."""
    name = target.entry or ""
    if not tables:
        raise _wrong(
            assignment, f"there is no [[{target.table}]] to set it on", f"the layout has no {target.table} table"
        )
    if name == EACH:
        takes = [
            number
            for number, each in enumerate(tables)
            if target.table != "part" or _takes(layout.kinds[each["kind"]], target.way)
        ]
        if not takes:
            raise _wrong(assignment, f"no part takes {'.'.join(target.way)!r}", "name a part that does")
        yield from takes
        return
    names: dict[str, list[int]] = {}
    for number, each in enumerate(tables):
        for known in dict.fromkeys((*texts(each, LISTS[target.table]), str(number + 1))):
            names.setdefault(known, []).append(number)
    plain = {known.casefold(): known for known in reversed(names)}
    chosen = names.get(name) or names.get(plain.get(name.casefold(), ""))
    if chosen is None:
        shown = [known for known in names if not known.isdigit()] or list(names)
        raise _wrong(assignment, f"there is no {target.table} {name!r} in {layout.source}", nearest(name, shown))
    yield from chosen


def _takes(kind: Kind, way: tuple[str, ...]) -> bool:
    if way[0] == "knob":
        return kind.shaft is not None
    if way[0] in ("colour", "lit"):
        return kind.is_lamp
    return way[0] != "depth" or kind.mount == "inside"


def _found(assignment: Assignment) -> _Target:
    """Return what a key names; raises `InputError` with the nearest key where it names nothing."""
    steps = _steps(assignment)
    tables = [name for name in LayoutFile.model_fields if name not in _FIXED]
    if steps[0] not in tables:
        inside = [
            *(f"box.{key}" for key in BoxTable.model_fields),
            *(f"finish.{key}" for key in FinishTable.model_fields),
        ]
        starts = [*tables, *inside]
        raise _wrong(assignment, f"there is no key {assignment.key!r}", _nearest_key(assignment.key, starts))
    table, rest, entry = steps[0], steps[1:], None
    field = LayoutFile.model_fields[table]
    model = table_within(field.annotation)
    if table in LISTS:
        assert model is not None
        if table not in ("part", "kind", "label", "scale") and len(rest) == 1:
            entry = EACH
        elif len(rest) >= 2:
            entry, rest = rest[0], rest[1:]
        else:
            raise _wrong(
                assignment, f"{assignment.key!r} names no key of a {table}", f"write for example {_example(table)}"
            )
    way: list[str] = []
    for step in rest:
        if model is None or step not in model.model_fields:
            known = list(model.model_fields) if model is not None else []
            before = ".".join((*steps[: len(steps) - len(rest)], *way))
            remedy = _nearest_key(step, known) if known else "it holds a single value"
            raise _wrong(assignment, f"there is no key {step!r} in {before}", remedy)
        field = model.model_fields[step]
        model = table_within(field.annotation)
        way.append(step)
    if model is not None:
        keys = ", ".join(list(model.model_fields)[:4])
        raise _wrong(assignment, f"{assignment.key!r} is a table", f"name a key in it, such as {keys}")
    return _Target(table=table, entry=entry, way=tuple(way), field=field)


def _value(target: _Target, assignment: Assignment, layout: Layout) -> Any:
    """Return the value as TOML would give it: the first reading that the schema takes, else the plain text."""
    readings: list[Any] = [assignment.value]
    with suppress(ValueError, RecursionError):
        readings.insert(0, tomllib.loads(f"value = {assignment.value}")["value"])
    annotation: Any = target.field.annotation
    for each in target.field.metadata:
        annotation = Annotated[annotation, each]
    adapter: TypeAdapter[Any] = TypeAdapter(annotation)
    for reading in readings:
        try:
            adapter.validate_python(reading, strict=True, context=context(layout.file.units))
        except ValidationError:
            continue
        return reading
    return readings[0]


def _steps(assignment: Assignment) -> list[str]:
    steps = [each[1:-1].strip() if each[:1] in ("'", '"') else each for each in _split(assignment.key, ".")]
    if not all(steps):
        raise _wrong(assignment, f"{assignment.key!r} is no key", "write the way to it, such as finish.paint")
    return steps


def _example(table: str) -> str:
    return {"part": "part.TONE.left", "kind": "kind.NAME.about", "scale": "scale.TONE.marks"}.get(
        table, f"{table}.TONE.colour"
    )


def _nearest_key(key: str, known: Iterable[str]) -> str:
    names = list(known)
    bare = {name.rpartition(".")[2]: name for name in names if "." in name}
    if key in bare:
        return f"did you mean {bare[key]!r}?"
    return nearest(key, names)


def _wrong(assignment: Assignment, what: str, remedy: str) -> InputError:
    return InputError(replace(assignment.fault, what=what, remedy=remedy))
