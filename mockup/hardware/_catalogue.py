"""The parts table: every kind of part, found in this folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from typing import cast

from mockup.hardware._interface import Family
from mockup.model.part import Kind
from mockup.plugins import Folder

PARTS = Folder("mockup.hardware")


def kinds() -> dict[str, Kind]:
    """Return every kind by name, family by family; `ValueError` if two plug-ins share a name.

    The kinds are the same objects every time, so that what was made of one can be kept.
    """
    found: dict[str, Kind] = {}
    for family, module in PARTS.all():
        for kind in _made(cast(Family, module).kinds):
            if kind.name in found:
                raise ValueError(f"{family} and {found[kind.name].family} both make a {kind.name!r}")
            found[kind.name] = kind
    return found


@cache
def _made(kinds: Callable[[], Iterable[Kind]]) -> tuple[Kind, ...]:
    return tuple(kinds())
