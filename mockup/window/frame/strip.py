"""The strip at the picture's lower edge, right of the net: what went wrong until it is mended, else what was done."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.marks import MARK_PX, draw_mark

_TALL, _PAD = 36.0, 12.0


def draw(desk: Desk, canvas: imgui.ImDrawList) -> None:
    """Draw the message that is due."""
    widgets, scale, cards = desk.widgets, desk.widgets.scale, desk.view.cards
    line = desk.messages.now
    if line is None:
        return
    left = cards.net.right + _PAD * scale
    room = cards.picture.right - _PAD * scale - left
    inset = (MARK_PX + 8) * scale if line.is_fault else 0.0
    with widgets.font(widgets.faces.plain, theme.TEXT_PX):
        size = imgui.calc_text_size(line.text, False, room - 2 * _PAD * scale - inset)
        tall = max(_TALL * scale, size.y + 16 * scale)
        low = ImVec2(left, cards.picture.bottom - _PAD * scale - tall)
        high = ImVec2(left + size.x + 2 * _PAD * scale + inset, low.y + tall)
        glass = theme.packed(theme.GLASS_GROUND, theme.GLASS_ALPHA)
        canvas.add_rect_filled(low, high, glass, theme.BUTTON_ROUND * scale)
        if line.is_fault:
            middle = ImVec2(low.x + (_PAD + MARK_PX / 2) * scale, (low.y + high.y) / 2)
            draw_mark(canvas, widgets.faces, middle, "warn", "!", palette=theme.GLASS, scale=scale)
        at = ImVec2(low.x + _PAD * scale + inset, low.y + (tall - size.y) / 2)
        canvas.add_text(
            widgets.faces.plain, imgui.get_font_size(), at, theme.packed(theme.GLASS.text), line.text,
            wrap_width=size.x + 1,
        )  # fmt: skip
    widgets.places["line"] = (low.x, low.y, high.x, high.y)
