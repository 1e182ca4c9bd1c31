"""What a family of parts offers: the shape of every plug-in in this folder.

A plug-in is a module with these names; the first line of its docstring is its help text.
"""

from __future__ import annotations

from typing import Protocol

from mockup.model.part import Kind


class Family(Protocol):
    """A plug-in module of this folder."""

    def kinds(self) -> tuple[Kind, ...]:
        """Return the family's kinds, one per size."""
        ...
