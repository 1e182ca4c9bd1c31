"""What each edit means: the changes in a layout's plain tables that it comes down to.

This is the one place that knows it. `mockup.layout.edit.apply` makes the same changes in the text; a sweep needs the
tables alone.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping
from typing import Any

from mockup.layout.edit import adoption, placing
from mockup.layout.edit.lengths import like
from mockup.layout.edit.renames import OF_PARTS, layout_and_variants, name_problem, naming, users
from mockup.layout.edit.tables import (
    LISTS,
    MISSING,
    NAMED,
    WHOLE,
    Delete,
    Place,
    Put,
    Shift,
    TableChange,
    change,
    count,
    found,
    same,
    texts,
    units_of,
)
from mockup.layout.edit.variants import Source, contrary, listed, number_of, shown, value_of
from mockup.model.edit import (
    Address,
    AdoptVariant,
    DuplicateTable,
    Edit,
    InsertTable,
    MakeVariant,
    Move,
    PutLength,
    PutValue,
    RemoveTable,
    RemoveValue,
    RemoveVariant,
    RenameTable,
    RenameVariant,
    ReorderTable,
)
from mockup.model.errors import Fault, InputError, nearest


class Plan:
    """The tables of a layout under a row of edits, and the changes made in them so far.

    `raw` is the file as TOML reads it, copied; `source` its name, for messages.
    """

    def __init__(self, raw: Mapping[str, Any], source: str) -> None:
        self.raw: dict[str, Any] = copy.deepcopy(dict(raw))
        self.source = source
        self.changes: list[TableChange] = []

    def make(self, edit: Edit) -> None:
        """Make an edit; raises `InputError` where the layout does not allow it."""
        match edit:
            case PutValue():
                self._put(edit.address, edit.value)
            case PutLength():
                before = value_of(self.raw, edit.address)
                self._put(edit.address, like(0.0 if before is MISSING else before, edit.mm, units_of(self.raw)))
            case RemoveValue():
                self._remove_value(edit.address)
            case InsertTable():
                self._insert(edit)
            case DuplicateTable():
                self._duplicate(edit.address, edit.name)
            case RenameTable():
                self._rename(edit.address, edit.name)
            case RemoveTable():
                self._remove(edit.address)
            case ReorderTable():
                self._reorder(edit.address, edit.index)
            case MakeVariant():
                self._make_variant(edit.name, edit.like)
            case RenameVariant():
                self._variant(edit.variant)
                self._free_variant(edit.name)
                self.do(Shift(place=("variants", edit.variant), to=edit.name))
            case RemoveVariant():
                self._variant(edit.variant)
                self.do(Delete(place=("variants", edit.variant)))
            case AdoptVariant():
                self._variant(edit.variant)
                adoption.adopt(self, edit.variant)
            case Move():
                self.number(edit.address)
                for each in placing.moved(self.raw, edit, self.source):
                    self.make(each)

    def do(self, made: TableChange) -> None:
        """Make one change in the tables."""
        change(self.raw, made)
        self.changes.append(made)

    def copy(self, source: Place, place: Place) -> None:
        """Put what stands at one place at another too, comments included."""
        self.do(Put(place=place, value=found(self.raw, source), source=source))

    def wrong(self, what: str, remedy: str = "") -> InputError:
        """Return the error of an edit that the layout does not allow."""
        return InputError(Fault(file=self.source, what=what, remedy=remedy))

    # Where things are

    def _variant(self, name: str | None) -> None:
        known = self.raw.get("variants", {})
        if name is not None and name not in known:
            remedy = nearest(name, known) if known else "the file has no [variants.NAME] table"
            raise self.wrong(f'has no variant "{name}"', remedy)

    def number(self, address: Address) -> int:
        """Return the number of the table that an address names, among those that its variant shows."""
        self._variant(address.variant)
        array = str(address.way[0])
        if array not in LISTS or len(address.way) < 2:
            raise self.wrong(f"{address} is no table of a list", f"name one of {', '.join(LISTS)}")
        number = number_of(self.raw, address)
        if number is None:
            raise self.wrong(f"there is no {address}", self._nearest(address))
        return number

    def _nearest(self, address: Address) -> str:
        array, step = str(address.way[0]), address.way[1]
        tables = self._tables(array, address.variant)
        known = [name for table in tables for name in texts(table, LISTS[array])]
        if isinstance(step, int) or not known:
            return f"there are {len(tables)}" if tables else f"the layout has no {array} table"
        return nearest(step, known)

    def _tables(self, array: str, variant: str | None) -> list[dict[str, Any]]:
        return shown(self.raw, variant).get(array, [])  # type: ignore[no-any-return]

    def _source(self, address: Address) -> Source:
        """Return where the table that an address names comes from."""
        return listed(self.raw, address.variant, str(address.way[0]))[self.number(address)]

    def _name(self, address: Address) -> str:
        """Return the name of the part or kind at an address."""
        return texts(self._tables(str(address.way[0]), address.variant)[self.number(address)], ("name",))[0]

    def _own(self, address: Address) -> Place:
        """Return the place of a table in the list of the layout or variant itself, which is given it if need be."""
        number, array, variant = self.number(address), str(address.way[0]), address.variant
        if variant is None:
            return (array, number)
        if array in WHOLE:
            raise self.wrong(f"a variant has no {WHOLE[array]} of its own", f"change the {array} in the layout itself")
        here: Place = ("variants", variant, array)
        source = self._source(address)
        if source.own is not None:
            return (*here, source.own)
        if array != "part":
            self._own_list(array, variant)
            return (*here, number)
        place = (*here, count(self.raw, here))
        self.do(Put(place=place, value={"name": self._tables(array, variant)[number]["name"]}))
        return place

    def _own_list(self, array: str, variant: str) -> None:
        """Copy what a variant shows of the layout's list into a list of its own."""
        for number, source in enumerate(listed(self.raw, variant, array)):
            if source.own is None and source.base is not None:
                self.copy((array, source.base), ("variants", variant, array, number))

    # Values

    def _put(self, address: Address, value: Any) -> None:
        self._variant(address.variant)
        array = str(address.way[0])
        if array in NAMED and address.way[2:] == ("name",):
            self._rename(Address(way=address.way[:2], variant=address.variant), str(value))
            return
        depth = 2 if array in LISTS else 1
        is_key = len(address.way) > depth or array not in LISTS
        if address.variant is not None and array == "decal" and address.way[2:] == ("face",):
            self._hidden(array, self.number(address), address.variant)
            self._own_list(array, address.variant)
        place = (*self._own(address), *address.way[2:]) if is_key and array in LISTS else address.place
        if len(address.way) == depth + 1:
            for other in contrary(array, str(place[-1])):
                if found(self.raw, (*place[:-1], other)) is not MISSING:
                    self.do(Delete(place=(*place[:-1], other)))
        before = found(self.raw, place)
        if before is not MISSING and same(before, value) and isinstance(before, bool) == isinstance(value, bool):
            return
        if isinstance(before, dict | list) and before:
            self.do(Delete(place=place))
        self.do(Put(place=place, value=value))

    def _remove_value(self, address: Address) -> None:
        self._variant(address.variant)
        array = str(address.way[0])
        if array not in LISTS or len(address.way) < 2:
            place = address.place
        else:
            source = self._source(address)
            if len(address.way) == 2:
                raise self.wrong(f"{address} is a table", "remove the table itself")
            if address.variant is not None and array == "part" and source.own is None:
                return
            place = (*self._own(address), *address.way[2:])
        if found(self.raw, place) is not MISSING:
            self.do(Delete(place=place))

    # Tables of a list

    def _insert(self, edit: InsertTable) -> None:
        array, variant = str(edit.address.way[0]), edit.address.variant
        self._variant(variant)
        if array not in LISTS or len(edit.address.way) != 1 or (array in WHOLE and variant is not None):
            raise self.wrong(f"{edit.address} is no list of tables", f"name one of {', '.join(LISTS)}")
        if array in NAMED:
            self._free(array, edit.values.get("name"))
        if variant is not None and array != "part":
            self._own_list(array, variant)
        number = self._slot(array, variant, edit.index)
        self.do(Put(place=(*edit.address.place, number), value=dict(edit.values)))

    def _slot(self, array: str, variant: str | None, index: int | None) -> int:
        """Return the number in the own list of a variant for one among the tables that it shows, None for the last.

        A variant's own parts stand behind the layout's, wherever they are wanted.
        """
        last = count(self.raw, Address(way=(array,), variant=variant).place)
        if variant is None or array != "part":
            return last if index is None else min(max(index, 0), last)
        own = [each.own or 0 for each in listed(self.raw, variant, array) if each.base is None]
        before = len(listed(self.raw, variant, array)) - len(own)
        wanted = last if index is None else max(index - before, 0)
        return own[wanted] if wanted < len(own) else last

    def _duplicate(self, address: Address, name: str | None) -> None:
        array, variant = str(address.way[0]), address.variant
        number = self.number(address)
        if array in NAMED:
            self._free(array, name)
        if array == "part" and variant is not None:
            values = {**self._tables(array, variant)[number], "name": name}
            self._insert(InsertTable(address=Address(way=("part",), variant=variant), values=values))
            return
        place = self._own(address)
        copied = (*place[:-1], int(place[-1]) + 1)
        self.copy(place, copied)
        if array in NAMED:
            self.do(Put(place=(*copied, "name"), value=name))

    def _rename(self, address: Address, name: str) -> None:
        array, source = str(address.way[0]), self._source(address)
        if array not in NAMED:
            raise self.wrong(f"{address} has no name", "a part or a kind has one")
        if address.variant is not None and source.base is not None:
            raise self.wrong(f"{address} is a part of the layout", "rename it in the layout itself")
        old = self._name(address)
        if name.strip() == old:
            return
        self._free(array, name)
        variants = (address.variant,) if address.variant is not None else layout_and_variants(self.raw)
        for variant in variants:
            for place in list(naming(self.raw, array, old, variant)):
                self.do(Put(place=place, value=name))

    def _free(self, array: str, name: Any) -> None:
        """Refuse a name that a part or kind cannot have."""
        what, remedy = name_problem(self.raw, array, name)
        if what:
            raise self.wrong(what, remedy)

    def _remove(self, address: Address) -> None:
        array, number, variant = str(address.way[0]), self.number(address), address.variant
        if array == "part":
            name = self._name(address)
            if variant is not None and self._source(address).base is not None:
                self._leave_out(self._own(address))
                self._drop(name, variant, OF_PARTS)
            else:
                for each in (variant,) if variant is not None else layout_and_variants(self.raw):
                    self._drop(name, each, ("part", *OF_PARTS))
            return
        if array == "kind":
            name = self._name(address)
            if parts := users(self.raw, name):
                what = f'the kind "{name}" is that of {", ".join(parts)}'
                raise self.wrong(what, "give these parts another kind first")
        elif variant is not None:
            self._hidden(array, number, variant)
            self._own_list(array, variant)
        self._delete(self._own(address), variant, array)

    def _leave_out(self, own: Place) -> None:
        for key in [key for key in found(self.raw, own) if key not in ("name", "remove")]:
            self.do(Delete(place=(*own, key)))
        self.do(Put(place=(*own, "remove"), value=True))

    def _drop(self, name: str, variant: str | None, lists: Iterable[str]) -> None:
        """Take out the tables of the layout or a variant that belong to a part."""
        places = [place[:-1] for place in naming(self.raw, "part", name, variant) if str(place[-3]) in lists]
        for place in reversed(places):
            self._delete(place, variant, str(place[-2]))

    def _delete(self, place: Place, variant: str | None, array: str) -> None:
        """Take out one table; a variant that has none left says so, or the layout's would show again."""
        self.do(Delete(place=place))
        if variant is not None and array != "part" and found(self.raw, place[:-1]) is MISSING:
            self.do(Put(place=place[:-1], value=[]))

    def _hidden(self, array: str, number: int, variant: str) -> None:
        """Refuse to take a decal out of a variant where the layout's own would show again in its place."""
        faces = [str(table.get("face", "top")) for table in self._tables(array, variant)]
        face = faces.pop(number)
        base = [str(table.get("face", "top")) for table in self._tables(array, None)]
        if array == "decal" and faces and face in base and face not in faces:
            what = f"the layout's own decal on the {face} face would show again in variant {variant}"
            raise self.wrong(what, "change the layout's decal, or take all decals out of the variant")

    def _reorder(self, address: Address, index: int) -> None:
        array = str(address.way[0])
        if array == "part" and address.variant is not None and self._source(address).base is not None:
            raise self.wrong(f"{address} is a part of the layout", "reorder it in the layout itself")
        if address.variant is not None and array != "part":
            self._own_list(array, address.variant)
        place = self._own(address)
        wanted = min(self._slot(array, address.variant, index), len(found(self.raw, place[:-1])) - 1)
        if wanted != place[-1]:
            self.do(Shift(place=place, to=wanted))

    # Variants

    def _make_variant(self, name: str, like_variant: str | None) -> None:
        self._variant(like_variant)
        self._free_variant(name)
        if like_variant is None:
            self.do(Put(place=("variants", name), value={}))
        else:
            self.copy(("variants", like_variant), ("variants", name))

    def _free_variant(self, name: str) -> None:
        if not name.strip() or name in self.raw.get("variants", {}):
            what = f'there is a variant "{name}" already' if name.strip() else "a variant needs a name"
            raise self.wrong(what, "give it a name of its own")
