"""Plug-ins: one file per family of parts, and the table of every kind they make.

A plug-in is a module with the names of `Family`; the first line of its docstring is its help text.
"""

from __future__ import annotations

from typing import Protocol, cast

from mockup.memo import memoize
from mockup.model.part import Kind
from mockup.plugins import Folder

FAMILIES = Folder("mockup.hardware")


class Family(Protocol):
    """A plug-in module of this folder."""

    def kinds(self) -> tuple[Kind, ...]:
        """Return the family's kinds, one per size."""
        ...


def kinds() -> dict[str, Kind]:
    """Return every kind by name, family by family; `ValueError` if two plug-ins share a name.

    The kinds are the same objects every time, so that each is read and digested once.
    """
    found: dict[str, Kind] = {}
    for family, module in FAMILIES.all():
        for kind in memoize(cast(Family, module).kinds)():
            if kind.name in found:
                raise ValueError(f"{family} and {found[kind.name].family} both make a {kind.name!r}")
            found[kind.name] = kind
    return found
