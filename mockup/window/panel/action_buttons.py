"""Buttons and boxes of actions: title, key and tip come from the table."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.window.actions import BY_NAME, act
from mockup.window.desk import Desk


def button(desk: Desk, name: str, *, page: str, wide: float = 0.0, tip: str = "") -> None:
    """Draw an action's button on a page of the panel; it is called PAGE.ACTION."""
    action = BY_NAME[name]
    if desk.widgets.button(
        action.label, f"{page}.{name}", tip=tip or action.about, key=action.key, wide=wide,
        is_on=action.is_on is not None and action.is_on(desk), is_enabled=action.is_enabled(desk),
    ):  # fmt: skip
        act(desk, action)


def row(desk: Desk, names: Sequence[str], *, page: str, columns: int = 0, tips: Sequence[str] = ()) -> None:
    """Draw buttons side by side, all as wide as each other; `tips` replace those of the table."""
    for index, wide in desk.widgets.side_by_side(len(names), columns):
        button(desk, names[index], page=page, wide=wide, tip=tips[index] if tips else "")


def check(desk: Desk, name: str, *, page: str) -> None:
    """Draw an action that is a switch as a box to tick."""
    action = BY_NAME[name]
    is_on = action.is_on is not None and action.is_on(desk)
    if desk.widgets.check(action.label, f"{page}.{name}", is_on, tip=action.about, key=action.key):
        act(desk, action)
