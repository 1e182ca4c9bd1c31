"""Actions on parts: found, named, doubled, lettered, set in order, removed."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from mockup.window import art_flow, letter_flow, part_flow
from mockup.window.actions.action import group, row
from mockup.window.desk import Desk


def has_part(desk: Desk) -> bool:
    """True where a part is picked, or several."""
    return bool(desk.view.state.picked_parts)


def _has_several(desk: Desk) -> bool:
    return len(desk.view.state.picked_parts) > 1


def _is_picked(desk: Desk) -> bool:
    return has_part(desk) or desk.tools.lying.picked is not None or _is_mark(desk)


def _is_mark(desk: Desk) -> bool:
    return len(desk.view.state.picked) == 1 and desk.view.state.picked[0][0] in ("scale", "border")


def _label(desk: Desk) -> None:
    """Letter the picked parts; the label that a part has already is picked."""
    part = desk.view.state.selected
    there = letter_flow.label_of(desk, part) if part is not None else None
    if there is not None:
        desk.view.change(desk.view.state.picking(there))
    else:
        part_flow.letter_picked(desk)


def _rename(desk: Desk) -> None:
    if desk.view.state.selected is not None:
        part_flow.open_naming(desk)
    elif _is_variant(desk):
        desk.widgets.focus.ask("variant.name")
    else:
        letter_flow.rewrite(desk)


def _is_named(desk: Desk) -> bool:
    thing = desk.tools.lying.picked
    return desk.view.state.selected is not None or _is_variant(desk) or (thing is not None and thing.is_word)


def _is_variant(desk: Desk) -> bool:
    """True where the sheet is that of a variant and nothing else is picked."""
    state = desk.view.state
    return state.page == "variants" and state.variant is not None and not state.picked


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
    elif _is_mark(desk):
        letter_flow.remove(desk)
    else:
        art_flow.remove(desk)


def _next_face(desk: Desk, step: int) -> None:
    if desk.tools.is_carrying:
        desk.tools.carry.next_face(step)
    else:
        part_flow.next_face(desk, step)


ROWS = group(
    "Parts",
    row("find", "Find a part", "f3", _find, label="Find"),
    row(
        "rename",
        "Type the name of a part or a variant, or a word",
        "f2",
        _rename,
        _is_named,
        label="Rename",
        glyph="pencil",
    ),
    row("pick-all", "Pick all on this face", "ctrl+a", part_flow.pick_all),
    row(
        "label",
        "Letter the part with its name",
        "ctrl+l",
        _label,
        has_part,
        label="Label",
        glyph="tag",
    ),
    row(
        "scale", "Marks round the knob", "ctrl+shift+l", part_flow.scale_picked, has_part, label="Scale", glyph="gauge"
    ),
    row("twin", "A second one like it", "ctrl+d", _twin, _is_picked, label="Twin", glyph="clone"),
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
    row("next-face", "To the next face", "pagedown", partial(_next_face, step=1)),
    row("previous-face", "To the previous face", "pageup", partial(_next_face, step=-1)),
    row("centre", "Centre as one", "", lambda desk: part_flow.set_out(desk, "centre"), has_part),
)
