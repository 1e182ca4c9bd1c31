"""Variants: what a variant's values are, and where in the file each of them is given.

- Tables merge key by key, a knob's keys too.
- Naming a box size takes the place of the width, length and height given before.
- Another paint takes away where a photograph before it shows the face's corners.
- Naming a printer takes the place of an ink strength given before, and the other way round.
- A position along one axis takes the place of the position along it given before, so a variant
  may say `right` where the file says `left`.
- Decals of a variant replace all decals on the same faces; an empty list replaces every decal.
- Parts are found by name; a new name adds a part, `remove = true` takes one away, and the file's own
  labels and scales of that part with it.
- Labels, scales or borders of a variant replace all of the file's; an empty list takes them away.

These rules stand here alone: `shown` lays a variant over the layout, and the result is checked as any layout is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from mockup.layout.edit.tables import LISTS, MISSING, NAMED, WHOLE, found, resolved, texts
from mockup.model.edit import Address

_SIDES: dict[str, tuple[str, ...]] = {"left": ("right",), "right": ("left",), "top": ("bottom",), "bottom": ("top",)}
_CONTRARY: dict[str, dict[str, tuple[str, ...]]] = {
    "box": {"size": ("width", "length", "height")},
    "finish": {"paint": ("paint_corners",), "printer": ("ink_strength",), "ink_strength": ("printer",)},
    "part": _SIDES,
    "label": _SIDES,
    "decal": {**_SIDES, "dpi": ("width", "height"), "width": ("dpi",), "height": ("dpi",)},
}


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


def shown(raw: Mapping[str, Any], variant: str | None) -> dict[str, Any]:
    """Return the tables of the layout itself (None) or as a variant shows them; neither holds any `variants`."""
    own = _own(raw, variant)
    tables = {key: value for key, value in raw.items() if key != "variants"}
    for key in own:
        tables.setdefault(key, [] if key in LISTS else {})
    return {
        key: [_given(raw, variant, key, each) for each in listed(raw, variant, key)]
        if key in LISTS and isinstance(value, list)
        else _over(value, own.get(key, MISSING), key)
        for key, value in tables.items()
    }


def listed(raw: Mapping[str, Any], variant: str | None, array: str) -> tuple[Source, ...]:
    """Return what a list of tables is made of, in its order, in the layout itself (None) or in a variant."""
    base, changes = _belongings(raw, array) or [], _own(raw, variant)
    own = _belongings(changes, array) if array not in WHOLE else None
    removed = [each for each in changes.get("part", ()) if each.get("remove") is True]
    gone = {name for each in removed for name in texts(each, ("name",))}
    if array == "part":
        changed = {name: number for number, name in enumerate(own or ())}
        kept = [Source(base=i, own=changed.get(name)) for i, name in enumerate(base) if name not in gone]
        new = [i for i, name in enumerate(own or ()) if name not in base and name not in gone]
    elif own is None:
        has_parts = LISTS[array][-1] == "part"
        kept, new = [Source(base=i) for i, part in enumerate(base) if not has_parts or part not in gone], []
    else:
        kept = [Source(base=i) for i, face in enumerate(base) if array == "decal" and own and face not in own]
        new = list(range(len(own)))
    return (*kept, *(Source(own=i) for i in new))


def _own(raw: Mapping[str, Any], variant: str | None) -> Mapping[str, Any]:
    own = found(raw, ("variants", variant)) if variant is not None else MISSING
    return own if isinstance(own, dict) else {}


def _belongings(tables: Mapping[str, Any], array: str) -> list[str | None] | None:
    """Return what each table of a list belongs to, such as its part or face, None where there is no such list."""
    given = tables.get(array)
    return [next(iter(texts(each, LISTS[array][-1:])), None) for each in given] if isinstance(given, list) else None


def _given(raw: Mapping[str, Any], variant: str | None, array: str, source: Source) -> Any:
    """Return one table of a list, the variant's keys laid over the layout's."""
    base = raw[array][source.base] if source.base is not None else {}
    return _over(base, _own(raw, variant)[array][source.own] if source.own is not None else MISSING, array)


def _over(base: Any, own: Any, table: str) -> Any:
    """Return a table with the keys of another laid over it, inner tables too; any other value in place of the first."""
    if not isinstance(base, dict) or not isinstance(own, dict):
        return base if own is MISSING else own
    gone = {old for key in own for old in contrary(table, key) if old not in own}
    laid = {key: value for key, value in base.items() if key not in gone}
    return laid | {key: _over(laid.get(key), value, key) for key, value in own.items() if key != "remove"}


def number_of(raw: Mapping[str, Any], address: Address) -> int | None:
    """Return the number of the table that an address names among those that its variant shows, None for none."""
    tables, place = shown(raw, address.variant), address.way[:2]
    return int(resolved(tables, place)[1]) if found(tables, place) is not MISSING else None


def value_of(raw: Mapping[str, Any], address: Address) -> Any:
    """Return the value that counts at an address: the variant's own, else the layout's; `MISSING` where none is."""
    return found(shown(raw, address.variant), address.way)


def home(raw: Mapping[str, Any], address: Address, *, is_own: bool = False) -> Address:
    """Return where the value of an address is given: in the variant where its own table gives it, else in the layout.

    What neither gives belongs to the layout, except in a table that the variant alone has. `is_own` keeps it to the
    variant.
    """
    if is_own or address.variant is None:
        return address
    array, steps = address.way[0], address.way[1:]
    own = _own(raw, address.variant)
    if array not in LISTS or not steps:
        return address if found(own, address.way) is not MISSING else Address(way=address.way)
    number = number_of(raw, address)
    if number is None:
        return address
    source = listed(raw, address.variant, str(array))[number]
    if source.base is None or (source.own is not None and found(own, (array, source.own, *steps[1:])) is not MISSING):
        return address
    return Address(way=(array, steps[0] if array in NAMED else source.base, *steps[1:]))


def table_home(raw: Mapping[str, Any], array: str, number: int, variant: str | None) -> Address:
    """Return the address of a table of a list, by its number in what a variant shows, where its values are given."""
    inside = home(raw, Address(way=(array, number, ""), variant=variant))
    return Address(way=inside.way[:2], variant=inside.variant)
