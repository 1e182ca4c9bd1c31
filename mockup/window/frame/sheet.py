"""The sheet and the drawer: cards that the open station fills; head and foot stay, the body scrolls."""

from __future__ import annotations

from collections.abc import Callable

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import SHEET_HEAD, Card, Cards
from mockup.window.station import Station


def draw(desk: Desk, cards: Cards, station: Station, drawer_of: Station) -> None:
    """Lay out the station's sheet, and where it is open the drawer of a station, mostly the same one."""
    desk.widgets.focus.show("drawer", desk.view.state.station)
    desk.widgets.focus.show("sheet", f"{desk.view.state.station} {desk.view.state.picked}")
    if cards.drawer is not None:
        _drawer(desk, cards.drawer, drawer_of, is_moving=cards.drawer.x < cards.rail.right)
    if cards.sheet is not None:
        with desk.widgets.card("sheet.card", cards.sheet, "left"):
            _sheet(desk, cards.sheet, station)


def draw_leaving(desk: Desk, card: Card, station: Station) -> None:
    """Lay out the drawer of a station that is left, on its way back behind the rail."""
    _drawer(desk, card, station, is_moving=True)
    desk.widgets.focus.miss("drawer")


def _drawer(desk: Desk, card: Card, station: Station, *, is_moving: bool) -> None:
    """Lay out a drawer; nothing can be found in one that is moving."""
    there = dict(desk.widgets.places)
    with desk.widgets.card("drawer", card, "right"):
        station.draw_drawer()
    if is_moving:
        desk.widgets.places.clear()
        desk.widgets.places.update(there)


def _sheet(desk: Desk, card: Card, station: Station) -> None:
    scale, inset = desk.widgets.scale, theme.INSET * desk.widgets.scale
    head, foot = (SHEET_HEAD + 8) * scale, station.foot_height() * scale
    _part(desk, "sheet.head", _slice(card, 0.0, head), (inset, 14 * scale), station.draw_head)
    _line(desk, card, head)
    body = _slice(card, head + 1, card.height - head - 1 - foot)
    _part(
        desk, f"sheet.{desk.view.state.station}", body, (inset, theme.SECTION * scale), station.draw_sheet,
        focus="sheet", is_scrolled=True,
    )  # fmt: skip
    if foot:
        _line(desk, card, card.height - foot)
        place = _slice(card, card.height - foot + 1, foot - 1)
        _part(desk, "sheet.foot", place, (inset, 8 * scale), station.draw_foot, focus="sheet.foot")


def _slice(card: Card, top: float, tall: float) -> Card:
    return Card(card.x, card.y + round(top), card.width, max(round(tall), 1))


def _part(
    desk: Desk, name: str, card: Card, pad: tuple[float, float], fill: Callable[[], None], *, focus: str = "",
    is_scrolled: bool = False,
) -> None:  # fmt: skip
    """Lay out a part of the sheet; the gutter of its scroll bar is always kept."""
    keys = desk.widgets.focus
    imgui.set_cursor_screen_pos(ImVec2(card.x, card.y))
    imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(*pad))
    imgui.set_next_window_content_size(ImVec2(card.width - 2 * pad[0], 0))
    if focus and keys.is_asked(focus):
        imgui.set_next_window_focus()
    flags = 0 if is_scrolled else imgui.WindowFlags_.no_scrollbar | imgui.WindowFlags_.no_scroll_with_mouse
    size = ImVec2(card.width, card.height)
    imgui.begin_child(name, size, imgui.ChildFlags_.always_use_window_padding, flags)
    imgui.pop_style_var()
    if focus:
        keys.enter(focus)
    fill()
    imgui.end_child()


def _line(desk: Desk, card: Card, y: float) -> None:
    imgui.get_window_draw_list().add_line(
        ImVec2(card.x, card.y + y), ImVec2(card.right, card.y + y), theme.packed(desk.widgets.palette.line), 1.0
    )
