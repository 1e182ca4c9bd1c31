"""Versions of a pedal: the layout itself or one variant, every table checked and with its place in the file."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from mockup.layout.edit.variants import contrary, sources
from mockup.layout.fields import Loc, Problem, Table
from mockup.layout.lettering.tables import BorderTable, LabelTable, LetteringTable, ScaleTable
from mockup.layout.own_limits import own_limits
from mockup.layout.schema import BoxKeys, DecalTable, FinishTable, LayoutFile, PartChange, PartTable
from mockup.model.errors import nearest

AnyTable = TypeVar("AnyTable", bound=Table)
Placed = tuple[tuple[Loc, AnyTable], ...]
"""Tables of one sort, each with its place in the file."""


@dataclass(frozen=True, kw_only=True)
class Version:
    """One version of the pedal: the file itself or one variant, every table with its place in the file."""

    name: str | None
    box: tuple[Loc, BoxKeys]
    finish: tuple[Loc, FinishTable | None]
    decals: Placed[DecalTable]
    parts: Placed[PartTable]
    lettering: tuple[Loc, LetteringTable | None]
    labels: Placed[LabelTable]
    scales: Placed[ScaleTable]
    borders: Placed[BorderTable]
    limits: Mapping[str, float]


def version(file: LayoutFile, variant: str | None = None) -> Version:
    """Return the file itself, or one variant of it; `KeyError` where there is none of that name.

    The variant must have passed `change_problems`.
    """
    base = Version(
        name=file.name,
        box=(("box",), file.box),
        finish=(("finish",), file.finish),
        decals=_placed(file.decal, "decal"),
        parts=_placed(file.part, "part"),
        lettering=(("lettering",), file.lettering),
        labels=_placed(file.label, "label"),
        scales=_placed(file.scale, "scale"),
        borders=_placed(file.border, "border"),
        limits=own_limits(file.limits),
    )
    if variant is None:
        return base
    change, here = file.variants[variant], ("variants", variant)
    gone = {part.name for part in change.part if part.remove}

    def listed(array: str, key: str, tables: Placed[AnyTable], own: Sequence[AnyTable] | None) -> Placed[AnyTable]:
        names = [getattr(table, key) for _, table in tables]
        own_names = None if own is None else [getattr(table, key) for table in own]
        placed = _placed(own or (), *here, array)
        found = sources(array, names, own_names, gone)
        return tuple(placed[each.own] if each.own is not None else tables[each.base or 0] for each in found)

    return Version(
        name=change.name or base.name,
        box=((*here, "box"), merged(file.box, change.box, "box")) if change.box else base.box,
        finish=((*here, "finish"), merged(file.finish or FinishTable.model_construct(), change.finish, "finish"))
        if change.finish
        else base.finish,
        decals=listed("decal", "face", base.decals, change.decal),
        parts=_parts(base.parts, change.part, here, gone),
        lettering=(
            (*here, "lettering"),
            merged(file.lettering or LetteringTable.model_construct(), change.lettering, "lettering"),
        )
        if change.lettering
        else base.lettering,
        labels=listed("label", "part", base.labels, change.label),
        scales=listed("scale", "part", base.scales, change.scale),
        borders=listed("border", "face", base.borders, change.border),
        limits={**base.limits, **own_limits(change.limits)},
    )


def _placed(tables: Iterable[AnyTable], *where: str) -> Placed[AnyTable]:
    return tuple(((*where, index), table) for index, table in enumerate(tables))


def _parts(
    base: Placed[PartTable], changes: tuple[PartChange, ...], here: Loc, gone: Collection[str]
) -> Placed[PartTable]:
    found = []
    for each in sources("part", [part.name for _, part in base], [change.name for change in changes], gone):
        if each.own is None:
            found.append(base[each.base or 0])
            continue
        change, loc = changes[each.own], (*here, "part", each.own)
        part = (
            PartTable.model_construct(**_given(change))
            if each.base is None
            else merged(base[each.base][1], change, "part")
        )
        found.append((loc, part))
    return tuple(found)


def change_problems(file: LayoutFile, variant: str) -> Iterator[tuple[Loc, Problem]]:
    """Yield the changes of a variant that do not fit the file."""
    known = {part.name for part in file.part}
    seen: set[str] = set()
    for index, change in enumerate(file.variants[variant].part):
        loc: Loc = ("variants", variant, "part", index)
        if change.name in seen:
            yield (
                (*loc, "name"),
                Problem((), "this variant changes the part twice", "write all its changes in one table"),
            )
        elif change.name not in known and change.remove:
            yield (*loc, "name"), Problem((), "there is no part of this name to remove", nearest(change.name, known))
        elif change.name not in known and change.kind is None:
            remedy = f"give it a kind to add a new part; {nearest(change.name, known)}" if known else "give it a kind"
            yield (*loc, "name"), Problem((), "there is no part of this name to change", remedy)
        seen.add(change.name)


def merged(base: AnyTable, change: Table, table: str) -> AnyTable:
    """Return `base` with the keys that `change` gives laid over it; `table` is what the file calls such a table."""
    given = _given(change)
    for key, value in given.items():
        before = getattr(base, key)
        if isinstance(value, Table) and isinstance(before, Table):
            given[key] = merged(before, value, key)
    dropped = {old: None for key in given for old in contrary(table, key) if old not in given}
    return base.model_copy(update={**dropped, **given})


def _given(table: Table) -> dict[str, Any]:
    return {key: getattr(table, key) for key in table.model_fields_set if key != "remove"}
