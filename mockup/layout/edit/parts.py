"""Edits of parts: a new one, a second one like it, another kind, another face, another name, several moved at once.

With a variant open a change goes where the part's values are given: into the variant's own table where it has one
for them, else into the layout itself; `is_own` keeps it to the variant.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from mockup.layout.edit.lengths import like
from mockup.layout.edit.placing import from_edge, placed, upright
from mockup.layout.edit.renames import OF_PARTS
from mockup.layout.edit.tables import MISSING, units_of
from mockup.layout.edit.variants import home, shown, value_of
from mockup.model.design import Placement
from mockup.model.edit import (
    Address,
    DuplicateTable,
    Edit,
    InsertTable,
    PutLength,
    PutValue,
    RemoveTable,
    RemoveValue,
    RenameTable,
    Value,
)
from mockup.model.enclosure import Face
from mockup.model.part import Kind

CENTRE_MM = 0.05  # nearer to the middle than that a part is centred, and says nothing: our choice
_SIDES = ("left", "right", "top", "bottom")
_LENGTHS = ("diameter", "height")
_OF_STYLE = (*_LENGTHS, "colour", "pointer_colour")
_OF_KNOBS, _OF_LAMPS = ("knob",), ("colour", "lit")


def owner(raw: Mapping[str, Any], part: str, variant: str | None, *, is_own: bool = False) -> Address:
    """Return the address of a part's table: the layout's, or the variant's for a part that it alone has."""
    address = Address(way=("part", part), variant=variant)
    return Address(way=address.way, variant=home(raw, address.inside(""), is_own=is_own).variant)


def inserted(
    raw: Mapping[str, Any], part: Placement, face: Face, *, variant: str | None = None, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return the edits that add a part where it stands, measured from the nearest edges, to 0.1 mm."""
    values = {"name": part.name, "kind": part.kind.name, **_place(raw, part, face)}
    if part.rotation_deg:
        values["rotation"] = part.rotation_deg
    if part.kind.mount == "inside":
        values["depth"] = like(0.0, round(part.depth_mm, 1), units_of(raw))
    return (InsertTable(address=Address(way=("part",), variant=variant if is_own else None), values=values),)


def twinned(
    raw: Mapping[str, Any], part: str, twin: Placement, face: Face, *, variant: str | None = None, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return the edits that make a second part like one, in its own place; its lettering and scale come twice too."""
    address = owner(raw, part, variant, is_own=is_own)
    new = Address(way=("part", twin.name), variant=address.variant)
    edits: list[Edit] = [DuplicateTable(address=address, name=twin.name)]
    edits += [RemoveValue(address=new.inside(side)) for side in _SIDES]
    edits += [PutValue(address=new.inside(key), value=value) for key, value in _place(raw, twin, face).items()]
    tables = shown(raw, address.variant)
    for array in OF_PARTS:
        for table in tables.get(array, ()):
            if table.get("part") == part:
                values = {key: value for key, value in table.items() if key != "text"} | {"part": twin.name}
                edits.append(InsertTable(address=Address(way=(array,), variant=address.variant), values=values))
    return tuple(edits)


def removed(
    raw: Mapping[str, Any], parts: Iterable[str], variant: str | None = None, *, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return the edits that take parts out, with their lettering and scales."""
    return tuple(RemoveTable(address=owner(raw, part, variant, is_own=is_own)) for part in parts)


def renamed(raw: Mapping[str, Any], part: str, name: str, variant: str | None = None) -> tuple[Edit, ...]:
    """Return the edit that gives a part another name, wherever the file says it."""
    return (RenameTable(address=owner(raw, part, variant), name=name.strip()),)


def rekinded(
    raw: Mapping[str, Any], parts: Iterable[Placement], kind: Kind, variant: str | None = None, *, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return the edits that make parts of another kind, in their places and under their names.

    A knob goes where the new kind has no shaft, a lamp's colour where it is no lamp.
    """
    edits: list[Edit] = []
    for part in parts:
        address = Address(way=("part", part.name), variant=variant)
        lost = (*(() if kind.shaft else _OF_KNOBS), *(() if kind.is_lamp else _OF_LAMPS))
        for key in ("kind", *lost):
            there = home(raw, address.inside(key), is_own=is_own)
            if key == "kind":
                edits.append(PutValue(address=there, value=kind.name))
            elif value_of(raw, address.inside(key)) is not MISSING:
                edits.append(RemoveValue(address=there))
    return tuple(edits)


def refaced(
    raw: Mapping[str, Any], part: Placement, face: Face, variant: str | None = None, *, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return the edits that put a part on another face, where it stands there."""
    address = Address(way=("part", part.name), variant=variant)
    homes = {home(raw, address.inside(key)).variant for key in ("face", *_SIDES)}
    own = is_own or (variant is not None and variant in homes)
    there = Address(way=address.way, variant=variant if own else None)
    edits: list[Edit] = [RemoveValue(address=there.inside(key)) for key in _SIDES]
    values = _place(raw, part, face)
    if "face" not in values:
        values = {"face": "top", **values} if own else values
        edits += [] if own else [RemoveValue(address=there.inside("face"))]
    return (*edits, *(PutValue(address=there.inside(key), value=value) for key, value in values.items()))


def measured(
    raw: Mapping[str, Any], part: str, edge: str, mm: float, variant: str | None = None, *, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return the edit that measures a part so far from one edge of its face, which it keeps from now on."""
    return (from_edge(raw, Address(way=("part", part), variant=variant), edge, mm, is_own=is_own),)


def deepened(
    raw: Mapping[str, Any], part: str, mm: float, variant: str | None = None, *, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return the edit that lays a part inside the box so far below its panel."""
    there = Address(way=("part", part, "depth"), variant=variant)
    return (PutLength(address=home(raw, there, is_own=is_own), mm=mm),)


def knobbed(
    raw: Mapping[str, Any], parts: Iterable[str], key: str, value: Value, variant: str | None = None,
    *, is_own: bool = False,
) -> tuple[Edit, ...]:  # fmt: skip
    """Return the edits that give the knobs of parts one key; diameter and height are millimetres.

    Another style brings its own size and colours: what was said of the one before goes, but where it points.
    """
    edits: list[Edit] = []
    for name in parts:
        there = Address(way=("part", name, "knob", key), variant=variant)
        if key in _LENGTHS and isinstance(value, int | float):
            before = value_of(raw, there)
            value = like(0.0 if before is MISSING else before, float(value), units_of(raw))
        for other in _OF_STYLE if key == "style" else ():
            own = Address(way=("part", name, "knob", other), variant=variant)
            if value_of(raw, own) is not MISSING:
                edits.append(RemoveValue(address=home(raw, own, is_own=is_own)))
        edits.append(PutValue(address=home(raw, there, is_own=is_own), value=value))
    return tuple(edits)


def scaled(raw: Mapping[str, Any], parts: Iterable[str], variant: str | None = None) -> tuple[Edit, ...]:
    """Return the edits that put marks round parts that have none."""
    have = {table.get("part") for table in shown(raw, variant).get("scale", ())}
    return tuple(
        InsertTable(address=Address(way=("scale",), variant=variant), values={"part": part})
        for part in parts
        if part not in have
    )


def turned(
    raw: Mapping[str, Any],
    parts: Iterable[Placement],
    by_deg: float,
    variant: str | None = None,
    *,
    is_own: bool = False,
) -> tuple[Edit, ...]:
    """Return the edits that turn parts clockwise by so much, each about its own axis."""
    edits = []
    for part in parts:
        there = Address(way=("part", part.name, "rotation"), variant=variant)
        edits.append(PutValue(address=home(raw, there, is_own=is_own), value=upright(part.rotation_deg + by_deg)))
    return tuple(edits)


def moved(
    raw: Mapping[str, Any], places: Mapping[str, tuple[Face, float, float]], variant: str | None = None,
    *, is_own: bool = False,
) -> tuple[Edit, ...]:  # fmt: skip
    """Return the edits that move several parts at once, each to (u, v) of its face, in the keys that measure it."""
    return tuple(
        edit
        for name, (face, u, v) in places.items()
        for edit in placed(raw, Address(way=("part", name), variant=variant), face, u, v, is_own=is_own)
    )


def _place(raw: Mapping[str, Any], part: Placement, face: Face) -> dict[str, Any]:
    """Return the keys of a part's place: its face but the top, and the nearest edge along each axis."""
    u, v, units = part.u_mm, part.v_mm, units_of(raw)
    values: dict[str, Any] = {} if face.name == "top" else {"face": face.name}
    across, down = u - face.width_mm / 2, v - face.height_mm / 2
    if abs(across) > CENTRE_MM:
        mm = u - face.left_edge(v) if across < 0 else face.right_edge(v) - u
        values["left" if across < 0 else "right"] = like(0.0, round(mm, 1), units)
    if abs(down) > CENTRE_MM:
        values["top" if down < 0 else "bottom"] = like(0.0, round(v if down < 0 else face.height_mm - v, 1), units)
    return values
