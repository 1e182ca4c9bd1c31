"""Edits applied to a layout's text: every byte that they do not concern stays as it was."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.layout.edit.plan import Plan
from mockup.layout.edit.writing import written
from mockup.layout.toml import read_toml
from mockup.model.edit import Edit


def apply(text: str, edits: Iterable[Edit], source: str) -> str:
    """Return the text of a layout with edits made in it, one after the other.

    Comments, the order of keys, line ends and the style of numbers and quotes stay; `source` names the file in
    messages. Raises `InputError` in one line for an edit that the layout does not allow, and where the file is
    written in a way that cannot be changed without touching anything else. The new text is valid TOML; whether it is
    a sound layout, `parse` says.
    """
    raw = read_toml(text, source)
    plan = Plan(raw, source)
    for edit in edits:
        done = len(plan.changes)
        plan.make(edit)
        for made in plan.changes[done:]:
            text = written(text, raw, made, source)
    return text
