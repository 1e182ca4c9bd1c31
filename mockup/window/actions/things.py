"""Actions on what is picked: the next one, move, turn, let go."""

from __future__ import annotations

from functools import partial

from mockup.window import part_flow, remedies
from mockup.window.actions.action import Action, group, row, state, toggle
from mockup.window.desk import Desk
from mockup.window.work.drawn_marks import things_in_order

WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}
TURN_DEG = 7.5  # one press of an arrow: by eye
FINE_MM = 0.1
COARSE_STEPS = 10
_FIRST_NUMBERS: dict[str | int, str] = {"part": "place.left", "decal": "art.width", "label": "word.size"}
"""The widget of a sheet that is first typed into, by what is picked."""


def _next_thing(desk: Desk, step: int) -> None:
    """Pick the next thing, and turn to its face where that is out of sight."""
    design = desk.work.design
    if design is None:
        return
    marks = desk.tools.lying.changes.drawn()
    desk.view.change(desk.view.state.next_thing(things_in_order(design, marks), step))
    picked = desk.view.state.picked
    part, thing = desk.work.part(desk.view.state.selected), desk.tools.lying.picked
    mark = next((each for each in marks if each.way in picked), None)
    face = part.face if part is not None else thing.face if thing is not None else mark.face if mark else None
    if face is not None:
        desk.camera.see_face(face)


def _step_back(desk: Desk) -> None:
    """Leave a drag, a measure, a tool or a pick, whichever is innermost."""
    now = desk.view.state
    if desk.trial.put_back() or desk.tools.step_back():
        return
    if now.tool != "look":
        desk.view.change(now.with_tool("look"))
    elif now.picked:
        desk.view.change(now.picking())
    elif now.is_sheet_open:
        desk.view.change(now.with_sheet(False))


def _nudge_picked(desk: Desk, across: int, down: int, step_mm: float | None = None) -> None:
    """Move what is picked by steps, of the grid where no other is given: a word or a picture, else the part."""
    thing = desk.tools.lying.picked
    step = step_mm or desk.view.state.grid_mm or FINE_MM
    if desk.tools.is_carrying:
        desk.tools.carry.step(across * step, down * step)
        return
    if thing is None:
        part_flow.shift(desk, across * step, down * step)
        desk.tools.nudged = desk.work.document
        return
    desk.tools.lying.nudge(thing, across * step, down * step)


def _enter(desk: Desk) -> None:
    """Set down what is carried, or keep the remedy on trial; else go into the first number of what is picked."""
    if desk.tools.set_down():
        return
    if desk.trial.is_shown:
        remedies.keep(desk)
    else:
        desk.view.change(desk.view.state.with_sheet(True))
        picked = desk.view.state.picked
        desk.widgets.focus.ask(_FIRST_NUMBERS.get(picked[0][0] if picked else "part", "sheet"))


def _arrow(way: str) -> Action:
    across, down = WAYS[way]

    def does(desk: Desk) -> None:
        if desk.view.state.picked or desk.tools.is_carrying:
            _nudge_picked(desk, across, down)
        else:
            desk.camera.turn(across * TURN_DEG, -down * TURN_DEG)

    return row(f"arrow-{way}", f"Move what is picked {way} by one grid step, or go round", way, does)


def _nudge(way: str, held: str, words: str, step_mm: float | None, times: int) -> Action:
    across, down = WAYS[way]
    return row(
        f"{words.split()[0]}-{way}".lower(), f"{words} {way}", f"{held}+{way}",
        lambda desk: _nudge_picked(desk, across * times, down * times, step_mm),
    )  # fmt: skip


ROWS = group(
    "What is picked",
    row("next-thing", "Pick the next thing", "tab", partial(_next_thing, step=1)),
    row("previous-thing", "Pick the previous thing", "shift+tab", partial(_next_thing, step=-1)),
    row("deselect", "One step back: a drag, a tool, a pick", "escape", _step_back),
    *(_arrow(way) for way in WAYS),
    *(_nudge(way, "shift", "Ten steps", None, COARSE_STEPS) for way in WAYS),
    *(_nudge(way, "alt", "Fine step of 0.1 mm", FINE_MM, 1) for way in WAYS),
    row("type-position", "Set down, or keep what is on trial; else type the first number", "enter", _enter),
    toggle("snapping", "Snapping", "Snap to the centre line, to neighbours and to the grid"),
    row("next-grid", "Next grid", "", state(lambda desk: desk.view.state.next_grid())),
)
