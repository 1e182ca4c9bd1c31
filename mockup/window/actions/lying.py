"""Actions on the picture or word that is picked."""

from __future__ import annotations

from mockup.window import art_flow
from mockup.window.actions.action import group, row
from mockup.window.desk import Desk


def _is_lying(desk: Desk) -> bool:
    return desk.tools.lying.picked is not None


def _is_free(desk: Desk) -> bool:
    thing = desk.tools.lying.picked
    return thing is not None and thing.part is None


ROWS = group(
    "Pictures and words",
    row(
        "lying-centre", "Put a picture or word in the middle of its face", "", art_flow.centre, _is_free,
        label="Centre", glyph="arrows-to-dot",
    ),
    row(
        "lying-twin", "A second one of a picture or word", "", art_flow.twin, _is_free, label="Twin", glyph="clone",
    ),
    row(
        "lying-turn", "Turn a picture or word by 90 degrees", "", art_flow.turn, _is_free, label="Turn",
        glyph="arrow-rotate-right",
    ),
    row(
        "lying-remove", "Take a picture or word off the pedal", "", art_flow.remove, _is_lying, label="Remove",
        glyph="trash-can",
    ),
)  # fmt: skip
