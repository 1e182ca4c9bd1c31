"""The strip at the picture's lower edge, right of the net: what is wrong until it is mended, else what was done."""

from __future__ import annotations

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import Card, Cards
from mockup.window.shell.messages import Message
from mockup.window.widgets.marks import MARK_PX, draw_mark

_TALL, _PAD = 36.0, 12.0
_MOST_WIDE = 620.0  # units: longer lines are hard to read; by eye


def draw(desk: Desk, cards: Cards) -> None:
    """Draw the message that is due, with its button."""
    widgets, scale, line = desk.widgets, desk.widgets.scale, desk.messages.now
    if line is None:
        return
    text = line.text + (f"  And {desk.messages.more} more." if desk.messages.more else "")
    pad = _PAD * scale
    left = cards.net.right + pad
    inset = (MARK_PX + 8) * scale if line.is_fault else 0.0
    button = widgets.text_size(line.remedy.label, widgets.faces.strong)[0] if line.remedy else 0.0
    beside = button + (3 * pad if line.remedy else 0.0)
    room = min(cards.picture.right - pad - left, _MOST_WIDE * scale) - 2 * pad - inset - beside
    across, down = widgets.lines_size(text, widgets.faces.text, max(room, 60 * scale))
    tall = max(_TALL * scale, down + 16 * scale)
    wide = across + 2 * pad + inset + beside
    place = Card(round(left), round(cards.picture.bottom - pad - tall), round(wide), round(tall))
    glass = ImVec4(*theme.GLASS_GROUND, theme.GLASS_ALPHA)
    imgui.push_style_color(imgui.Col_.window_bg, glass)
    with widgets.card("strip", place, "above"):
        canvas = imgui.get_window_draw_list()
        if line.is_fault:
            middle = ImVec2(place.x + pad + MARK_PX / 2 * scale, place.y + tall / 2)
            draw_mark(widgets, canvas, middle, "warn", "!", is_on_glass=True)
        at = ImVec2(place.x + pad + inset, place.y + (tall - down) / 2)
        widgets.draw_lines(canvas, at, text, widgets.faces.text, theme.GLASS.text, room=across + 1)
        _button(desk, line, ImVec2(place.right - button - 3 * pad, place.y + (tall - 28 * scale) / 2))
    imgui.pop_style_color()
    widgets.places["line"] = (place.x, place.y, place.right, place.bottom)


def _button(desk: Desk, line: Message, at: ImVec2) -> None:
    if line.remedy is None:
        return
    imgui.set_cursor_screen_pos(at)
    palette = theme.GLASS
    for use, colour in (
        (imgui.Col_.button, palette.raised), (imgui.Col_.button_hovered, palette.hover),
        (imgui.Col_.button_active, palette.chosen), (imgui.Col_.text, palette.text),
    ):  # fmt: skip
        imgui.push_style_color(use, ImVec4(*colour, 1.0))
    with desk.widgets.semibold():
        is_pushed = imgui.button(f"{line.remedy.label}##strip", ImVec2(0, 28 * desk.widgets.scale))
    desk.widgets.mark("line.remedy")
    imgui.pop_style_color(4)
    if is_pushed:
        line.remedy.does()
