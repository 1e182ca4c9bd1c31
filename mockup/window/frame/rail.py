"""The rail: the seven stations in the order of work, each with what it stands at; theme and help at its foot."""

from __future__ import annotations

from collections.abc import Mapping

from imgui_bundle import ImVec2, imgui

from mockup.model.material import Colour
from mockup.model.text import uncapitalized
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import STATIONS, Card, Cards
from mockup.window.shell.faces import TypeStyle
from mockup.window.shell.icons import icon
from mockup.window.state import StationName
from mockup.window.stations import RailRow
from mockup.window.widgets.tile import tile

_ICON_PX = 18.0  # units: our choice
_INSET = 8.0  # units kept free beside a word: our choice
_DOT_PX = 5.0  # radius of the dot of paint, units: our choice


def draw(desk: Desk, cards: Cards, rows: Mapping[StationName, RailRow]) -> None:
    """Lay out the rail."""
    widgets, scale = desk.widgets, desk.widgets.scale
    with widgets.card("rail", cards.rail, "right", is_bare=True):
        low, high = ImVec2(cards.rail.x, cards.rail.y), ImVec2(cards.rail.right, cards.rail.bottom)
        imgui.get_window_draw_list().add_rect_filled(low, high, theme.packed(widgets.palette.ground))
        tall = round(STATIONS[cards.size] * scale)
        for index, row in enumerate(rows.values()):
            _station(desk, Card(cards.rail.x, cards.rail.y + index * tall, cards.rail.width, tall), row, cards)
        _foot(desk, cards)


def _station(desk: Desk, place: Card, row: RailRow, cards: Cards) -> None:
    widgets, scale, palette = desk.widgets, desk.widgets.scale, desk.widgets.palette
    name = f"station-{row.name}"
    action, is_on = BY_NAME[name], desk.view.state.station == row.name
    imgui.set_cursor_screen_pos(ImVec2(place.x, place.y))
    tip = row.about if cards.size != "tight" else f"{row.word}: {uncapitalized(row.about)}"
    found = tile(widgets, f"rail.{row.name}", place.width, place.height, tip=tip, key=action.key)
    if found.is_pushed:
        act(desk, action)
    canvas = found.canvas
    low = ImVec2(place.x + 3 * scale, place.y)
    if is_on or found.is_hovered:
        fill = palette.raised if is_on and palette is theme.LIGHT else palette.sheet if is_on else palette.hover
        canvas.add_rect_filled(
            low, ImVec2(place.right - 3 * scale, place.bottom), theme.packed(fill, 1.0 if is_on else 0.5),
            theme.BUTTON_ROUND * scale,
        )  # fmt: skip
    if is_on:
        canvas.add_rect_filled(
            ImVec2(low.x, place.y + 14 * scale), ImVec2(low.x + 3 * scale, place.bottom - 14 * scale),
            theme.packed(palette.chalk), 1.5 * scale,
        )  # fmt: skip
    _words(desk, canvas, place, row, cards, is_on=is_on)


def _words(desk: Desk, canvas: imgui.ImDrawList, place: Card, row: RailRow, cards: Cards, *, is_on: bool) -> None:
    """Write icon, word and state, each in the middle of its tile."""
    widgets, palette = desk.widgets, desk.widgets.palette
    colour = palette.text if is_on else palette.second
    faces, bold = widgets.faces, TypeStyle(widgets.faces.semibold, theme.RAIL_PX)
    style = bold if is_on else TypeStyle(faces.plain, theme.RAIL_PX)
    state = row.page.rail_state()
    lines: list[tuple[str, TypeStyle, Colour]] = [(icon(row.icon), TypeStyle(faces.plain, _ICON_PX), colour)]
    if cards.size == "small":
        lines += [(word, style, colour) for word in _broken(row.word)]
    elif cards.size == "wide":
        whole = widgets.text_size(row.word, bold)[0] <= place.width - 2 * _INSET * widgets.scale
        lines += [(word, style, colour) for word in ([row.word] if whole else _broken(row.word))]
        tint = palette.of(state.severity) if state.severity else palette.second
        lines.append((state.text, faces.small, tint))
    sizes = [widgets.text_size(text, face) for text, face, _ in lines if text]
    y = place.y + (place.height - sum(size[1] for size in sizes)) / 2
    for (text, face, tint), size in zip([line for line in lines if line[0]], sizes, strict=True):
        x = place.x + (place.width - size[0]) / 2
        if text == row.word and state.dot is not None and cards.size == "wide":
            r = _DOT_PX * widgets.scale
            x += r + 2 * widgets.scale
            middle = ImVec2(x - r - 4 * widgets.scale, y + size[1] / 2)
            canvas.add_circle_filled(middle, r, theme.packed(state.dot), 24)
            canvas.add_circle(middle, r, theme.packed(palette.rule), 24, 1.0)
        widgets.draw_text(canvas, (x, y), text, face, tint)
        y += size[1]


def _broken(word: str) -> list[str]:
    return word.split(" ")


def _foot(desk: Desk, cards: Cards) -> None:
    """Theme and help, small, at the rail's foot; side by side where there is room."""
    widgets, scale, rail = desk.widgets, desk.widgets.scale, cards.rail
    side = theme.QUIET_BUTTON * scale
    is_stacked = cards.size == "tight"
    gap = (rail.width - 2 * side) / 3
    for index, name in enumerate(("theme", "help")):
        action = BY_NAME[name]
        if is_stacked:
            at = ImVec2(rail.x + (rail.width - side) / 2, rail.bottom - (2 - index) * side)
        else:
            at = ImVec2(rail.x + gap + index * (side + gap), rail.bottom - side)
        if is_stacked and name == "theme" and rail.height < 7 * STATIONS["tight"] * scale + 2 * side:
            continue  # it is in the help, too
        imgui.set_cursor_screen_pos(at)
        if widgets.icon_button(action.glyph, f"rail.{name}", tip=action.about or action.title, key=action.key):
            act(desk, action)
