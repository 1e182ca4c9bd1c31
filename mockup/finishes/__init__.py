"""Plug-ins: one file per sheen of a finish, and every sheen by its name.

A plug-in is a module with the names of `SheenFile`; the first line of its docstring is its help text.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol, cast

from mockup.memo import memoize
from mockup.model.finish import Sheen
from mockup.plugins import Folder

FINISHES = Folder("mockup.finishes")
USUAL = "gloss"  # of a painted box that names no sheen; our choice
UNPAINTED = "bare"  # of a box that names neither paint nor sheen


class SheenFile(Protocol):
    """A plug-in module of this folder."""

    def sheen(self) -> Sheen:
        """Return all that the sheen means; the file gives it its name."""
        ...


@memoize
def sheens() -> dict[str, Sheen]:
    """Return every sheen by name: smooth paints from shiny to dull, then grained ones, then bare metals."""
    found = [replace(cast(SheenFile, module).sheen(), name=name) for name, module in FINISHES.all()]
    found.sort(key=lambda sheen: (not sheen.is_painted, sheen.has_grain, sheen.bare_roughness))
    return {sheen.name: sheen for sheen in found}


def lacquers() -> tuple[str, ...]:
    """Return the names of the sheens that clear lacquer comes with."""
    return tuple(name for name, sheen in sheens().items() if sheen.is_lacquer)
