"""The edits of a layout that bring its parts from one place to another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from mockup.arrange.problem import Places
from mockup.model.edit import Address, Edit, Move, PutLength, PutValue


def part_edits(variant: str | None, before: Places, after: Places) -> Iterator[Edit]:
    """Yield the edits that bring parts from one place to another, one order for each part."""
    for old, new in zip(before, after, strict=True):
        address = Address(way=("part", old.name), variant=variant)
        right, down = round(new.u_mm - old.u_mm, 6), round(new.v_mm - old.v_mm, 6)
        if new.face != old.face:
            yield PutValue(address=address.inside("face"), value=new.face)
        if right or down:
            yield Move(address=address, right_mm=right, down_mm=down)
        if round(new.depth_mm - old.depth_mm, 6):
            yield PutLength(address=address.inside("depth"), mm=round(new.depth_mm, 6))
        if new.rotation_deg != old.rotation_deg:
            yield PutValue(address=address.inside("rotation"), value=new.rotation_deg)


def joined(edits: Iterable[Edit]) -> tuple[Edit, ...]:
    """Return edits with all moves of one thing made one, and of two values for one key the last."""
    found: dict[object, Edit] = {}
    for index, edit in enumerate(edits):
        key: object = index
        if isinstance(edit, Move | PutValue | PutLength):
            key = isinstance(edit, Move), edit.address
        before = found.get(key)
        if isinstance(edit, Move) and isinstance(before, Move):
            right, down = before.right_mm + edit.right_mm, before.down_mm + edit.down_mm
            edit = replace(before, right_mm=round(right, 6), down_mm=round(down, 6))
        found[key] = edit
    return tuple(found.values())
