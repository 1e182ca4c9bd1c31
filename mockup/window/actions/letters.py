"""Actions on lettering that belongs to no part."""

from __future__ import annotations

from mockup.window import letter_flow
from mockup.window.actions.action import group, row
from mockup.window.desk import Desk


def is_mark(desk: Desk) -> bool:
    """True where a scale or a border is picked."""
    picked = desk.view.state.picked
    return len(picked) == 1 and picked[0][0] in ("scale", "border")


ROWS = group(
    "Letters",
    row("write", "Write on the face", "", letter_flow.write),
    row(
        "mark-remove", "Take a scale or a border off the pedal", "", letter_flow.remove, is_mark, label="Remove",
        glyph="trash-can",
    ),
)  # fmt: skip
