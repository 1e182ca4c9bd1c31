"""Edits of the box: a size as it is bought, or a measure of one's own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mockup.layout.edit.tables import MISSING
from mockup.layout.edit.variants import home, shown, value_of
from mockup.layout.schema import BoxKeys
from mockup.model.edit import Address, Edit, PutLength, PutValue, RemoveValue

MEASURES = tuple(key for key in BoxKeys.model_fields if key != "size")


def bought(raw: Mapping[str, Any], size: str, variant: str | None = None, *, is_own: bool = False) -> tuple[Edit, ...]:
    """Return the edits that make the box one as it is bought: its size, and no measure said otherwise."""
    edits: list[Edit] = []
    for key in MEASURES:
        there = Address(way=("box", key), variant=variant)
        if value_of(raw, there) is not MISSING:
            edits.append(RemoveValue(address=home(raw, there, is_own=is_own)))
    there = Address(way=("box", "size"), variant=variant)
    return (*edits, PutValue(address=home(raw, there, is_own=is_own), value=size))


def measured(
    raw: Mapping[str, Any], key: str, value: float, variant: str | None = None, *, is_own: bool = False
) -> tuple[Edit, ...]:
    """Return the edit that gives the box a measure: millimetres, of the draft degrees."""
    there = Address(way=("box", key), variant=variant)
    where = home(raw, there, is_own=is_own)
    return (PutValue(address=where, value=value),) if key == "draft" else (PutLength(address=where, mm=value),)


def kept(raw: Mapping[str, Any], variant: str | None = None) -> frozenset[str]:
    """Return the measures of the box that the layout says itself; the others follow from its size."""
    return frozenset(key for key in shown(raw, variant).get("box", {}) if key in MEASURES)
