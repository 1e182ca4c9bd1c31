"""Variants: the file's own tables with one variant's changes laid over them.

- Tables merge key by key, a knob's keys too.
- Naming a box size takes the place of the width, length and height given before.
- Naming a printer takes the place of an ink strength given before, and the other way round.
- A position along one axis takes the place of the position along it given before, so a variant
  may say `right` where the file says `left`.
- Decals of a variant replace all decals on the same faces; an empty list replaces every decal.
- Parts are found by name; a new name adds a part, `remove = true` takes one away, and the file's own
  labels and scales of that part with it.
- Labels, scales or borders of a variant replace all of the file's; an empty list takes them away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from mockup.layout.fields import Loc, Problem, Table
from mockup.layout.lettering.tables import BorderTable, LabelTable, LetteringTable, ScaleTable
from mockup.layout.own_limits import own_limits
from mockup.layout.schema import BoxKeys, DecalTable, FinishTable, LayoutFile, PartChange, PartTable
from mockup.model.errors import nearest

AnyTable = TypeVar("AnyTable", bound=Table)
Placed = tuple[tuple[Loc, AnyTable], ...]
"""Tables of one sort, each with its place in the file."""

INSTEAD: dict[str, tuple[str, ...]] = {
    "left": ("right",),
    "right": ("left",),
    "top": ("bottom",),
    "bottom": ("top",),
    "size": ("width", "length", "height"),
    "printer": ("ink_strength",),
    "ink_strength": ("printer",),
}


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
    decals = base.decals
    if change.decal is not None:
        faces = {decal.face for decal in change.decal}
        kept = tuple(entry for entry in base.decals if change.decal and entry[1].face not in faces)
        decals = kept + _placed(change.decal, *here, "decal")
    removed = {part.name for part in change.part if part.remove}
    return Version(
        name=change.name or base.name,
        box=((*here, "box"), merged(file.box, change.box)) if change.box else base.box,
        finish=((*here, "finish"), merged(file.finish or FinishTable.model_construct(), change.finish))
        if change.finish
        else base.finish,
        decals=decals,
        parts=_parts(base.parts, change.part, here),
        lettering=((*here, "lettering"), merged(file.lettering or LetteringTable.model_construct(), change.lettering))
        if change.lettering
        else base.lettering,
        labels=tuple(each for each in base.labels if each[1].part not in removed)
        if change.label is None
        else _placed(change.label, *here, "label"),
        scales=tuple(each for each in base.scales if each[1].part not in removed)
        if change.scale is None
        else _placed(change.scale, *here, "scale"),
        borders=base.borders if change.border is None else _placed(change.border, *here, "border"),
        limits={**base.limits, **own_limits(change.limits)},
    )


def _placed(tables: Iterable[AnyTable], *where: str) -> Placed[AnyTable]:
    return tuple(((*where, index), table) for index, table in enumerate(tables))


def _parts(base: Placed[PartTable], changes: tuple[PartChange, ...], here: Loc) -> Placed[PartTable]:
    parts = {part.name: (loc, part) for loc, part in base}
    for index, change in enumerate(changes):
        loc = (*here, "part", index)
        if change.remove:
            parts.pop(change.name, None)
        elif change.name in parts:
            parts[change.name] = (loc, merged(parts[change.name][1], change))
        else:
            parts[change.name] = (loc, PartTable.model_construct(**_given(change)))
    return tuple(parts.values())


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


def merged(base: AnyTable, change: Table) -> AnyTable:
    """Return `base` with the keys that `change` gives laid over it."""
    given = _given(change)
    for key, value in given.items():
        before = getattr(base, key)
        if isinstance(value, Table) and isinstance(before, Table):
            given[key] = merged(before, value)
    dropped = {old: None for key in given for old in INSTEAD.get(key, ()) if hasattr(base, old) and old not in given}
    return base.model_copy(update={**dropped, **given})


def _given(table: Table) -> dict[str, Any]:
    return {key: getattr(table, key) for key in table.model_fields_set if key != "remove"}
