"""Marks of findings, told apart by their shape alone: a block stops, a corner-stood square warns, a ring notes."""

from __future__ import annotations

from typing import Literal

from imgui_bundle import ImVec2, imgui

from mockup.model.finding import Severity
from mockup.window.shell import theme
from mockup.window.shell.icons import icon
from mockup.window.widgets.widgets import Widgets

MARK_PX = 20.0  # units, width and height of a mark: our choice
_LEAN = 1.12  # of a corner-stood square, so that it looks as large as a block: by eye
MarkKind = Severity | Literal["clear"]


def draw_mark(
    widgets: Widgets,
    canvas: imgui.ImDrawList,
    middle: ImVec2,
    kind: MarkKind,
    text: str = "",
    *,
    size: float = MARK_PX,
    alpha: float = 1.0,
    is_on_glass: bool = False,
) -> None:
    """Draw a mark with its middle at a place of the window; `size` is in units."""
    palette, scale = theme.GLASS if is_on_glass else widgets.palette, widgets.scale
    colour = theme.packed(palette.of(kind), alpha)
    on_it = theme.packed(theme.DARK.on_chalk if palette is theme.DARK else theme.LIGHT.on_chalk, alpha)
    half = size / 2 * scale
    if kind == "stop":
        low, high = ImVec2(middle.x - half, middle.y - half), ImVec2(middle.x + half, middle.y + half)
        canvas.add_rect_filled(low, high, colour, 4 * scale)
    elif kind == "warn":
        reach = half * _LEAN
        corners = [(0.0, -reach), (reach, 0.0), (0.0, reach), (-reach, 0.0)]
        canvas.path_clear()
        for x, y in corners:
            canvas.path_line_to(ImVec2(middle.x + x, middle.y + y))
        canvas.path_fill_convex(colour)
    elif kind == "note":
        thick = max(1.0, 2 * scale)
        canvas.add_circle(middle, half - thick / 2, colour, 32, thick)
        on_it = colour
    else:
        canvas.add_circle_filled(middle, half, colour, 32)
        text = icon("check")
    if text:
        imgui.push_font(widgets.faces.bold, theme.SMALL_PX * theme.LINE * (0.92 if kind == "clear" else 1.0))
        wide = imgui.calc_text_size(text)
        canvas.add_text(ImVec2(middle.x - wide.x / 2, middle.y - wide.y / 2), on_it, text)
        imgui.pop_font()
