"""The tables of a pedal, as the layout itself gives them or as a variant shows them, every one checked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from mockup.layout.accepted import acceptance
from mockup.layout.edit.tables import units_of
from mockup.layout.edit.variants import listed, shown
from mockup.layout.fields import AnyTable, Loc, Problem
from mockup.layout.lettering.tables import BorderTable, LabelTable, ScaleTable, SharedLetteringTable
from mockup.layout.own_limits import own_limits
from mockup.layout.schema import BoxTable, DecalTable, FinishTable, LayoutFile, PartTable, context
from mockup.model.acceptance import Acceptance
from mockup.model.errors import nearest

Placed = tuple[tuple[Loc, AnyTable], ...]
"""Tables of one sort, each with its place in the file."""


@dataclass(frozen=True, kw_only=True)
class PedalTables:
    """The tables that one pedal is made of, each with its place in the file; `name` is what the layout calls it."""

    name: str | None
    box: tuple[Loc, BoxTable]
    finish: tuple[Loc, FinishTable | None]
    decals: Placed[DecalTable]
    parts: Placed[PartTable]
    lettering: tuple[Loc, SharedLetteringTable | None]
    labels: Placed[LabelTable]
    scales: Placed[ScaleTable]
    borders: Placed[BorderTable]
    limits: Mapping[str, float]
    accepted: tuple[Acceptance, ...]
    drills_mm: tuple[float, ...]


def pedal_tables(raw: Mapping[str, Any], variant: str | None = None) -> PedalTables:
    """Return the tables of the layout itself, or of one variant of it; `raw` is the file as TOML reads it.

    The file must be sound, and the variant have passed `change_problems`.
    """
    file = LayoutFile.model_validate(shown(raw, variant), context=context(units_of(raw)))
    here: Loc = ("variants", variant) if variant is not None else ()
    own = raw["variants"][variant] if variant is not None else raw

    def place(table: str) -> Loc:
        return (*here, table) if table in own else (table,)

    def placed(array: str, tables: Sequence[AnyTable]) -> Placed[AnyTable]:
        found = [
            (array, each.base) if each.own is None else (*here, array, each.own) for each in listed(raw, variant, array)
        ]
        return tuple(zip(found, tables, strict=True))  # type: ignore[arg-type]

    return PedalTables(
        name=file.name,
        box=(place("box"), file.box),
        finish=(place("finish"), file.finish),
        decals=placed("decal", file.decal),
        parts=placed("part", file.part),
        lettering=(place("lettering"), file.lettering),
        labels=placed("label", file.label),
        scales=placed("scale", file.scale),
        borders=placed("border", file.border),
        limits=own_limits(file.limits),
        accepted=tuple(acceptance(each) for each in file.accept),
        drills_mm=tuple(sorted(file.bench.drills)) if file.bench is not None else (),
    )


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
