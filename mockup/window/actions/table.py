"""The one table of actions: keys, buttons and help read it."""

from __future__ import annotations

from mockup.window.actions import letters, look, parts, pedal, places, take_away, things, variants
from mockup.window.actions.action import Action
from mockup.window.desk import Desk

ACTIONS: tuple[Action, ...] = (
    *pedal.ROWS, *things.ROWS, *parts.ROWS, *letters.ROWS, *look.VIEW_ROWS, *look.SHOW_ROWS,
    *variants.ROWS, *take_away.ROWS, *places.ROWS,
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
    desk.work.held.let_go()
    if action.is_enabled(desk):
        action.does(desk)
