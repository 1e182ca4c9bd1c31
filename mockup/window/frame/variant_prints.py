"""The variants in the head: a live print of each with what differs in two words; a click shows it."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.window import variant_flow
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.shelf.subjects import PRINT_PX, PedalSubject, Thumbnail
from mockup.window.shell import theme
from mockup.window.shell.cards import Card, Cards
from mockup.window.shell.icons import icon
from mockup.window.variants.changes import words
from mockup.window.variants.variant_page import AS_DESIGNED
from mockup.window.widgets.tile import tile

_TALL, _THUMB = 44.0, (46.0, 36.0)
_MOST = 4  # variants in sight; the others are in a list
_WORDS_MOST = 118.0  # units for a name and what differs: by eye
_MORE_WIDE = 44.0
_LABEL = "Variant"


def draw(desk: Desk, cards: Cards, room: Card) -> None:
    """Draw the prints from the left of a room that is as wide as the head leaves."""
    if cards.size == "tight" or desk.work.document is None:
        return
    widgets, scale = desk.widgets, desk.widgets.scale
    has_words = cards.size == "wide"
    new_wide = (36 if not has_words else 44) * scale
    if has_words:
        new_wide += widgets.text_size(_LABEL, widgets.faces.strong)[0]
    names = list(_in_sight(desk))
    hidden = [name for name in desk.work.variants if name not in names]
    x = float(room.x)
    for index, name in enumerate(names):
        wide = _wide(desk, name, has_words=has_words)
        rest = new_wide + (_MORE_WIDE * scale if hidden or index < len(names) - 1 else 0)
        if x + wide + rest > room.right and index:
            hidden = [*[each for each in names[index:] if each is not None], *hidden]
            break
        _print(desk, (x, float(room.y)), wide, name, has_words=has_words)
        x += wide + 6 * scale
    if hidden:
        _more(desk, (x, float(room.y)), hidden)
        x += _MORE_WIDE * scale
    imgui.set_cursor_screen_pos(ImVec2(x, room.y + 4 * scale))
    action = BY_NAME["new-variant"]
    if widgets.button(
        _LABEL if has_words else "", "head.new-variant", look="quiet", glyph=action.glyph, tip=action.about,
        key=action.key, wide=new_wide, tall=36 * scale, is_enabled=action.is_enabled(desk),
    ):  # fmt: skip
        act(desk, action)


def _in_sight(desk: Desk) -> tuple[str | None, ...]:
    """Return what has a print: the design, the newest variants, and the one that is shown."""
    variants, shown = desk.work.variants, desk.view.state.variant
    newest = variants[-_MOST:]
    if shown is not None and shown not in newest and shown in variants:
        newest = (shown, *newest[1:])
    return (None, *newest)


def _words(desk: Desk, name: str | None) -> tuple[str, str]:
    widgets, scale, document = desk.widgets, desk.widgets.scale, desk.work.document
    label = widgets.shortened(name or AS_DESIGNED, _WORDS_MOST * scale, widgets.faces.number)
    differs = words(document.raw, name) if document is not None else ""
    return label, widgets.shortened(differs, _WORDS_MOST * scale, widgets.faces.small)


def _wide(desk: Desk, name: str | None, *, has_words: bool) -> float:
    widgets, scale = desk.widgets, desk.widgets.scale
    wide = (_THUMB[0] + 8) * scale
    if not has_words:
        return wide
    label, differs = _words(desk, name)
    return (
        wide
        + 12 * scale
        + max(
            widgets.text_size(label, widgets.faces.number)[0],
            widgets.text_size(differs, widgets.faces.small)[0],
        )
    )


def _print(desk: Desk, at: tuple[float, float], wide: float, name: str | None, *, has_words: bool) -> None:
    widgets, scale, palette = desk.widgets, desk.widgets.scale, desk.widgets.palette
    tall = _TALL * scale
    is_on = name == desk.view.state.variant
    imgui.set_cursor_screen_pos(ImVec2(*at))
    label = name or AS_DESIGNED
    place = f"variant.{'the layout itself' if name is None else name}"
    card = tile(widgets, place, wide, tall, tip="" if has_words else label)
    if card.is_pushed:
        variant_flow.show(desk, name)
    canvas = card.canvas
    if is_on:
        card.fill(palette.raised)
        widgets.underline()
    elif card.is_hovered:
        card.fill(palette.hover, 0.5)
    low = ImVec2(at[0] + 4 * scale, at[1] + 4 * scale)
    _thumb(desk, canvas, low, name)
    if has_words:
        left = low.x + (_THUMB[0] + 8) * scale
        shown, differs = _words(desk, name)
        tint = palette.text if is_on else palette.second
        widgets.draw_text(canvas, (left, at[1] + 5 * scale), shown, widgets.faces.number, tint)
        widgets.draw_text(canvas, (left, at[1] + 23 * scale), differs, widgets.faces.small, palette.second)


def _thumb(desk: Desk, canvas: imgui.ImDrawList, low: ImVec2, name: str | None) -> None:
    """The variant's print; the one before stays until the new one is there."""
    work, scale = desk.work, desk.widgets.scale
    high = ImVec2(low.x + _THUMB[0] * scale, low.y + _THUMB[1] * scale)
    rounding = theme.TAG_ROUND * scale
    texture = None
    if work.project is not None and work.document is not None:
        subject = PedalSubject(project=work.project, text=work.document.text, variant=name)
        slot = f"variant:{work.project.layout}:{name}"
        texture = desk.shelf.texture(Thumbnail(subject=subject, size=PRINT_PX), slot=slot)
    if texture is None:
        canvas.add_rect_filled(low, high, theme.packed(desk.widgets.palette.hover), rounding)
    else:
        canvas.add_image_rounded(texture, low, high, ImVec2(0, 0), ImVec2(1, 1), theme.grey(1.0), rounding)


def _more(desk: Desk, at: tuple[float, float], hidden: list[str]) -> None:
    """The variants that have no print: a list that opens."""
    widgets, scale = desk.widgets, desk.widgets.scale
    imgui.set_cursor_screen_pos(ImVec2(at[0], at[1] + 4 * scale))
    if widgets.button(
        f"+{len(hidden)}", "head.variants", look="quiet", tall=36 * scale, wide=(_MORE_WIDE - 4) * scale,
        tip="More variants",
    ):  # fmt: skip
        imgui.open_popup("head.variants")
    imgui.set_next_window_pos(ImVec2(at[0], at[1] + 46 * scale))
    if imgui.begin_popup("head.variants"):
        for name in hidden:
            if widgets.button(f"{icon('clone')}  {name}", f"variant.{name}", look="quiet", wide=180 * scale):
                variant_flow.show(desk, name)
                imgui.close_current_popup()
        imgui.end_popup()
