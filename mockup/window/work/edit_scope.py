"""Where an edit of the layout goes: into the layout itself, or into the variant that is shown."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypedDict

from mockup.layout.edit.undo import LayoutDocument


class EditScope(TypedDict):
    """Where an edit goes: `is_own` puts it into the variant's own table, so that no other variant changes."""

    variant: str | None
    is_own: bool


LayoutEdit = Callable[[LayoutDocument, EditScope], LayoutDocument]
