"""Tags over the picture: a few words on dark glass."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.shell import theme
from mockup.window.shell.widgets import Widgets


def draw_tag(
    widgets: Widgets,
    canvas: imgui.ImDrawList,
    x: float,
    y: float,
    text: str,
    *,
    is_bold: bool = False,
) -> tuple[float, float]:
    """Draw a text on a dark glass with its top left corner at a place; return its width and height."""
    imgui.push_font(widgets.faces.semibold if is_bold else widgets.faces.plain, theme.NUMBER_PX * theme.LINE)
    size = imgui.calc_text_size(text)
    pad_x, pad_y = 8 * widgets.scale, 4 * widgets.scale
    high = ImVec2(x + size.x + 2 * pad_x, y + size.y + 2 * pad_y)
    canvas.add_rect_filled(
        ImVec2(x, y), high, theme.packed(theme.GLASS_GROUND, theme.GLASS_ALPHA), theme.TAG_ROUND * widgets.scale
    )
    canvas.add_text(ImVec2(x + pad_x, y + pad_y), theme.packed(theme.GLASS.text), text)
    imgui.pop_font()
    return float(high.x - x), float(high.y - y)


def tag_size(widgets: Widgets, text: str) -> tuple[float, float]:
    """Return the width and height of a tag for a text."""
    imgui.push_font(widgets.faces.plain, theme.NUMBER_PX * theme.LINE)
    size = imgui.calc_text_size(text)
    imgui.pop_font()
    return float(size.x) + 16 * widgets.scale, float(size.y) + 8 * widgets.scale
