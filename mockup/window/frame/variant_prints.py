"""The variants in the head: a print of each, the shown one marked; a click shows it."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import Card, Cards

AS_DESIGNED = "As designed"
"""What the pedal is called that no variant changes."""
_TALL, _THUMB = 44.0, (46.0, 36.0)
_MOST = 4


def draw(desk: Desk, cards: Cards, room: Card) -> None:
    """Draw the prints from the left of a room that is as wide as the head leaves."""
    if cards.size == "tight":
        return
    widgets, scale, state = desk.widgets, desk.widgets.scale, desk.view.state
    x = float(room.x)
    has_words = cards.size == "wide"
    for name in (None, *desk.work.variants)[: _MOST + 1]:
        label = name or AS_DESIGNED
        words = widgets.text_size(label, widgets.faces.semibold, theme.NUMBER_PX)[0] if has_words else 0.0
        wide = (_THUMB[0] + 8 + (12 if has_words else 0)) * scale + words
        if x + wide > room.right:
            return
        _print(desk, (x, float(room.y)), wide, label, name, is_on=name == state.variant, has_words=has_words)
        x += wide + 8 * scale


def _print(
    desk: Desk, at: tuple[float, float], wide: float, label: str, name: str | None, *, is_on: bool, has_words: bool
) -> None:
    widgets, scale, palette = desk.widgets, desk.widgets.scale, desk.widgets.palette
    tall = _TALL * scale
    imgui.set_cursor_screen_pos(ImVec2(*at))
    if imgui.invisible_button(f"##variant.{label}", ImVec2(wide, tall), imgui.ButtonFlags_.enable_nav):
        desk.view.change(desk.view.state.with_variant(name))
    place = "the layout itself" if name is None else name
    widgets.mark(f"variant.{place}")
    if not has_words:
        widgets.tip(label)
    canvas = imgui.get_window_draw_list()
    if is_on or imgui.is_item_hovered():
        fill = palette.raised if is_on else palette.hover
        canvas.add_rect_filled(
            ImVec2(*at), ImVec2(at[0] + wide, at[1] + tall), theme.packed(fill, 1.0 if is_on else 0.5),
            theme.BUTTON_ROUND * scale,
        )  # fmt: skip
    if is_on:
        widgets.underline()
    low = ImVec2(at[0] + 4 * scale, at[1] + 4 * scale)
    canvas.add_rect_filled(
        low, ImVec2(low.x + _THUMB[0] * scale, low.y + _THUMB[1] * scale), theme.packed(palette.hover),
        theme.TAG_ROUND * scale,
    )  # fmt: skip
    if has_words:
        size = widgets.text_size(label, widgets.faces.semibold, theme.NUMBER_PX)
        widgets.draw_text(
            canvas, (low.x + (_THUMB[0] + 8) * scale, at[1] + (tall - size[1]) / 2), label, widgets.faces.semibold,
            theme.NUMBER_PX, palette.text if is_on else palette.second,
        )  # fmt: skip
