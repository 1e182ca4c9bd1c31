"""The foot: from where the pedal is looked at, how large, under which light, and what is shown of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.colour.room import ROOM_WORDS
from mockup.lights import presets
from mockup.model.ground import GROUNDS
from mockup.model.scene import ROOMS
from mockup.picture.options import NO_BACKGROUND, OWN_BACKGROUND
from mockup.window import action_buttons, true_size
from mockup.window.actions.look import FOOT_VIEWS, MORE_VIEWS
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import Cards

_SWITCHES = (
    "decal",
    "hardware",
    "plugs",
    "lid",
    "see-through",
    "lamp",
    "clear-coat",
    "silvering",
    "as-built",
    "findings",
    "proof",
    "perspective",
)
_PANES = ("one-pane", "two-panes", "three-panes", "four-panes", "wipe")


def draw(desk: Desk, cards: Cards) -> None:
    """Lay out the foot."""
    widgets, scale, foot = desk.widgets, desk.widgets.scale, cards.foot
    with widgets.card("foot", foot, "above", is_bare=True):
        imgui.set_cursor_screen_pos(ImVec2(foot.x, foot.y + 6 * scale))
        imgui.push_style_var(imgui.StyleVar_.item_spacing, ImVec2(2 * scale, 0))
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(8 * scale, 8 * scale))
        if cards.size == "tight":
            _opened(desk, "View", "view", lambda: _views(desk, (*FOOT_VIEWS, *MORE_VIEWS)))
        else:
            for name in FOOT_VIEWS:
                action_buttons.button(desk, f"view-{name}", page="view", look="quiet")
                imgui.same_line()
            _opened(desk, "", "more", lambda: _views(desk, MORE_VIEWS), glyph="ellipsis")
            _line(desk, cards)
        imgui.same_line()
        action_buttons.button(desk, "fit", page="view", look="quiet")
        if cards.size != "tight":
            imgui.same_line()
            action_buttons.button(desk, "true-size", page="view", look="quiet")
        _right(desk, cards, imgui.get_item_rect_max().x)
        imgui.pop_style_var(2)


def _right(desk: Desk, cards: Cards, left: float) -> None:
    """Draw how large the picture is, measure, light and show, flush right; `left` is where the other buttons end."""
    widgets, scale, foot = desk.widgets, desk.widgets.scale, cards.foot
    labels = ["Measure", f"{desk.view.state.light.capitalize()} light", "Show"]
    if cards.size == "tight":
        labels = labels[2:]
    wides = _wides(desk, labels)
    has_words = foot.right - sum(wides) > left + 16 * scale
    if not has_words:
        labels = ["" for _ in labels]
        wides = _wides(desk, labels)
    x = foot.right - sum(wides) - 2 * scale * (len(wides) - 1)
    if cards.size == "wide":
        said = true_size.said(desk)
        size = widgets.text_size(said, widgets.faces.small)
        at = (x - size[0] - 10 * scale, foot.y + (foot.height - size[1]) / 2)
        if at[0] > left + 6 * scale:
            canvas = imgui.get_window_draw_list()
            widgets.draw_text(canvas, at, said, widgets.faces.small, widgets.palette.second)
    imgui.set_cursor_screen_pos(ImVec2(x, foot.y + 6 * scale))
    if cards.size != "tight":
        action_buttons.button(
            desk, "measure", page="foot", look="quiet", wide=wides[0], label="Measure" if has_words else ""
        )
        imgui.same_line()
        _opened(desk, labels[1], "light", lambda: _light(desk), wide=wides[1], glyph="sun")
        imgui.same_line()
    _opened(desk, labels[-1], "show", lambda: _show(desk), wide=wides[-1], glyph="eye")


def _wides(desk: Desk, labels: Sequence[str]) -> list[float]:
    """Return how wide the buttons at the right are; one without a word is its icon."""
    widgets = desk.widgets
    sizes = [widgets.text_size(label, widgets.faces.strong)[0] for label in labels]
    return [size + (40 if label else 36) * widgets.scale for size, label in zip(sizes, labels, strict=True)]


def _opened(desk: Desk, label: str, name: str, fill: Callable[[], None], *, wide: float = 0.0, glyph: str = "") -> None:
    """Draw a button that opens a list over it."""
    widgets = desk.widgets
    if widgets.button(
        label, f"foot.{name}", look="quiet", wide=wide, glyph=glyph, tip="" if label else name.capitalize()
    ):
        imgui.open_popup(f"foot.{name}")
    low = imgui.get_item_rect_min()
    imgui.set_next_window_pos(ImVec2(low.x, low.y - 4 * widgets.scale), imgui.Cond_.always, ImVec2(0.0, 1.0))
    with _popup(desk, f"foot.{name}") as is_open:
        if is_open:
            fill()


@contextmanager
def _popup(desk: Desk, name: str) -> Iterator[bool]:
    scale = desk.widgets.scale
    imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(12 * scale, 12 * scale))
    imgui.push_style_var(imgui.StyleVar_.item_spacing, ImVec2(8 * scale, 6 * scale))
    is_open = imgui.begin_popup(name)
    try:
        yield is_open
    finally:
        if is_open:
            imgui.end_popup()
        imgui.pop_style_var(2)


def _views(desk: Desk, names: tuple[str, ...]) -> None:
    for name in names:
        action_buttons.button(desk, f"view-{name}", page="view", look="quiet", wide=150 * desk.widgets.scale)


def _show(desk: Desk) -> None:
    for name in _SWITCHES:
        action_buttons.check(desk, name, page="show")
    action_buttons.button(desk, "holes-as-drilled", page="show", look="quiet")
    action_buttons.button(desk, "beside-photograph", page="show", look="quiet")
    imgui.separator()
    for index, name in enumerate(_PANES):
        if index:
            imgui.same_line(0, 2 * desk.widgets.scale)
        action_buttons.button(desk, name, page="panes", look="quiet")


def _light(desk: Desk) -> None:
    """Light, and what is behind the pedal."""
    widgets, state = desk.widgets, desk.view.state
    wide = 190 * widgets.scale
    widgets.note("Light")
    lights = [(name, name.capitalize()) for name in presets()]
    picked = widgets.combo("light", lights, state.light, wide=wide)
    if picked is not None:
        desk.view.change(state.lit(picked))
    widgets.note("Colours seen in")
    rooms = [(name, ROOM_WORDS[name]) for name in ROOMS]
    picked = widgets.combo("room", rooms, state.room, wide=wide)
    if picked is not None:
        desk.view.change(replace(state, room=picked))
    widgets.note("Behind the pedal")
    own = state.background
    named = [(name, f"{name.capitalize()}: {ground.about}") for name, ground in GROUNDS.items()]
    kinds = [(OWN_BACKGROUND, "The light's own"), *named, (NO_BACKGROUND, "Transparent"), ("colour", "A colour")]
    chosen = own if own in dict(kinds) else "colour"
    picked = widgets.combo("background", kinds, chosen, wide=wide)
    if picked is not None:
        desk.view.change(replace(state, background="#808080" if picked == "colour" else picked))
    if chosen == "colour":
        typed = widgets.field("background.colour", own, wide=wide)
        if typed is not None:
            try:
                desk.view.change(replace(state, background=rgb.to_hex(rgb.parse(typed))))
            except ValueError as error:
                desk.messages.say(str(error))


def _line(desk: Desk, cards: Cards) -> None:
    """Part the views from the sizes."""
    scale = desk.widgets.scale
    imgui.same_line(0, 10 * scale)
    at = imgui.get_cursor_screen_pos()
    imgui.get_window_draw_list().add_line(
        ImVec2(at.x, cards.foot.y + 12 * scale), ImVec2(at.x, cards.foot.bottom - 12 * scale),
        theme.packed(desk.widgets.palette.ground_line), 1.0,
    )  # fmt: skip
    imgui.dummy(ImVec2(8 * scale, 1))
