"""Tags over the picture: a few words on dark glass."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.shell import theme
from mockup.window.shell.faces import TypeStyle
from mockup.window.widgets.widgets import Widgets

_PAD = (8.0, 4.0)  # units round the words, across and down: by eye


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
    style = widgets.faces.number if is_bold else widgets.faces.tag
    wide, tall = _padded(widgets, text, style)
    canvas.add_rect_filled(
        ImVec2(x, y), ImVec2(x + wide, y + tall), theme.packed(theme.GLASS_GROUND, theme.GLASS_ALPHA),
        theme.TAG_ROUND * widgets.scale,
    )  # fmt: skip
    with widgets.font(style):
        place = ImVec2(x + _PAD[0] * widgets.scale, y + _PAD[1] * widgets.scale)
        canvas.add_text(place, theme.packed(theme.GLASS.text), text)
    return wide, tall


def tag_size(widgets: Widgets, text: str) -> tuple[float, float]:
    """Return the width and height of a tag for a text."""
    return _padded(widgets, text, widgets.faces.tag)


def _padded(widgets: Widgets, text: str, style: TypeStyle) -> tuple[float, float]:
    wide, tall = widgets.text_size(text, style)
    return wide + 2 * _PAD[0] * widgets.scale, tall + 2 * _PAD[1] * widgets.scale
