"""Edits that mean what is shown, sent to where the file gives it: the layout, or the variant's own table."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from mockup.layout.edit.variants import home
from mockup.model.edit import Address, Edit, Move, PutLength, PutValue, RemoveValue

_PLACE = ("left", "right", "top", "bottom", "gap")


def sent_home(
    raw: Mapping[str, Any], edits: Iterable[Edit], variant: str | None, *, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return edits of values and places, each where a variant's value is given; other edits as they are.

    What they name is meant as the variant shows it, None for the layout itself; `is_own` keeps all of it to the
    variant.
    """
    return tuple(_sent_home(raw, edit, variant, is_own=is_own) for edit in edits)


def _sent_home(raw: Mapping[str, Any], edit: Edit, variant: str | None, *, is_own: bool) -> Edit:
    if not isinstance(edit, Move | PutValue | PutLength | RemoveValue):
        return edit
    there = Address(way=edit.address.way, variant=variant)
    if isinstance(edit, Move):
        homes = {home(raw, there.inside(key), is_own=is_own).variant for key in _PLACE}
        return replace(edit, address=replace(there, variant=variant if variant in homes else None))
    return replace(edit, address=home(raw, there, is_own=is_own))
