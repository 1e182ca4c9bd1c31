"""The line that parts two pictures in one place, with a grip to drag it by."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme

_GRIP = (12.0, 36.0)  # units


def draw(desk: Desk, canvas: imgui.ImDrawList) -> float:
    """Draw the line; return where it is, in pixels from the window's left."""
    widgets, rect = desk.widgets, desk.view.grid.rects[0]
    left, top = desk.view.origin(0)
    x = left + round(rect.width * desk.view.state.wipe) + 0.5
    canvas.add_line(ImVec2(x, top), ImVec2(x, top + rect.height), theme.grey(0.05, 0.5), 4 * widgets.scale)
    canvas.add_line(ImVec2(x, top), ImVec2(x, top + rect.height), theme.grey(0.97), max(1.0, 2 * widgets.scale))
    grip_x, grip_y = _GRIP[0] / 2 * widgets.scale, _GRIP[1] / 2 * widgets.scale
    half = top + rect.height / 2
    low, high = ImVec2(x - grip_x, half - grip_y), ImVec2(x + grip_x, half + grip_y)
    canvas.add_rect_filled(low, high, theme.grey(0.97), grip_x)
    canvas.add_rect(low, high, theme.grey(0.05, 0.5), grip_x, max(1.0, widgets.scale))
    for side in (-1, 1):  # two ridges to hold it by
        ridge = x + side * 2 * widgets.scale
        canvas.add_line(ImVec2(ridge, low.y + grip_y * 0.7), ImVec2(ridge, high.y - grip_y * 0.7), theme.grey(0.3), 1.0)
    widgets.places["wipe.line"] = (low.x, low.y, high.x, high.y)
    return x
