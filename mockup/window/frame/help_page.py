"""Help: a question typed in plain words, the pages of the manual, every key; over the picture's right half."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup import manual
from mockup.window import action_buttons
from mockup.window.actions.table import ACTIONS, GROUPS
from mockup.window.desk import Desk
from mockup.window.frame.help_search import Answer, answers, search
from mockup.window.shell import theme
from mockup.window.shell.cards import Card, Cards
from mockup.window.shell.key_names import written
from mockup.window.widgets.widgets import Widgets

_LEAST_WIDE, _MOST_WIDE = 420.0, 560.0  # units: short enough lines to read, long enough for code; by eye
_HERE = "How do I"
"""How the pages begin that are about this window: they come first."""
_MOUSE = (
    ("Go round", "drag beside the pedal"),
    ("Shift the picture", "drag with the right button"),
    ("Nearer, farther", "wheel, at the pointer"),
    ("Pick a thing", "click it"),
    ("Pick several", "Shift and click, or Shift and drag"),
    ("Move a thing", "drag it; Alt: hold on to nothing"),
)


class HelpPage:
    """The page, with the question that is being typed and what is open."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._asked = ""
        self._known: tuple[Answer, ...] = ()
        self._open: str | None = None

    def place(self, cards: Cards) -> Card:
        """Return where the page lies."""
        scale, picture = self._desk.widgets.scale, cards.picture
        wide = min(max(picture.width / 2, _LEAST_WIDE * scale), _MOST_WIDE * scale, cards.window.width - 16 * scale)
        right = picture.right if cards.size != "tight" else cards.window.width - round(8 * scale)
        return Card(round(right - wide), picture.y, round(wide), picture.height)

    def draw(self, cards: Cards, *, is_new: bool) -> None:
        """Lay out the page."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        place = self.place(cards)
        if is_new:
            self._known = self._known or answers()
            imgui.set_next_window_focus()
        with widgets.card("help", place, "left", is_over=True):
            self._head(place, is_new=is_new)
            top = round(112 * scale)
            imgui.set_cursor_screen_pos(ImVec2(place.x, place.y + top))
            imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(theme.INSET * scale, 12 * scale))
            imgui.set_next_window_content_size(ImVec2(place.width - 2 * theme.INSET * scale, 0))
            imgui.begin_child(
                "help.body", ImVec2(place.width, place.height - top),
                imgui.ChildFlags_.always_use_window_padding | imgui.ChildFlags_.nav_flattened,
            )  # fmt: skip
            imgui.pop_style_var()
            self._body()
            imgui.end_child()

    def _head(self, place: Card, *, is_new: bool) -> None:
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        inset = theme.INSET * scale
        imgui.set_cursor_screen_pos(ImVec2(place.x + inset, place.y + 14 * scale))
        with widgets.font(widgets.faces.title):
            imgui.text_unformatted("Help")
        imgui.set_cursor_screen_pos(ImVec2(place.right - inset - 28 * scale, place.y + 12 * scale))
        if widgets.icon_button("xmark", "help.close", tip="Close the help", key="escape"):
            desk.view.show_help(False)
        imgui.set_cursor_screen_pos(ImVec2(place.x + inset, place.y + 54 * scale))
        imgui.set_next_item_width(place.width - 2 * inset)
        if is_new:
            imgui.set_keyboard_focus_here()
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(12 * scale, 10 * scale))
        _, self._asked = imgui.input_text_with_hint("##help.search", "How do I ...", self._asked)
        if imgui.is_item_deactivated() and imgui.is_key_pressed(imgui.Key.escape):
            desk.view.show_help(False)  # the caret took the key
        imgui.pop_style_var()
        widgets.rule()
        widgets.mark("help.search")

    def _body(self) -> None:
        widgets = self._desk.widgets
        if self._asked.strip():
            found = search(self._asked, self._known)
            if not found:
                widgets.text("Nothing is found for that. Try fewer words, or one of the pages below.")
                self._pages()
            for number, answer in enumerate(found):
                self._answer(answer, f"help.answer.{number + 1}", is_open=number == 0)
            return
        action_buttons.row(self._desk, ("walk", "settings"), page="help")
        widgets.space(theme.SECTION)
        self._pages()
        self._keys()

    def _answer(self, answer: Answer, name: str, *, is_open: bool) -> None:
        widgets = self._desk.widgets
        with widgets.semibold():
            widgets.text(answer.title)
        widgets.mark(name)
        if answer.keys:
            widgets.text(answer.keys, colour=widgets.palette.second)
        else:
            widgets.note(answer.source)
        if answer.text and (is_open or not answer.keys):
            widgets.text(answer.text if is_open else _brief(answer.text), colour=widgets.palette.second)
        widgets.space(theme.SECTION)

    def _pages(self) -> None:
        widgets = self._desk.widgets
        topics = manual.topics().items()
        for topic, title in sorted(topics, key=lambda each: not each[1].startswith(_HERE)):
            glyph = "chevron-down" if self._open == topic else "chevron-right"
            if widgets.button(title, f"help.page.{topic}", look="quiet", glyph=glyph):
                self._open = None if self._open == topic else topic
            if self._open == topic:
                self._page(topic, title)

    def _page(self, topic: str, title: str) -> None:
        widgets = self._desk.widgets
        for heading, text in manual.sections(topic):
            if heading != title:
                with widgets.semibold():
                    widgets.text(heading)
            widgets.text(text, colour=widgets.palette.second)
            widgets.space(8)

    def _keys(self) -> None:
        widgets = self._desk.widgets
        _table(widgets, "Mouse", _MOUSE)
        for group in GROUPS:
            rows = [(a.title, " or ".join(map(written, a.keys))) for a in ACTIONS if a.group == group and a.keys]
            if rows:
                _table(widgets, group, rows)


def _table(widgets: Widgets, title: str, rows: list[tuple[str, str]] | tuple[tuple[str, str], ...]) -> None:
    widgets.title(title)
    if imgui.begin_table(f"keys.{title}", 2, imgui.TableFlags_.sizing_stretch_prop):
        imgui.table_setup_column("", imgui.TableColumnFlags_.width_stretch, 0.6)
        imgui.table_setup_column("", imgui.TableColumnFlags_.width_stretch, 0.4)
        for what, keys in rows:
            imgui.table_next_row()
            imgui.table_next_column()
            widgets.text(what, colour=widgets.palette.second)
            imgui.table_next_column()
            widgets.text(keys)
        imgui.end_table()


def _brief(text: str) -> str:
    """Return the beginning of a text, so that more answers are in sight."""
    first = " ".join(text.split())
    return first if len(first) <= 140 else f"{first[:140].rsplit(' ', 1)[0]} …"
