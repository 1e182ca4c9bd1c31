"""Buttons and switches of actions: title, key, icon and tip come from the table."""

from __future__ import annotations

from collections.abc import Sequence

from imgui_bundle import ImVec2, imgui

from mockup.window.actions.action import Action
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import SHEET_ACTIONS
from mockup.window.shell.faces import TypeStyle
from mockup.window.shell.icons import icon
from mockup.window.widgets.widgets import Look


def button(
    desk: Desk, name: str, *, page: str, wide: float = 0.0, tall: float = 0.0, tip: str = "", look: Look = "raised",
    label: str | None = None,
) -> None:  # fmt: skip
    """Draw an action's button; it is called PAGE.ACTION."""
    action = BY_NAME[name]
    if desk.widgets.button(
        action.label if label is None else label, f"{page}.{name}", tip=tip or action.about, key=action.key,
        wide=wide, tall=tall, look=look, glyph=action.glyph, is_on=_is_on(desk, action),
        is_enabled=action.is_enabled(desk),
    ):  # fmt: skip
        act(desk, action)


def row(
    desk: Desk, names: Sequence[str], *, page: str, columns: int = 0, tips: Sequence[str] = (), look: Look = "raised"
) -> None:
    """Draw buttons side by side, all as wide as each other; `tips` replace those of the table."""
    for index, wide in desk.widgets.side_by_side(len(names), columns):
        button(desk, names[index], page=page, wide=wide, tip=tips[index] if tips else "", look=look)


def check(desk: Desk, name: str, *, page: str) -> None:
    """Draw an action that is a switch as a box to tick."""
    action = BY_NAME[name]
    if desk.widgets.check(action.label, f"{page}.{name}", _is_on(desk, action), tip=action.about, key=action.key):
        act(desk, action)


def tiles(desk: Desk, names: Sequence[str]) -> None:
    """Draw actions side by side over the width of a sheet, icon over word; they are called sheet.ACTION."""
    widgets, scale = desk.widgets, desk.widgets.scale
    tall = (SHEET_ACTIONS - 16) * scale
    for index, wide in widgets.side_by_side(len(names)):
        action = BY_NAME[names[index]]
        is_enabled = action.is_enabled(desk)
        at = imgui.get_cursor_screen_pos()
        if widgets.button("", f"sheet.{action.name}", wide=wide, tall=tall, look="quiet", is_enabled=is_enabled,
                          tip=action.about or action.title, key=action.key):  # fmt: skip
            act(desk, action)
        canvas, alpha = imgui.get_window_draw_list(), 1.0 if is_enabled else 0.5
        middle = at.x + wide / 2
        with widgets.font(TypeStyle(widgets.faces.plain, theme.TEXT_PX + 2)):
            size = imgui.calc_text_size(icon(action.glyph))
            canvas.add_text(
                ImVec2(middle - size.x / 2, at.y + 4 * scale), theme.packed(widgets.palette.text, alpha),
                icon(action.glyph),
            )  # fmt: skip
        with widgets.small():
            size = imgui.calc_text_size(action.label)
            canvas.add_text(
                ImVec2(middle - size.x / 2, at.y + tall - size.y - 2 * scale),
                theme.packed(widgets.palette.second, alpha), action.label,
            )  # fmt: skip


def _is_on(desk: Desk, action: Action) -> bool:
    return action.is_on is not None and action.is_on(desk)
