"""The head: the way to the front door, the name and whether it is saved, variants, undo, readiness, Save."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.fingerprint import fingerprint
from mockup.window import action_buttons, variant_flow
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.frame import readiness, variant_prints
from mockup.window.shell import theme
from mockup.window.shell.cards import Card, Cards
from mockup.window.shell.faces import TypeStyle
from mockup.window.variants.variant_page import AS_DESIGNED
from mockup.window.widgets.tile import tile

_NAME_AT, _NAME_PX = 58.0, 16.0
_NAME_ROOM = {"wide": 130.0, "small": 118.0, "tight": 140.0}  # units for the name: by eye
_SAVE_WIDE = 64.0


def draw(desk: Desk, cards: Cards) -> None:
    """Lay out the head."""
    widgets, scale, head = desk.widgets, desk.widgets.scale, cards.head
    with widgets.card("head", head, "below", is_bare=True):
        _icon(desk, "start-page", 10.0, head)
        if desk.work.project is None:
            return
        left = _name(desk, cards)
        right = head.right - (8 + _SAVE_WIDE) * scale
        _save(desk, head, right)
        right = readiness.draw(desk, cards, right - 8 * scale)
        if cards.size != "tight":
            for name, at in (("undo", right - 84 * scale), ("redo", right - 44 * scale)):
                _icon(desk, name, at / scale, head)
            right -= 96 * scale
        else:
            _more(desk, right - 44 * scale, head)
        canvas = imgui.get_window_draw_list()
        if cards.size == "wide":
            canvas.add_line(
                ImVec2(left, head.y + 14 * scale), ImVec2(left, head.bottom - 14 * scale),
                theme.packed(widgets.palette.ground_line), 1.0,
            )  # fmt: skip
        room = Card(round(left + 14 * scale), head.y + round(6 * scale), round(right - left - 20 * scale), 1)
        variant_prints.draw(desk, cards, room)


def _icon(desk: Desk, name: str, x: float, head: Card) -> None:
    """An icon button of an action with its left edge at so many units."""
    widgets, scale, action = desk.widgets, desk.widgets.scale, BY_NAME[name]
    document = desk.work.document
    titles = {
        "undo": document.undoes if document is not None else None,
        "redo": document.redoes if document is not None else None,
    }
    tip = f"{action.label}: {titles[name]}" if titles.get(name) else action.about or action.title
    imgui.set_cursor_screen_pos(ImVec2(x * scale, head.y + 10 * scale))
    is_enabled = action.is_enabled(desk)
    if widgets.icon_button(action.glyph, f"head.{name}", tip=tip, key=action.key, side=36.0, is_enabled=is_enabled):
        act(desk, action)


def _more(desk: Desk, x: float, head: Card) -> None:
    """What a tight head has no room for: undo, redo, the variants."""
    widgets, scale = desk.widgets, desk.widgets.scale
    imgui.set_cursor_screen_pos(ImVec2(x, head.y + 10 * scale))
    if widgets.icon_button("ellipsis", "head.more", tip="Undo, redo, variants", side=36.0):
        imgui.open_popup("head.more")
    imgui.set_next_window_pos(ImVec2(x + 36 * scale, head.y + 50 * scale), imgui.Cond_.always, ImVec2(1.0, 0.0))
    if not imgui.begin_popup("head.more"):
        return
    wide = 176 * scale
    for name in ("undo", "redo"):
        action_buttons.button(desk, name, page="more", look="quiet", wide=wide)
    imgui.separator()
    for variant in (None, *desk.work.variants):
        label = variant or AS_DESIGNED
        is_on = variant == desk.view.state.variant
        if widgets.button(label, f"more.variant.{label}", look="quiet", wide=wide, is_on=is_on):
            variant_flow.show(desk, variant)
            imgui.close_current_popup()
    action_buttons.button(desk, "new-variant", page="more", look="quiet", wide=wide)
    imgui.end_popup()


def _name(desk: Desk, cards: Cards) -> float:
    """The pedal's name over whether it is saved and its fingerprint; return where it ends.

    While it is worked on, and every frame brings another design, the fingerprint stays away.
    """
    work, widgets, scale, palette = desk.work, desk.widgets, desk.widgets.scale, desk.widgets.palette
    assert work.project is not None
    room = _NAME_ROOM[cards.size] * scale
    canvas, x = imgui.get_window_draw_list(), _NAME_AT * scale
    full = work.design.name if work.design is not None else work.project.title
    style = TypeStyle(widgets.faces.semibold, _NAME_PX)
    widgets.draw_text(canvas, (x, 10 * scale), widgets.shortened(full, room, style), style, palette.text)
    said = "Changed elsewhere too" if work.clashes else "Not saved yet" if work.is_changed else "Saved"
    at = x
    if work.is_changed:
        r = 3.5 * scale
        canvas.add_circle_filled(ImVec2(x + r, 38.5 * scale), r, theme.packed(palette.text), 16)
        at += 13 * scale
    mark = fingerprint(work.design) if work.design is not None and not work.found.is_checking else ""
    if mark and widgets.text_size(f"{said}, {mark}", widgets.faces.small)[0] <= x + room - at:
        said += f", {mark}"
    widgets.draw_text(canvas, (at, 31 * scale), said, widgets.faces.small, palette.second)
    imgui.set_cursor_screen_pos(ImVec2(x, 6 * scale))
    told = (f"design {mark}, as its pages say",) if mark else ()
    tip = "   ".join((full, *told, str(work.project.layout), *work.clashes[:1], BY_NAME["page-in-hand"].about))
    if tile(widgets, "head.name", room, 44 * scale, tip=tip).is_pushed:
        act(desk, BY_NAME["page-in-hand"])
    return x + room + 8 * scale


def _save(desk: Desk, head: Card, x: float) -> None:
    widgets, scale, action = desk.widgets, desk.widgets.scale, BY_NAME["save"]
    imgui.set_cursor_screen_pos(ImVec2(x, head.y + 8 * scale))
    if widgets.button(
        action.label, "head.save", tip=action.about, key=action.key, wide=_SAVE_WIDE * scale, tall=40 * scale,
        is_enabled=action.is_enabled(desk),
    ):  # fmt: skip
        act(desk, action)
