"""The two answers to a remedy that is shown: put it back, or keep it."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window import remedies
from mockup.window.desk import Desk


def draw(desk: Desk, name: str) -> None:
    """Draw Put back at the left, where Do it was, so that a double press takes nothing, and Keep it at the right."""
    widgets, scale = desk.widgets, desk.widgets.scale
    start = imgui.get_cursor_screen_pos()
    right = start.x + widgets.wide
    if widgets.button("Put back", f"{name}.back", key="escape", tip="Nothing is changed"):
        remedies.put_back(desk)
    wide = widgets.text_size("Keep it", widgets.faces.strong)[0] + 28 * scale
    after = imgui.get_cursor_screen_pos()
    imgui.set_cursor_screen_pos(ImVec2(right - wide, start.y))
    is_pushed = widgets.button("Keep it", f"{name}.keep", wide=wide, look="chalk", key="enter", tip="Take it")
    if is_pushed and desk.trial.is_seen:
        remedies.keep(desk)
    imgui.set_cursor_screen_pos(after)
    imgui.dummy(ImVec2(0, 0))
