"""Variants: what a variant's values are, and where in the file each of them is given.

- Tables merge key by key, a knob's keys too.
- Naming a box size takes the place of the width, length and height given before.
- Naming a printer takes the place of an ink strength given before, and the other way round.
- A position along one axis takes the place of the position along it given before, so a variant
  may say `right` where the file says `left`.
- Decals of a variant replace all decals on the same faces; an empty list replaces every decal.
- Parts are found by name; a new name adds a part, `remove = true` takes one away, and the file's own
  labels and scales of that part with it.
- Labels, scales or borders of a variant replace all of the file's; an empty list takes them away.

These rules stand here alone, for the file's plain tables; `mockup.layout.version` applies them to the checked ones.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from mockup.layout.edit.tables import LISTS, MISSING, NAMED, found, texts
from mockup.model.edit import Address

_SIDES: dict[str, tuple[str, ...]] = {"left": ("right",), "right": ("left",), "top": ("bottom",), "bottom": ("top",)}
_CONTRARY: dict[str, dict[str, tuple[str, ...]]] = {
    "box": {"size": ("width", "length", "height")},
    "finish": {"printer": ("ink_strength",), "ink_strength": ("printer",)},
    "part": _SIDES,
    "label": _SIDES,
    "decal": {**_SIDES, "dpi": ("width", "height"), "width": ("dpi",), "height": ("dpi",)},
}
_BY_PARTS = ("label", "scale")


@dataclass(frozen=True, kw_only=True)
class Source:
    """Where one table of a variant's list comes from: its number in the layout's list, in the variant's own, or both.

    Both stand for a part of the layout that the variant changes.
    """

    base: int | None = None
    own: int | None = None


def contrary(table: str, key: str) -> tuple[str, ...]:
    """Return the keys of a table that a key takes the place of."""
    return _CONTRARY.get(table, {}).get(key, ())


def sources(
    array: str, base: Sequence[str | None], own: Sequence[str | None] | None, gone: Collection[str | None]
) -> tuple[Source, ...]:
    """Return what a variant's list of tables is made of, in its order.

    `base` and `own` say what the layout's and the variant's tables belong to: parts their names, decals and borders
    their faces, labels and scales their parts; `own` is None where the variant gives no list. `gone` are the names of
    the parts that the variant does without.
    """
    if array == "part":
        own = own or ()
        changed = {name: number for number, name in enumerate(own)}
        kept = [Source(base=i, own=changed.get(name)) for i, name in enumerate(base) if name not in gone]
        return (*kept, *(Source(own=i) for i, name in enumerate(own) if name not in base and name not in gone))
    if own is None:
        return tuple(Source(base=i) for i, part in enumerate(base) if array not in _BY_PARTS or part not in gone)
    kept = [Source(base=i) for i, face in enumerate(base) if array == "decal" and own and face not in own]
    return (*kept, *(Source(own=i) for i in range(len(own))))


_BELONGS = {"part": "name", "kind": "name", "decal": "face", "border": "face", "label": "part", "scale": "part"}


def version_list(raw: Mapping[str, Any], variant: str | None, array: str) -> tuple[Source, ...]:
    """Return what a list of tables is made of in the layout itself (None) or in a variant, from the file's tables."""
    base = _belongings(raw, array)
    if variant is None or array == "kind":
        return tuple(Source(base=i) for i in range(len(base or ())))
    own = found(raw, ("variants", variant))
    parts = zip(_belongings(own, "part") or (), own.get("part", ()), strict=True)
    gone = {name for name, table in parts if table.get("remove") is True}
    return sources(array, base or (), _belongings(own, array), gone)


def _belongings(tables: Mapping[str, Any], array: str) -> list[str | None] | None:
    """Return what each table of a list belongs to, None where there is no such list."""
    given = tables.get(array)
    key = _BELONGS[array]
    return [next(iter(texts(each, (key,))), None) for each in given] if isinstance(given, list) else None


def number_of(raw: Mapping[str, Any], address: Address) -> int | None:
    """Return the number of the table that an address names in its version's list, None where there is none."""
    array, step = str(address.way[0]), address.way[1]
    listed = version_list(raw, address.variant, array)
    if isinstance(step, int):
        return step if 0 <= step < len(listed) else None
    return next((i for i, each in enumerate(listed) if step in names(raw, address.variant, array, each)), None)


def names(raw: Mapping[str, Any], variant: str | None, array: str, source: Source) -> list[str]:
    """Return what one table of a version's list can be called by."""
    return texts(given(raw, variant, array, source), LISTS[array])


def given(raw: Mapping[str, Any], variant: str | None, array: str, source: Source) -> dict[str, Any]:
    """Return the keys that one table of a version's list has, the variant's laid over the layout's."""
    base = found(raw, (array, source.base)) if source.base is not None else {}
    own = found(raw, ("variants", variant or "", array, source.own)) if source.own is not None else {}
    return over(base, own, array)


def over(base: Mapping[str, Any], own: Mapping[str, Any], table: str) -> dict[str, Any]:
    """Return the keys of a table with others laid over them, as a variant's are, inner tables too."""
    gone = {old for key in own for old in contrary(table, key) if old not in own}
    laid = {key: value for key, value in base.items() if key not in gone}
    for key, value in own.items():
        before = laid.get(key)
        laid[key] = over(before, value, key) if isinstance(before, dict) and isinstance(value, dict) else value
    return laid


def home(raw: Mapping[str, Any], address: Address, keys: Sequence[str] = ()) -> Address:
    """Return where the value of an address is given: in the variant where its own table gives it, else in the layout.

    `keys` are further keys that count as giving it, such as the other side of an axis. What neither gives belongs to
    the layout, except in a table that the variant alone has.
    """
    if address.variant is None:
        return address
    array, steps = address.way[0], address.way[1:]
    ways = [steps, *((*steps[:-1], key) for key in keys)]
    if array not in LISTS or not steps:
        own = found(raw, ("variants", address.variant, array))
        is_own = any(found(own, way) is not MISSING for way in ways)
        return address if is_own else Address(way=address.way)
    number = number_of(raw, address)
    if number is None:
        return address
    source = version_list(raw, address.variant, str(array))[number]
    own = found(raw, ("variants", address.variant, array, source.own)) if source.own is not None else {}
    if source.base is None or any(found(own, way[1:]) is not MISSING for way in ways):
        return address
    return Address(way=(array, address.way[1] if array in NAMED else source.base, *address.way[2:]))


def value_of(raw: Mapping[str, Any], address: Address) -> Any:
    """Return the value that counts at an address: the variant's own, else the layout's; `MISSING` where none is."""
    array, steps = str(address.way[0]), address.way[1:]
    if array not in LISTS or not steps:
        base = found(raw, (array,)) if array in raw else {}
        own = found(raw, ("variants", address.variant, array)) if address.variant is not None else MISSING
        if isinstance(own, dict):
            own = over(base, own, array)
        table = base if own is MISSING else own
        return found({array: table}, address.way)
    number = number_of(raw, address)
    if number is None:
        return MISSING
    return found(given(raw, address.variant, array, version_list(raw, address.variant, array)[number]), steps[1:])
