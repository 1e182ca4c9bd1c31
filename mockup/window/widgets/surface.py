"""What widgets stand on: cards, type and spaces; it knows where each named thing was drawn last."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.model.material import Colour
from mockup.window.shell import theme
from mockup.window.shell.cards import Card
from mockup.window.shell.faces import Faces, TypeStyle
from mockup.window.shell.focus import KeyboardFocus
from mockup.window.shell.key_names import written
from mockup.window.shell.native_window import NativeWindow
from mockup.window.widgets.tips import Side, Tip, Tips

Rectangle = tuple[float, float, float, float]
_CARD = (
    imgui.WindowFlags_.no_decoration
    | imgui.WindowFlags_.no_move
    | imgui.WindowFlags_.no_saved_settings
    | imgui.WindowFlags_.no_bring_to_front_on_focus
    | imgui.WindowFlags_.no_focus_on_appearing
    | imgui.WindowFlags_.no_scroll_with_mouse
)


_LEAST_SEEN_PX = 4.0  # of a widget that can be clicked: by eye


class Surface:
    """Cards, type and spaces; `places` holds where each named thing was drawn last."""

    def __init__(self, window: NativeWindow) -> None:
        self._window = window
        self.places: dict[str, Rectangle] = {}
        self.focus = KeyboardFocus()
        self.tips = Tips()
        self._card = Card(0, 0, 1, 1)
        self._side: Side = "below"

    @property
    def scale(self) -> float:
        """How large everything is; 1 on a usual screen."""
        return self._window.scale

    @property
    def wide(self) -> float:
        """Width that is left in the line."""
        return float(imgui.get_content_region_avail().x)

    @property
    def palette(self) -> theme.Palette:
        """The window's colours."""
        return self._window.palette

    @property
    def faces(self) -> Faces:
        """The window's type."""
        return self._window.faces

    def mark(self, name: str) -> None:
        """Remember where the last widget lies, if it can be seen."""
        if not imgui.is_item_visible():
            return
        low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
        canvas = imgui.get_window_draw_list()
        first, last = canvas.get_clip_rect_min(), canvas.get_clip_rect_max()  # what is scrolled away is not there
        seen = (max(low.x, first.x), max(low.y, first.y), min(high.x, last.x), min(high.y, last.y))
        if seen[2] - seen[0] < _LEAST_SEEN_PX or seen[3] - seen[1] < _LEAST_SEEN_PX:
            return
        self.places[name] = seen
        if imgui.is_item_focused() and (self.focus.is_shown or imgui.is_item_active()):
            self.focus.reach(name)
            self._ring(low, high)

    def _ring(self, low: ImVec2, high: ImVec2) -> None:
        """Show that the last widget has the keys: a chalk ring round it, over whatever is beside it."""
        canvas, away, thick = imgui.get_window_draw_list(), 2 * self.scale, max(1.0, 2 * self.scale)
        reach = away + thick
        canvas.push_clip_rect_full_screen()
        canvas.add_rect(
            ImVec2(low.x - reach, low.y - reach), ImVec2(high.x + reach, high.y + reach),
            theme.packed(self.palette.chalk), (theme.BUTTON_ROUND + 3) * self.scale, thick,
        )  # fmt: skip
        canvas.pop_clip_rect()

    def begin_frame(self) -> None:
        """Forget where things were drawn in the frame before."""
        self.places.clear()
        self.focus.begin_frame()

    def cover(self, place: Rectangle) -> None:
        """Remember that something lies over the picture here: a press on it is not for the picture."""
        self.places["over"] = place

    def tip(self, text: str, key: str = "") -> None:
        """Explain the last widget beside its card, once the pointer rests on it; a key is written behind."""
        said = f"{text}   {written(key)}".strip() if key else text
        if said and not imgui.is_item_active() and imgui.is_item_hovered(imgui.HoveredFlags_.allow_when_disabled):
            low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
            self.tips.offer(Tip(text=said, control=(low.x, low.y, high.x, high.y), card=self._card, side=self._side))

    @contextmanager
    def card(
        self, name: str, card: Card, side: Side, *, is_bare: bool = False, is_over: bool = False
    ) -> Iterator[None]:
        """Lay out a card; tips stand on a side of it. A bare one is not seen: its controls stand on the ground.

        One that `is_over` lies over the others once it has the keys. Of the rest the first drawn is the uppermost.
        """
        imgui.set_next_window_pos(ImVec2(card.x, card.y))
        imgui.set_next_window_size(ImVec2(card.width, card.height))
        if self.focus.is_asked(name):
            imgui.set_next_window_focus()
        imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(0, 0))
        flags = _CARD & ~imgui.WindowFlags_.no_bring_to_front_on_focus if is_over else _CARD
        imgui.begin(name, None, flags | (imgui.WindowFlags_.no_background if is_bare else 0))
        imgui.pop_style_var()
        self.places[name] = (card.x, card.y, card.right, card.bottom)
        self.focus.enter(name)
        before, self._card, self._side = (self._card, self._side), card, side
        try:
            yield
        finally:
            self._card, self._side = before
            imgui.end()

    @contextmanager
    def dialog(self, name: str, wide: float, tall: float = 0.0, *, is_new: bool) -> Iterator[None]:
        """Lay out a window in the middle, over all else, which a veil dims and shuts off."""
        view = imgui.get_main_viewport()
        fixed = imgui.WindowFlags_.no_decoration | imgui.WindowFlags_.no_move | imgui.WindowFlags_.no_saved_settings
        imgui.set_next_window_pos(view.pos)
        imgui.set_next_window_size(view.size)
        imgui.set_next_window_bg_alpha(0.0)
        if is_new:
            imgui.set_next_window_focus()
        imgui.begin(f"{name}.veil", None, fixed | imgui.WindowFlags_.no_nav)
        corner = ImVec2(view.pos.x + view.size.x, view.pos.y + view.size.y)
        imgui.get_window_draw_list().add_rect_filled(view.pos, corner, theme.grey(0.0, theme.FADED_ALPHA))
        imgui.end()
        imgui.set_next_window_pos(view.get_center(), imgui.Cond_.always, ImVec2(0.5, 0.5))
        imgui.set_next_window_size(ImVec2(wide, tall))
        if is_new:
            imgui.set_next_window_focus()
        imgui.push_style_color(imgui.Col_.window_bg, ImVec4(*self.palette.sheet, 1.0))
        imgui.push_style_var(imgui.StyleVar_.window_rounding, theme.CARD_ROUND * self.scale)
        imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(24 * self.scale, 20 * self.scale))
        imgui.push_style_var(imgui.StyleVar_.window_border_size, 1.0)
        imgui.begin(name, None, fixed)
        imgui.pop_style_var(3)
        imgui.pop_style_color()
        try:
            yield
        finally:
            imgui.end()

    def space(self, units: float) -> None:
        """Leave room in height."""
        imgui.dummy(ImVec2(0, max(units * self.scale - imgui.get_style().item_spacing.y, 0.0)))

    def hairline(self) -> None:
        """Part two sections, from edge to edge of the card."""
        self.space(theme.SECTION)
        at, left = imgui.get_cursor_screen_pos(), imgui.get_window_pos().x
        imgui.get_window_draw_list().add_line(
            ImVec2(left, at.y), ImVec2(left + imgui.get_window_width(), at.y), theme.packed(self.palette.line), 1.0
        )
        self.space(theme.SECTION)

    @contextmanager
    def font(self, style: TypeStyle) -> Iterator[None]:
        """Write in a style."""
        imgui.push_font(style.face, style.size * theme.LINE)
        try:
            yield
        finally:
            imgui.pop_font()

    @contextmanager
    def semibold(self) -> Iterator[None]:
        """Write in semibold: heads of sections, buttons."""
        with self.font(self.faces.strong):
            yield

    @contextmanager
    def small(self) -> Iterator[None]:
        """Write smaller."""
        with self.font(self.faces.small):
            yield

    def text(self, text: str, *, is_dim: bool = False, colour: Colour | None = None) -> None:
        """Write a text that wraps."""
        pushed = colour is not None or is_dim
        if colour is not None:
            imgui.push_style_color(imgui.Col_.text, ImVec4(*colour, 1.0))
        elif is_dim:
            imgui.push_style_color(imgui.Col_.text, imgui.get_style_color_vec4(imgui.Col_.text_disabled))
        imgui.push_text_wrap_pos(0.0)
        imgui.text_unformatted(text)
        imgui.pop_text_wrap_pos()
        if pushed:
            imgui.pop_style_color()

    def note(self, text: str) -> None:
        """Write a hint."""
        with self.small():
            self.text(text, is_dim=True)

    def underline(self) -> None:
        """Mark the last widget as the chosen one: a chalk rule along its foot."""
        low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
        thick, inset = max(1.0, 2 * self.scale), 1.5 * self.scale
        imgui.get_window_draw_list().add_rect_filled(
            ImVec2(low.x + inset, high.y - thick), ImVec2(high.x - inset, high.y), theme.packed(self.palette.chalk)
        )

    def rule(self) -> None:
        """Draw the rule under a field: it is to be written on."""
        low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
        imgui.get_window_draw_list().add_line(
            ImVec2(low.x, high.y), high, theme.packed(self.palette.rule), max(1.0, 1.5 * self.scale)
        )

    def text_size(self, text: str, style: TypeStyle) -> tuple[float, float]:
        """Return how wide and high a text is in a style."""
        with self.font(style):
            found = imgui.calc_text_size(text)
        return float(found.x), float(found.y)

    def draw_text(
        self, canvas: imgui.ImDrawList, at: tuple[float, float], text: str, style: TypeStyle, colour: Colour,
        *, alpha: float = 1.0,
    ) -> None:  # fmt: skip
        """Write a text anywhere."""
        with self.font(style):
            canvas.add_text(ImVec2(round(at[0]), round(at[1])), theme.packed(colour, alpha), text)

    def draw_lines(
        self, canvas: imgui.ImDrawList, at: ImVec2, text: str, style: TypeStyle, colour: Colour, *, room: float
    ) -> None:
        """Write a text anywhere, in lines that fit a room in pixels."""
        with self.font(style):
            canvas.add_text(style.face, imgui.get_font_size(), at, theme.packed(colour), text, wrap_width=room)

    def lines_size(self, text: str, style: TypeStyle, room: float) -> tuple[float, float]:
        """Return how wide and high a text is in lines that fit a room in pixels."""
        with self.font(style):
            found = imgui.calc_text_size(text, False, room)
        return float(found.x), float(found.y)

    def shortened(self, text: str, room: float, style: TypeStyle) -> str:
        """Return a text that fits a room in pixels, shortened in the middle where it is too long."""
        if self.text_size(text, style)[0] <= room:
            return text
        for kept in range(len(text) - 1, 1, -1):
            short = f"{text[: kept - kept // 2].rstrip()}…{text[len(text) - kept // 2 :].lstrip()}"
            if self.text_size(short, style)[0] <= room:
                return short
        return "…"
