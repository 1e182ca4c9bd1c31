"""The sheet and the drawer: cards that the open station fills; head and foot stay, the body scrolls."""

from __future__ import annotations

from collections.abc import Callable

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import SHEET_HEAD, Card, Cards
from mockup.window.station import Station


def draw(desk: Desk, cards: Cards, station: Station) -> None:
    """Lay out the station's sheet, and its drawer where it is open."""
    if cards.drawer is not None:
        with desk.widgets.card("drawer", cards.drawer, "right"):
            station.draw_drawer()
    if cards.sheet is not None:
        with desk.widgets.card("sheet", cards.sheet, "left"):
            _sheet(desk, cards.sheet, station)


def _sheet(desk: Desk, card: Card, station: Station) -> None:
    widgets, scale = desk.widgets, desk.widgets.scale
    head, foot = SHEET_HEAD * scale, station.foot_height() * scale
    inset = theme.INSET * scale
    _part(desk, "sheet.head", card, 0.0, head + 8 * scale, (inset, 14 * scale), station.draw_head)
    _line(desk, card, head + 8 * scale)
    body = f"sheet.{desk.view.state.station}"
    top = head + 9 * scale
    _part(desk, body, card, top, card.height - top - foot, (inset, theme.SECTION * scale), station.draw_sheet, True)
    if foot:
        _line(desk, card, card.height - foot)
        _part(desk, "sheet.foot", card, card.height - foot + 1, foot - 1, (inset, 8 * scale), station.draw_foot)
    del widgets


def _part(
    desk: Desk, name: str, card: Card, top: float, tall: float, pad: tuple[float, float], fill: Callable[[], None],
    is_scrolled: bool = False,
) -> None:  # fmt: skip
    """Lay out a part of the sheet; the gutter of its scroll bar is always kept."""
    imgui.set_cursor_screen_pos(ImVec2(card.x, card.y + top))
    imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(*pad))
    imgui.set_next_window_content_size(ImVec2(card.width - 2 * pad[0], 0))
    flags = 0 if is_scrolled else imgui.WindowFlags_.no_scrollbar | imgui.WindowFlags_.no_scroll_with_mouse
    imgui.begin_child(
        name, ImVec2(card.width, max(tall, 1.0)),
        imgui.ChildFlags_.always_use_window_padding | imgui.ChildFlags_.nav_flattened, flags,
    )  # fmt: skip
    imgui.pop_style_var()
    desk.widgets.focus.take(name)
    fill()
    imgui.end_child()


def _line(desk: Desk, card: Card, y: float) -> None:
    imgui.get_window_draw_list().add_line(
        ImVec2(card.x, card.y + y), ImVec2(card.right, card.y + y), theme.packed(desk.widgets.palette.line), 1.0
    )
