"""From the text of a layout file to its tables, every mistake named at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from mockup import hardware
from mockup.layout import rules
from mockup.layout.edit.tables import texts, units_of
from mockup.layout.faults import problems
from mockup.layout.fields import AnyTable, Loc, Problem
from mockup.layout.kinds import KindTable, kind_of, kind_problems, kinds_of, like_problems
from mockup.layout.lettering.rules import label_problems, scale_problems
from mockup.layout.lettering.tables import LabelTable, LetteringTable, ScaleTable, SharedLetteringTable
from mockup.layout.pedal_tables import change_problems, pedal_tables
from mockup.layout.places import named, order, table_lines
from mockup.layout.schema import BoxTable, DecalTable, FinishTable, LayoutFile, PartsFile, PartTable, context
from mockup.layout.toml import read_toml
from mockup.layout.unit_doubt import unit_doubt
from mockup.model.errors import Fault, InputError
from mockup.model.part import Kind
from mockup.model.text import printable

Found = Iterator[tuple[Loc, Problem]]


@dataclass(frozen=True, kw_only=True, eq=False)
class Layout:
    """A layout file, read and found sound as far as that goes without geometry and art.

    `source` is the file's name as the user knows it; `kinds` holds every kind by name, the
    builder's own included; `raw` is the file as TOML reads it and `lines` the line of each table
    header, for naming places.
    """

    source: str
    file: LayoutFile
    kinds: Mapping[str, Kind]
    raw: Mapping[str, Any]
    lines: Mapping[Loc, int]

    def fault(self, loc: Loc, problem: Problem) -> Fault:
        """Return a problem of the table at `loc` as a fault that names the place."""
        return _fault(self.source, self.raw, (*loc, *problem.path), problem)


def parse(text: str, source: str, own_kinds: Iterable[Kind] = ()) -> Layout:
    """Return the layout that `text` describes.

    `source` names the file in messages; `own_kinds` are the builder's kinds from a file beside
    the layout (see `parse_parts`). Raises `InputError` with every mistake in file order.
    """
    return checked(read_toml(text, source), source, table_lines(text), own_kinds)


def checked(raw: dict[str, Any], source: str, lines: Mapping[Loc, int], own_kinds: Iterable[Kind] = ()) -> Layout:
    """Return the layout that tables, as TOML reads them, describe; `lines` only order the mistakes.

    Raises `InputError` with every mistake in file order.
    """
    doubt = unit_doubt(raw)
    if doubt is not None:  # the other mistakes follow from it
        raise InputError(_fault(source, raw, *doubt))
    known = {**hardware.kinds(), **{kind.name: kind for kind in own_kinds}}
    file, found = validated(LayoutFile, raw)
    own = list(_sound(KindTable, raw, "kind", found))
    found += _kind_faults(own, known)
    kinds = {**known, **kinds_of((table for _, table in own), known)}
    found += _table_faults(raw, kinds, found)
    if file is not None and not found:
        for name in file.variants:  # two variants may trip over the same table of the file
            found += [each for each in _variant_faults(file, raw, name, kinds) if each not in found]
    if file is None or found:
        raise InputError(sorted_faults(found, source, raw, lines))
    return Layout(source=printable(source), file=file, kinds=kinds, raw=raw, lines=lines)


def parse_parts(text: str, source: str) -> tuple[Kind, ...]:
    """Return the builder's own kinds from a file of `[[kind]]` tables beside the layout.

    Raises `InputError` with every mistake in file order.
    """
    raw = read_toml(text, source)
    file, found = validated(PartsFile, raw)
    own = list(_sound(KindTable, raw, "kind", found))
    found += _kind_faults(own, hardware.kinds())
    if file is None or found:
        raise InputError(sorted_faults(found, source, raw, table_lines(text)))
    return tuple(kinds_of(file.kind, hardware.kinds()).values())


def validated(model: type[AnyTable], raw: dict[str, Any]) -> tuple[AnyTable | None, list[tuple[Loc, Problem]]]:
    """Return a file as its model has it, None where it has mistakes, and these."""
    try:
        return model.model_validate(raw, context=context(units_of(raw))), []
    except ValidationError as error:
        return None, list(problems(error, model))


def _sound(
    model: type[AnyTable], raw: Mapping[str, Any], key: str, found: list[tuple[Loc, Problem]]
) -> Iterator[tuple[Loc, AnyTable]]:
    """Yield the tables under `key` in which no mistake was found, so that one mistake hides no other."""
    value = raw.get(key)
    bad, spoilt = {loc[:2] for loc, _ in found}, {loc[:1] for loc, _ in found}
    if isinstance(value, list):
        entries: list[tuple[Loc, Any]] = [((key, index), each) for index, each in enumerate(value)]
    else:
        entries = [((key,), value)] if value is not None else []
    for loc, entry in entries:
        if loc not in bad and loc[:1] not in bad and (len(loc) > 1 or loc not in spoilt):
            yield loc, model.model_validate(entry, context=context(units_of(raw)))


def _kind_faults(own: list[tuple[Loc, KindTable]], known: Mapping[str, Kind]) -> Found:
    there = dict(known)
    for loc, table in own:
        wrong = (*kind_problems(table), *like_problems(table, there))
        yield from _under(loc, wrong)
        if not wrong:
            there[table.name] = kind_of(table, there)
        if table.name in known:
            remedy = "give it another name"
            yield (*loc, "name"), Problem((), f'there is a kind "{table.name}" in the parts table already', remedy)
    for index, first in rules.repeated(table.name for _, table in own):
        yield (*own[index][0], "name"), _twice(own[first][0])


def _table_faults(raw: Mapping[str, Any], kinds: Mapping[str, Kind], before: list[tuple[Loc, Problem]]) -> Found:
    yield from _rule_faults(
        _sound(BoxTable, raw, "box", before),
        _sound(FinishTable, raw, "finish", before),
        _sound(DecalTable, raw, "decal", before),
        _sound(PartTable, raw, "part", before),
        kinds,
    )
    shared = next((table for _, table in _sound(SharedLetteringTable, raw, "lettering", before)), None)
    if shared is not None or "lettering" not in raw:  # else what labels and scales lack cannot be told
        named_kinds = zip(_texts(raw, "part", "name"), _texts(raw, "part", "kind"), strict=True)
        parts = {name: kinds.get(kind) for name, kind in named_kinds if name}
        labels, scales = _sound(LabelTable, raw, "label", before), _sound(ScaleTable, raw, "scale", before)
        yield from _lettering_faults(labels, scales, shared, parts)
    known = (*kinds, *_texts(raw, "kind", "name"))  # kinds that could not be read are names all the same
    for index, kind in enumerate(_texts(raw, "part", "kind")):
        yield from _under(("part", index), rules.kind_name_problems(kind, known))
    for index, first in rules.repeated(_texts(raw, "part", "name")):
        yield ("part", index, "name"), _twice(("part", first))


def _variant_faults(file: LayoutFile, raw: Mapping[str, Any], name: str, kinds: Mapping[str, Kind]) -> Found:
    bad = list(change_problems(file, name))
    yield from bad
    if bad:
        return
    pedal = pedal_tables(raw, name)
    loc, finish = pedal.finish
    yield from _rule_faults([pedal.box], [(loc, finish)] if finish else [], pedal.decals, pedal.parts, kinds)
    for loc, part in pedal.parts:
        yield from _under(loc, rules.kind_name_problems(part.kind, kinds))
    parts = {part.name: kinds.get(part.kind) for _, part in pedal.parts}
    yield from _lettering_faults(pedal.labels, pedal.scales, pedal.lettering[1], parts)


def _rule_faults(
    boxes: Iterable[tuple[Loc, BoxTable]],
    finishes: Iterable[tuple[Loc, FinishTable]],
    decals: Iterable[tuple[Loc, DecalTable]],
    parts: Iterable[tuple[Loc, PartTable]],
    kinds: Mapping[str, Kind],
) -> Found:
    for loc, box in boxes:
        yield from _under(loc, rules.box_problems(box))
    for loc, finish in finishes:
        yield from _under(loc, rules.finish_problems(finish))
    for loc, decal in decals:
        yield from _under(loc, rules.decal_problems(decal))
    for loc, part in parts:
        yield from _under(loc, rules.part_problems(part, kinds))


def _lettering_faults(
    labels: Iterable[tuple[Loc, LabelTable]],
    scales: Iterable[tuple[Loc, ScaleTable]],
    shared: LetteringTable | None,
    parts: Mapping[str, Kind | None],
) -> Found:
    for loc, label in labels:
        yield from _under(loc, label_problems(label, shared, parts))
    for loc, scale in scales:
        yield from _under(loc, scale_problems(scale, shared, parts))


def _texts(raw: Mapping[str, Any], array: str, key: str) -> list[str]:
    """Return the text under `key` of every table in an array of tables, empty where there is none."""
    listed = raw.get(array)
    entries = listed if isinstance(listed, list) else []
    return [next(iter(texts(each, (key,))), "") for each in entries]


def _twice(first: Loc) -> Problem:
    return Problem((), f"number {int(first[1]) + 1} has the same name", "give each a name of its own")


def _under(loc: Loc, found: Iterable[Problem]) -> Found:
    for problem in found:
        yield (*loc, *problem.path), problem


def _fault(source: str, raw: Any, loc: Loc, problem: Problem) -> Fault:
    table, key, what, remedy = (printable(each) for each in (*named(loc, raw), problem.what, problem.remedy))
    return Fault(file=source, table=table, key=key, what=what, remedy=remedy)


def sorted_faults(
    found: list[tuple[Loc, Problem]], source: str, raw: dict[str, Any], lines: Mapping[Loc, int]
) -> list[Fault]:
    """Return mistakes as faults that name their place, in file order."""
    found = sorted(found, key=lambda entry: order(entry[0], raw, lines))
    return [_fault(source, raw, loc, problem) for loc, problem in found]
