"""A row with a mark: what is wrong, in words that wrap, and one button at the right for it."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.widgets.marks import MARK_PX, MarkKind, draw_mark
from mockup.window.widgets.widgets import Look, Widgets


def marked_row(
    widgets: Widgets, kind: MarkKind, text: str, label: str, name: str, *, tip: str = "", look: Look = "raised"
) -> bool:
    """Draw a row; True when its button was pushed. Without a label there is none."""
    scale = widgets.scale
    widgets.space(8)
    left, at = imgui.get_cursor_pos_x(), imgui.get_cursor_screen_pos()
    inset, right = (MARK_PX + 12) * scale, left + widgets.wide
    middle = ImVec2(at.x + MARK_PX / 2 * scale, at.y + MARK_PX / 2 * scale)
    draw_mark(widgets, imgui.get_window_draw_list(), middle, kind)
    top = imgui.get_cursor_pos_y()
    imgui.set_cursor_pos_x(left + inset)
    wide = widgets.text_size(label, widgets.faces.strong)[0] + 24 * scale if label else 0.0
    imgui.push_text_wrap_pos(right - (wide + 8 * scale if label else 0.0))
    with widgets.font(widgets.faces.tag):
        imgui.text_unformatted(text)
    imgui.pop_text_wrap_pos()
    low, is_pushed = imgui.get_cursor_pos_y(), False
    if label:
        imgui.set_cursor_pos(ImVec2(right - wide, top - 4 * scale))
        is_pushed = widgets.button(label, name, tip=tip, wide=wide, look=look)
        low = max(low, imgui.get_cursor_pos_y())
    imgui.set_cursor_pos(ImVec2(left, low))
    imgui.dummy(ImVec2(0, 0))
    return is_pushed
