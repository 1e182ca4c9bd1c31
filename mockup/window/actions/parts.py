"""Actions on parts: found, named, doubled, lettered, set in order, removed."""

from __future__ import annotations

from dataclasses import replace

from mockup.window import art_flow, part_flow
from mockup.window.actions.action import group, row
from mockup.window.desk import Desk


def has_part(desk: Desk) -> bool:
    """True where a part is picked, or several."""
    return bool(desk.view.state.picked_parts)


def _has_several(desk: Desk) -> bool:
    return len(desk.view.state.picked_parts) > 1


def _is_picked(desk: Desk) -> bool:
    return has_part(desk) or desk.tools.lying.picked is not None


def _has_one(desk: Desk) -> bool:
    return desk.view.state.selected is not None


def _find(desk: Desk) -> None:
    desk.view.change(replace(desk.view.state.at_station("parts"), picked=()))
    desk.widgets.focus.ask("drawer.find")


def _twin(desk: Desk) -> None:
    if has_part(desk):
        part_flow.twin(desk)
    else:
        art_flow.twin(desk)


def _turn(desk: Desk) -> None:
    if has_part(desk):
        part_flow.turn(desk)
    else:
        art_flow.turn(desk)


def _remove(desk: Desk) -> None:
    if has_part(desk):
        part_flow.remove(desk)
    else:
        art_flow.remove(desk)


ROWS = group(
    "Parts",
    row("find", "Find a part", "f3", _find, label="Find"),
    row("rename", "Type the part's name", "f2", part_flow.open_naming, _has_one, label="Rename", glyph="pencil"),
    row("pick-all", "Pick all on this face", "ctrl+a", part_flow.pick_all),
    row(
        "label",
        "Letter the part with its name",
        "ctrl+l",
        part_flow.letter_picked,
        has_part,
        label="Label",
        glyph="tag",
    ),
    row(
        "scale", "Marks round the knob", "ctrl+shift+l", part_flow.scale_picked, has_part, label="Scale", glyph="gauge"
    ),
    row("twin", "A second one", "ctrl+d", _twin, _is_picked, label="Twin", glyph="clone"),
    row("turn-part", "Turn by 90 degrees", "ctrl+r", _turn, _is_picked, label="Turn", glyph="arrow-rotate-right"),
    row("remove", "Remove what is picked", "delete", _remove, _is_picked, label="Remove", glyph="trash-can"),
    row(
        "mirror",
        "Mirror about the centre line",
        "",
        lambda desk: part_flow.set_out(desk, "mirror"),
        has_part,
        label="Mirror",
    ),
    row("spread", "Spread evenly", "", lambda desk: part_flow.set_out(desk, "spread"), _has_several),
    row("centre", "Centre as one", "", lambda desk: part_flow.set_out(desk, "centre"), has_part),
)
