"""A row of a station's list: a word, a scale, a border or a picture on the pedal."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.state import Way


def thing_row(desk: Desk, way: Way, name: str, said: str) -> None:
    """Draw the row of a thing by its name, and at the right what it is; a click picks it."""
    widgets, scale = desk.widgets, desk.widgets.scale
    low, wide = imgui.get_cursor_screen_pos(), widgets.wide
    size = ImVec2(wide, 28 * scale)
    pushed = imgui.invisible_button(f"##{way[0]}.{way[1]}", size, imgui.ButtonFlags_.enable_nav)
    widgets.mark(f"{way[0]}.{way[1]}")
    canvas = imgui.get_window_draw_list()
    if imgui.is_item_hovered() or imgui.is_item_focused():
        canvas.add_rect_filled(
            ImVec2(low.x - 6 * scale, low.y), ImVec2(low.x + wide + 6 * scale, low.y + size.y),
            theme.packed(widgets.palette.hover), 6 * scale,
        )  # fmt: skip
    far = widgets.text_size(said, widgets.faces.plain, theme.SMALL_PX)[0]
    shown = widgets.shortened(name, wide - far - 12 * scale, widgets.faces.semibold, theme.TEXT_PX)
    widgets.draw_text(
        canvas, (low.x, low.y + 5 * scale), shown, widgets.faces.semibold, theme.TEXT_PX, widgets.palette.text
    )
    widgets.draw_text(
        canvas, (low.x + wide - far, low.y + 7 * scale), said, widgets.faces.plain, theme.SMALL_PX,
        widgets.palette.second,
    )  # fmt: skip
    if pushed:
        desk.view.change(desk.view.state.picking(way))
