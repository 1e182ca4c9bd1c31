"""A variant made the layout itself: what it changes goes into the layout, and its own table goes."""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING

from mockup.layout.edit.tables import LISTS, MISSING, Delete, count, found, texts
from mockup.layout.edit.variants import listed
from mockup.model.edit import Address, PutValue, RemoveTable

if TYPE_CHECKING:
    from mockup.layout.edit.plan import Plan


def adopt(plan: Plan, variant: str) -> None:
    """Make a variant the layout itself, in a plan."""
    here = ("variants", variant)
    own = copy.deepcopy(found(plan.raw, here))
    for table, value in own.items():
        if table not in LISTS:
            _put(plan, (table,), value)
    for array in LISTS:
        if array != "part" and array in own:
            kept = {each.base for each in listed(plan.raw, variant, array)}
            for number in reversed(range(count(plan.raw, (array,)))):
                if number not in kept:
                    plan.do(Delete(place=(array, number)))
            first = count(plan.raw, (array,))
            for number in range(len(own[array])):
                plan.copy((*here, array, number), (array, first + number))
    for number, part in enumerate(own.get("part", ())):
        name = texts(part, ("name",))[0]
        address = Address(way=("part", name))
        is_known = found(plan.raw, address.way) is not MISSING
        if part.get("remove") is True:
            plan.make(RemoveTable(address=address))
        elif is_known:
            _put(plan, address.way, {key: value for key, value in part.items() if key not in ("name", "remove")})
        else:
            moved = sum(each.get("remove") is True for each in own["part"][:number])  # gone already, with its removal
            plan.copy((*here, "part", number - moved), ("part", count(plan.raw, ("part",))))
    plan.do(Delete(place=here))


def _put(plan: Plan, way: tuple[str | int, ...], value: object) -> None:
    """Put every value of a table into the layout's."""
    if isinstance(value, dict):
        for key, each in value.items():
            _put(plan, (*way, key), each)
    else:
        plan.make(PutValue(address=Address(way=way), value=value))  # type: ignore[arg-type]
