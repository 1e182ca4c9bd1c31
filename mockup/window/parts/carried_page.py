"""The sheet while a part is carried: the room around it, what it holds on to, and the keys that help."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.model.text import capitalized
from mockup.window.desk import Desk
from mockup.window.parts.catalogue import title as title_of
from mockup.window.parts.room_words import figure, told, words
from mockup.window.widgets.marks import MarkKind, draw_mark

_KEYS = (
    ("Alt", "move freely, hold on to nothing"), ("Arrows", "one grid step"), ("Page Up, Down", "another face"),
    ("Enter", "set it down"), ("Esc", "put it back"),
)  # fmt: skip
_ROW = 36.0  # units


def title(desk: Desk) -> tuple[str, str]:
    """Return the name of what is carried."""
    carried = desk.view.carried
    if carried is None:
        return "", ""
    if carried.others:
        return f"{len(carried.others) + 1} parts", "In your hand"
    return (title_of(carried.placement.kind) if carried.is_new else carried.part), "In your hand"


def draw(desk: Desk) -> None:
    """Lay out the sheet."""
    carried, widgets = desk.view.carried, desk.widgets
    if carried is None:
        return
    unit = desk.work.units
    widgets.title("Room around it", is_first=True, hint=unit)
    if carried.is_off:
        widgets.note("Hold it over the box. Let go beside the box, and it goes back into the drawer.")
    for each in told(carried.clearances):
        _row(desk, words(each), figure(each.room_mm, unit), each.severity or "clear")
    if carried.guides:
        widgets.title("Holding on to")
        for guide in carried.guides:
            widgets.text(capitalized(guide.why))
    widgets.title("Keys")
    for key, about in _KEYS:
        with widgets.semibold():
            imgui.text_unformatted(key)
        imgui.same_line(112 * widgets.scale)
        widgets.text(about, colour=widgets.palette.second)


def _row(desk: Desk, text: str, value: str, kind: MarkKind) -> None:
    widgets, scale, palette = desk.widgets, desk.widgets.scale, desk.widgets.palette
    at, wide = imgui.get_cursor_screen_pos(), widgets.wide
    imgui.dummy(ImVec2(wide, _ROW * scale - imgui.get_style().item_spacing.y))
    canvas, middle = imgui.get_window_draw_list(), at.y + _ROW * scale / 2
    draw_mark(widgets, canvas, ImVec2(at.x + 10 * scale, middle), kind, size=18.0)
    low = middle - 10 * scale
    number = widgets.text_size(value, widgets.faces.strong)[0]
    shown = widgets.shortened(text, wide - 30 * scale - number - 8 * scale, widgets.faces.text)
    widgets.draw_text(canvas, (at.x + 30 * scale, low), shown, widgets.faces.text, palette.text)
    widgets.draw_text(canvas, (at.x + wide - number, low), value, widgets.faces.strong, palette.text)
