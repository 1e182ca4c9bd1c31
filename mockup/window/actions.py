"""The one table of actions: keys, buttons and help read it, and it says what each action does.

A key is written "ctrl+shift+z": modifiers first, in the order ctrl, alt, shift. On a Mac, ctrl stands
for the command key. An action without a key is reached from the panel.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from mockup.outputs import OUTPUTS
from mockup.scene.views import VIEWS
from mockup.window import project_flow, save_flow, true_size
from mockup.window.desk import Desk
from mockup.window.state import State, Tab, Toggle

Deed = Callable[[Desk], None]
Answer = Callable[[Desk], bool]

TURN_DEG = 7.5  # one press of an arrow: by eye
PAN_PX = 40.0
ZOOM = 1.15
WIPE_STEP = 0.02
TEXT_STEP = 1.1
WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}


def always(_: Desk) -> bool:
    """True at any time."""
    return True


def is_open(desk: Desk) -> bool:
    """True while a project is open."""
    return desk.work.project is not None


def _can_undo(desk: Desk) -> bool:
    return desk.work.document is not None and desk.work.document.undoes is not None


def _can_redo(desk: Desk) -> bool:
    return desk.work.document is not None and desk.work.document.redoes is not None


def _is_changed(desk: Desk) -> bool:
    return desk.work.is_changed


@dataclass(frozen=True, kw_only=True)
class Action:
    """One thing that the window can do.

    `title` is what help calls it, `label` what its button says, `about` the button's tip. `keys` lists its
    keys, the first shown. `is_on` tells whether it is switched on, where it is a switch.
    """

    name: str
    title: str
    group: str
    keys: tuple[str, ...]
    does: Deed
    is_enabled: Answer = is_open
    is_on: Answer | None = None
    about: str = ""
    label: str = ""

    @property
    def key(self) -> str:
        """The key that is shown, "" for none."""
        return self.keys[0] if self.keys else ""


def _row(
    name: str,
    title: str,
    keys: str,
    does: Deed,
    is_enabled: Answer = is_open,
    *,
    is_on: Answer | None = None,
    about: str = "",
    label: str = "",
) -> Action:
    return Action(
        name=name, title=title, group="", keys=tuple(keys.split()), does=does, is_enabled=is_enabled, is_on=is_on,
        about=about, label=label or title,
    )  # fmt: skip


def _group(group: str, *rows: Action) -> tuple[Action, ...]:
    return tuple(replace(row, group=group) for row in rows)


def _state(change: Callable[[Desk], State]) -> Deed:
    """Return a deed that changes the state of the view."""
    return lambda desk: desk.view.change(change(desk))


def _toggle(name: Toggle, title: str, keys: str, about: str) -> Action:
    return _row(
        name, title, keys, lambda desk: desk.view.toggle(name), about=about, is_on=lambda desk: desk.view.is_on(name)
    )


def _panes(name: str, title: str, keys: str, count: int) -> Action:
    return _row(
        name, title, keys, _state(lambda desk: desk.view.state.with_panes(count, desk.work.variants)), label=str(count),
        is_on=lambda desk: not desk.view.state.is_wipe and len(desk.view.state.variants) == count,
    )  # fmt: skip


def _tab(tab: Tab, label: str, keys: str, about: str) -> Action:
    return _row(
        f"tab-{tab}", f"Panel: {label}", keys, _state(lambda desk: replace(desk.view.state, tab=tab)), label=label,
        about=about, is_on=lambda desk: desk.view.state.tab == tab,
    )  # fmt: skip


def _view(name: str, keys: str) -> Action:
    about = VIEWS[name].about
    return _row(
        f"view-{name}", name.capitalize(), keys, lambda desk: desk.camera.take_view(name),
        about=about[0].upper() + about[1:],
        is_on=lambda desk: desk.view.state.view == name and desk.view.state.true_size is None,
    )  # fmt: skip


def _save(output: str) -> Action:
    keys = {"still": "ctrl+e", "turntable": "ctrl+shift+e", "template": "ctrl+t", "sheet": "ctrl+shift+t"}
    return _row(
        f"save-{output}", f"Save the {output.replace('-', ' ')}", keys.get(output, ""),
        lambda desk: save_flow.save_output(desk, output), about=OUTPUTS.summary(output),
    )  # fmt: skip


def _next_part(desk: Desk, step: int) -> None:
    desk.view.change(replace(desk.view.state.next_part(desk.work.part_names, step), tab="part"))


def _step_back(desk: Desk) -> None:
    """Leave a drag, a measure, a tool or a selection, whichever is innermost."""
    state = desk.view.state
    if desk.tools.step_back():
        return
    if state.tool != "look":
        desk.view.change(replace(state, tool="look"))
    elif state.selected is not None:
        desk.view.change(replace(state, selected=None))


def _turn_part(desk: Desk) -> None:
    part = desk.work.part(desk.view.state.selected)
    if part is not None:
        desk.work.edit(lambda document, scope: document.turned(part.name, part.rotation_deg + 90.0, **scope))


def _type_position(desk: Desk) -> None:
    desk.view.change(replace(desk.view.state, tab="part"))
    desk.widgets.focus.ask("place.left")


def _measure(desk: Desk) -> None:
    state = desk.view.state
    desk.tools.measure.clear()
    is_on = state.tool == "measure"
    desk.view.change(replace(state, tool="look") if is_on else replace(state, tool="measure", tab="check"))


def _nudge(way: str) -> Action:
    across, down = WAYS[way]
    return _row(
        f"nudge-{way}", f"Move the part {way} by one grid step", f"alt+{way}",
        lambda desk: desk.tools.carry.nudge(across, down),
    )  # fmt: skip


def _orbit(way: str, title: str) -> Action:
    across, down = WAYS[way]
    return _row(f"orbit-{way}", title, way, lambda desk: desk.camera.turn(across * TURN_DEG, -down * TURN_DEG))


def _pan(way: str) -> Action:
    across, down = WAYS[way]
    return _row(
        f"pan-{way}", f"Shift the picture {way}", f"shift+{way}",
        lambda desk: desk.camera.pan(across * PAN_PX, down * PAN_PX),
    )  # fmt: skip


ACTIONS: tuple[Action, ...] = (
    *_group(
        "Project",
        _row("start-page", "Open another project", "ctrl+o ctrl+shift+o", project_flow.leave_project),
        _row(
            "save", "Save the layout", "ctrl+s", project_flow.save_layout, _is_changed, label="Save layout",
            about="Write the changed values into the layout file; nothing else in it changes",
        ),
        _row("reload", "Read all files again", "ctrl+r f5", lambda desk: desk.work.reload()),
        _row(
            "discard", "Drop unsaved changes", "", lambda desk: desk.work.discard(), _is_changed, label="Drop changes",
            about="Go back to the file as it is",
        ),
        _row("quit", "Close the window", "ctrl+q", project_flow.close_window, always),
    ),
    *_group(
        "Change",
        _row("undo", "Undo", "ctrl+z", lambda desk: desk.work.undo(), _can_undo, about="Take the last change back"),
        _row(
            "redo", "Redo", "ctrl+shift+z ctrl+y", lambda desk: desk.work.redo(), _can_redo,
            about="Make the change again that was undone last",
        ),
        _row("next-part", "Select the next part", "tab", partial(_next_part, step=1)),
        _row("previous-part", "Select the part before", "shift+tab", partial(_next_part, step=-1)),
        _row("deselect", "Select nothing, or leave a tool", "escape", _step_back),
        *(_nudge(way) for way in WAYS),
        _row("turn-part", "Turn the part clockwise by 90 degrees", "alt+r", _turn_part),
        _row("type-position", "Type the part's position", "enter", _type_position),
        _toggle("snapping", "Snapping", "n", "Snap to the centre line, to neighbours and to the grid"),
        _row("next-grid", "Next grid", "shift+n", _state(lambda desk: desk.view.state.next_grid())),
    ),
    *_group(
        "View",
        *(_view(name, str(number)) for number, name in enumerate(VIEWS, 1)),
        _row("fit", "Fit the pedal into the picture", "f", lambda desk: desk.camera.fit(), label="Fit"),
        _row("fit-part", "Fit the selected part into the picture", "shift+f", lambda desk: desk.camera.fit_part()),
        _row(
            "true-size", "True size on this screen", "0", true_size.toggle_true_size, label="True size",
            about="As large as the pedal itself, on this screen",
            is_on=lambda desk: desk.view.state.true_size is not None,
        ),
        _row("measure-screen", "Measure this screen with a card", "", true_size.measure_screen),
        _row(
            "perspective", "Perspective", "p", lambda desk: desk.camera.toggle_perspective(),
            about="With perspective, or without: then all lengths compare",
            is_on=lambda desk: desk.camera.orbit.ortho_mm is None,
        ),
        _orbit("left", "Go round to the left"),
        _orbit("right", "Go round to the right"),
        _orbit("up", "Go up"),
        _orbit("down", "Go down"),
        *(_pan(way) for way in WAYS),
        _row("zoom-in", "Nearer", "plus ctrl+plus", lambda desk: desk.camera.zoom(ZOOM)),
        _row("zoom-out", "Farther", "minus ctrl+minus", lambda desk: desk.camera.zoom(1 / ZOOM)),
    ),
    *_group(
        "Show",
        _toggle("decal", "Decal", "d", "The printed film"),
        _toggle("hardware", "Hardware", "h", "Knobs, switches, sockets and what is behind them"),
        _toggle("lid", "Lid", "l", "The plate that closes the box from below"),
        _toggle("see-through", "See-through box", "x", "See the parts inside through the box"),
        _toggle("lamp", "Lamps lit", "k", "All lamps lit, or all dark; at first as in the layout"),
        _toggle("clear-coat", "Clear coat", "c", "Try clear lacquer over everything; the page Finish keeps it"),
        _toggle("findings", "Findings", "i", "Number the places where the checks found something"),
        _row(
            "proof", "Flat colours", "o", _state(lambda desk: desk.view.state.next_look()),
            about="The predicted colours alone, without light: the proof",
            is_on=lambda desk: desk.view.state.look == "proof",
        ),
        _row(
            "measure", "Measure", "m", _measure, is_on=lambda desk: desk.view.state.tool == "measure",
            about="Click a point for its distance from the edges, a second point for the distance between both",
        ),
        _row("next-light", "Next light", "g", _state(lambda desk: desk.view.state.next_light())),
        _toggle("panel", "Panel beside the picture", "b", ""),
    ),
    *_group(
        "Variants",
        _row(
            "next-variant", "Next variant", "v", _state(lambda desk: desk.view.state.next_variant(desk.work.variants))
        ),
        _row(
            "previous-variant", "Variant before", "shift+v",
            _state(lambda desk: desk.view.state.next_variant(desk.work.variants, -1)),
        ),
        _panes("one-pane", "One picture", "ctrl+1", 1),
        _panes("two-panes", "Two side by side", "ctrl+2", 2),
        _panes("three-panes", "Three side by side", "ctrl+3", 3),
        _panes("four-panes", "Four pictures", "ctrl+4", 4),
        _row(
            "wipe", "Wipe between two", "w", _state(lambda desk: desk.view.state.wiped(desk.work.variants)),
            label="Wipe", is_on=lambda desk: desk.view.state.is_wipe,
        ),
        _row(
            "wipe-left", "Move the wipe line left", "comma",
            _state(lambda desk: desk.view.state.wiped_to(desk.view.state.wipe - WIPE_STEP)),
        ),
        _row(
            "wipe-right", "Move the wipe line right", "period",
            _state(lambda desk: desk.view.state.wiped_to(desk.view.state.wipe + WIPE_STEP)),
        ),
    ),
    *_group(
        "Save",
        *(_save(output) for output in OUTPUTS.names()),
        _row(
            "cancel", "Stop what is being saved", "ctrl+period", lambda desk: desk.saves.stop(),
            lambda desk: desk.saves.is_busy, label="Stop", about="Nothing is written",
        ),
    ),
    *_group(
        "Help",
        _row("help", "Help, all keys", "f1 shift+slash", lambda desk: desk.view.show_help(True), always),
        _row("focus-panel", "Keys into the panel; Esc goes back", "f6", lambda desk: desk.widgets.focus.ask("page")),
        _tab("look", "Look", "f7", "Variants, view, what is shown, light"),
        _tab("finish", "Finish", "f8", "Paint, sheen, film, clear coat"),
        _tab("part", "Part", "f9", "The selected part: what it is and where"),
        _tab("check", "Check", "f10", "Findings and measuring"),
        _tab("save", "Save", "f11", "The layout and all that can be made of it"),
        _row("theme", "Light or dark window", "", lambda desk: desk.window.next_palette(), always, label="Theme"),
        _row("bigger", "Larger text", "ctrl+shift+plus", lambda desk: desk.window.rescale(TEXT_STEP), always),
        _row("smaller", "Smaller text", "ctrl+shift+minus", lambda desk: desk.window.rescale(1 / TEXT_STEP), always),
    ),
)  # fmt: skip
"""Every action, in the order of help."""

BY_NAME: dict[str, Action] = {action.name: action for action in ACTIONS}
GROUPS: tuple[str, ...] = tuple(dict.fromkeys(action.group for action in ACTIONS))
_BY_KEY: dict[str, Action] = {key: action for action in ACTIONS for key in action.keys}


def action_of(key: str) -> Action | None:
    """Return the action on a key such as "ctrl+s", None for none."""
    return _BY_KEY.get(key)


def act(desk: Desk, action: Action) -> None:
    """Do an action, if it is enabled."""
    desk.window.touch()
    if action.is_enabled(desk):
        action.does(desk)
