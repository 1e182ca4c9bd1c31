"""Edits of lettering: words written on a face or by a part, how they look, and where a part's label stands."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mockup.layout.edit.lengths import like
from mockup.layout.edit.tables import MISSING, found, units_of
from mockup.layout.edit.variants import home, shown, table_home
from mockup.layout.lettering.tables import Side
from mockup.model.edit import Address, Edit, InsertTable, PutValue, RemoveValue, Value
from mockup.model.enclosure import Face

LOOKS = ("font", "size", "colour", "outline", "outline_colour", "shadow", "shadow_colour", "spacing", "gap")
"""The keys of a label's look, which `[lettering]` gives for all that say nothing else."""


def labelled(raw: Mapping[str, Any], part: str, font: str, variant: str | None = None) -> tuple[Edit, ...]:
    """Return the edits that letter a part with its name, in `font` where the layout has none yet.

    Nothing where the part has a label already.
    """
    tables = shown(raw, variant).get("label", [])
    if any(table.get("part") == part for table in tables):
        return ()
    insert = InsertTable(address=Address(way=("label",), variant=variant), values={"part": part})
    return (*lettered(raw, font, variant), insert)


def lettered(raw: Mapping[str, Any], font: str, variant: str | None = None) -> tuple[Edit, ...]:
    """Return the edits that give all lettering a font, where it has none yet: without one nothing is drawn."""
    has_font = "font" in shown(raw, variant).get("lettering", {})
    if has_font:
        return ()
    return (PutValue(address=Address(way=("lettering", "font")), value=font),)


def written(
    raw: Mapping[str, Any], text: str, face: Face, font: str, at: tuple[float, float] | None = None,
    variant: str | None = None,
) -> tuple[Edit, ...]:  # fmt: skip
    """Return the edits that write a word on a face: in the middle, or with its top left corner `at` (u, v)."""
    values: dict[str, Any] = {"text": text}
    if face.name != "top":
        values["face"] = face.name
    if at is not None:
        units = units_of(raw)
        values["top"] = like(0.0, round(at[1], 1), units)
        values["left"] = like(0.0, round(at[0] - face.left_edge(at[1]), 1), units)
    insert = InsertTable(address=Address(way=("label",), variant=variant), values=values)
    return (*lettered(raw, font, variant), insert)


def looking(
    raw: Mapping[str, Any], number: int, key: str, value: Value, variant: str | None = None, *, is_for_all: bool = False
) -> tuple[Edit, ...]:
    """Return the edits that give a label a look, and all labels of parts the same where it `is_for_all`.

    Then it stands in `[lettering]`, and labels of parts that say otherwise no longer do. Words that belong to no part
    keep what they look like now.
    """
    if not is_for_all:
        return (PutValue(address=table_home(raw, "label", number, variant).inside(key), value=value),)
    tables = shown(raw, variant)
    before = tables.get("lettering", {}).get(key)
    edits: list[Edit] = [PutValue(address=home(raw, Address(way=("lettering", key), variant=variant)), value=value)]
    for each, table in enumerate(tables.get("label", [])):
        there = table_home(raw, "label", each, variant).inside(key)
        if "part" in table and key in table:
            edits.append(RemoveValue(address=there))
        elif "part" not in table and key not in table and before is not None:
            edits.append(PutValue(address=there, value=before))
    return tuple(edits)


def length(raw: Mapping[str, Any], number: int, key: str, mm: float, variant: str | None = None) -> Value:
    """Return a length of a label's look as the layout writes it: like the one before, else in the layout's unit."""
    tables = shown(raw, variant)
    before = tables["label"][number].get(key, tables.get("lettering", {}).get(key, 0.0))
    is_length = isinstance(before, int | float | str) and not str(before).strip().endswith("pt")
    return like(before if is_length else 0.0, mm, units_of(raw))


def sized(address: Address, raw: Mapping[str, Any], cap_mm: float) -> tuple[Edit, ...]:
    """Return the edits that make the capitals of a label so high, in millimetres or in the layout's unit."""
    before = found(shown(raw, address.variant), address.inside("size").way)
    style = before if before is not MISSING and not str(before).strip().endswith("pt") else 0.0
    return (PutValue(address=address.inside("size"), value=like(style, cap_mm, units_of(raw))),)


def beside(
    raw: Mapping[str, Any], number: int, side: Side, gap_mm: float, variant: str | None = None
) -> tuple[Edit, ...]:
    """Return the edits that stand a part's label on a side of it, so far away."""
    address = table_home(raw, "label", number, variant)
    table = shown(raw, variant)["label"][number]
    before = table.get("gap", shown(raw, variant).get("lettering", {}).get("gap", 0.0))
    edits = sided(raw, number, side, variant)
    return (*edits, PutValue(address=address.inside("gap"), value=like(before, round(gap_mm, 2), units_of(raw))))


def sided(raw: Mapping[str, Any], number: int, side: Side, variant: str | None = None) -> tuple[Edit, ...]:
    """Return the edits that stand a part's label on a side of it, as far away as before."""
    address = table_home(raw, "label", number, variant)
    if side == shown(raw, variant)["label"][number].get("side", "below"):
        return ()
    if side == "below":
        return (RemoveValue(address=address.inside("side")),)
    return (PutValue(address=address.inside("side"), value=side),)
