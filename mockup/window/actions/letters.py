"""Actions on pictures and words that parts do not have."""

from __future__ import annotations

from mockup.window import art_flow, letter_flow
from mockup.window.actions.action import group, row
from mockup.window.desk import Desk


def _is_free(desk: Desk) -> bool:
    thing = desk.tools.lying.picked
    return thing is not None and thing.part is None


ROWS = group(
    "Pictures and words",
    row("write", "Write on the face", "", letter_flow.write),
    row(
        "lying-centre", "Put a picture or word in the middle of its face", "", art_flow.centre, _is_free,
        label="Centre", glyph="arrows-to-dot",
    ),
)  # fmt: skip
