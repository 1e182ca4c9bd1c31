"""The widgets of the panel: titles, buttons, rows; each tells where it is, so that tests can click it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.model.finding import Severity
from mockup.model.material import Colour
from mockup.window.shell import theme
from mockup.window.shell.key_names import written
from mockup.window.shell.native_window import NativeWindow

GAP_PX = 4.0  # at scale 1, between buttons in a row: by eye
Rectangle = tuple[float, float, float, float]


class KeyboardFocus:
    """Where keys go: to the picture, or into the panel, to the widget that was asked for."""

    def __init__(self) -> None:
        self.is_in_panel = False
        self._asked = ""

    def ask(self, name: str) -> None:
        """Send keys into the panel, to the widget of that name once it is drawn."""
        self.is_in_panel, self._asked = True, name

    def take(self, name: str) -> bool:
        """Return whether the widget of that name was asked for, once; it is drawn next and gets the keys."""
        if self._asked != name:
            return False
        self._asked = ""
        imgui.set_keyboard_focus_here()
        return True

    def is_asked(self, name: str) -> bool:
        """Return whether the widget of that name is asked for and not drawn yet."""
        return self._asked == name

    def leave_panel(self) -> None:
        """Send keys to the picture again."""
        if self.is_in_panel:
            self.is_in_panel, self._asked = False, ""
            imgui.set_window_focus(None)


class Widgets:
    """Widgets in the window's own style; `places` holds where each named one was drawn last."""

    def __init__(self, window: NativeWindow) -> None:
        self._window = window
        self.places: dict[str, Rectangle] = {}
        self.focus = KeyboardFocus()
        self._typed: dict[str, str] = {}

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
    def faces(self) -> theme.Faces:
        """The window's type."""
        return self._window.faces

    def mark(self, name: str) -> None:
        """Remember where the last widget lies, if it can be seen."""
        if not imgui.is_item_visible():
            return
        low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
        self.places[name] = (low.x, low.y, high.x, high.y)

    def tip(self, text: str, key: str = "") -> None:
        """Explain the last widget while the pointer rests on it; a key is written behind."""
        said = f"{text}   {written(key)}".strip() if key else text
        if said and imgui.is_item_hovered(imgui.HoveredFlags_.for_tooltip | imgui.HoveredFlags_.allow_when_disabled):
            imgui.begin_tooltip()
            imgui.push_text_wrap_pos(300 * self.scale)
            imgui.text_unformatted(said)
            imgui.pop_text_wrap_pos()
            imgui.end_tooltip()

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
        imgui.get_window_draw_list().add_rect_filled(view.pos, corner, theme.grey(0.0, 0.55))
        imgui.end()
        imgui.set_next_window_pos(view.get_center(), imgui.Cond_.always, ImVec2(0.5, 0.5))
        imgui.set_next_window_size(ImVec2(wide, tall))
        if is_new:
            imgui.set_next_window_focus()
        imgui.push_style_color(imgui.Col_.window_bg, imgui.get_style_color_vec4(imgui.Col_.popup_bg))
        imgui.push_style_var(imgui.StyleVar_.window_rounding, 8 * self.scale)
        imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(20 * self.scale, 18 * self.scale))
        imgui.push_style_var(imgui.StyleVar_.window_border_size, 1.0)
        imgui.begin(name, None, fixed)
        imgui.pop_style_var(3)
        imgui.pop_style_color()
        try:
            yield
        finally:
            imgui.end()

    def title(self, text: str, is_first: bool = False) -> None:
        """Begin a section."""
        if not is_first:
            imgui.dummy(ImVec2(0, 5 * self.scale))
            imgui.separator()
            imgui.dummy(ImVec2(0, 2 * self.scale))
        with self.bold(theme.TEXT_PX):
            imgui.text_unformatted(text)
        imgui.dummy(ImVec2(0, 0))

    @contextmanager
    def bold(self, size: float = 0.0) -> Iterator[None]:
        """Write in bold, at a size for scale 1."""
        imgui.push_font(self.faces.bold, size)
        try:
            yield
        finally:
            imgui.pop_font()

    @contextmanager
    def small(self) -> Iterator[None]:
        """Write smaller."""
        imgui.push_font(self.faces.plain, theme.TEXT_PX - 1.5)
        try:
            yield
        finally:
            imgui.pop_font()

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

    def button(
        self,
        label: str,
        name: str,
        *,
        tip: str = "",
        key: str = "",
        wide: float = 0.0,
        is_on: bool = False,
        is_enabled: bool = True,
    ) -> bool:
        """Draw a button; True when it was pushed. `is_on` marks the chosen one: lighter, bold, underlined."""
        if not is_enabled:
            imgui.begin_disabled()
        if is_on:
            for colour in (imgui.Col_.button, imgui.Col_.button_hovered):
                imgui.push_style_color(colour, ImVec4(*self.palette.chosen, 1.0))
            imgui.push_font(self.faces.bold, 0.0)
        pushed = imgui.button(f"{label}##{name}", ImVec2(wide, 0))
        if is_on:
            imgui.pop_font()
            imgui.pop_style_color(2)
            low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
            inset, thick = 10 * self.scale, max(1.0, 2 * self.scale)
            imgui.get_window_draw_list().add_rect_filled(
                ImVec2(low.x + inset, high.y - thick), ImVec2(high.x - inset, high.y), theme.packed(self.palette.chalk)
            )
        self.mark(name)
        if not is_enabled:
            imgui.end_disabled()
        self.tip(tip, key)
        return bool(pushed) and is_enabled

    def side_by_side(self, count: int, columns: int = 0) -> Iterator[tuple[int, float]]:
        """Yield the number and the width of each of so many equal widgets, those of a row side by side."""
        columns, gap = columns or count, GAP_PX * self.scale
        wide = (self.wide - (columns - 1) * gap) / columns
        for index in range(count):
            if index % columns:
                imgui.same_line(0, gap)
            yield index, wide

    def choose(
        self,
        name: str,
        rows: Sequence[tuple[str, str]],
        chosen: str | None,
        *,
        columns: int = 0,
        tips: Sequence[str] = (),
    ) -> str | None:
        """Draw buttons side by side, (value, label) each; return the value of the one pushed."""
        pushed = None
        for index, wide in self.side_by_side(len(rows), columns):
            value, label = rows[index]
            tip = tips[index] if index < len(tips) else ""
            if self.button(label, f"{name}.{value}", tip=tip, wide=wide, is_on=value == chosen):
                pushed = value
        return pushed

    def check(self, label: str, name: str, is_on: bool, *, tip: str = "", key: str = "") -> bool:
        """Draw a box to tick; True when it was changed."""
        changed, _ = imgui.checkbox(f"{label}##{name}", is_on)
        self.mark(name)
        self.tip(tip, key)
        return bool(changed)

    def combo(
        self, name: str, rows: Sequence[tuple[str, str]], chosen: str, *, wide: float = -1.0, tip: str = ""
    ) -> str | None:
        """Draw a list that opens, (value, label) each; return the value of a new choice."""
        picked = None
        imgui.set_next_item_width(wide)
        shown_label = next((label for value, label in rows if value == chosen), chosen)
        is_open = imgui.begin_combo(f"##{name}", shown_label, imgui.ComboFlags_.height_large)
        self.mark(name)
        if not is_open:
            self.tip(tip)
        if is_open:
            for value, label in rows:
                clicked, _ = imgui.selectable(f"{label}##{name}.{value}", value == chosen)
                self.mark(f"{name}.{value}")
                if clicked and value != chosen:
                    picked = value
                if value == chosen and imgui.is_window_appearing():
                    imgui.set_item_default_focus()
            imgui.end_combo()
        return picked

    def field(
        self,
        name: str,
        text: str,
        *,
        wide: float = -1.0,
        tip: str = "",
        is_taken_on_leaving: bool = False,
    ) -> str | None:
        """Draw a text to type over; return what was typed once Enter is pressed, or the field is left where so told."""
        imgui.set_next_item_width(wide)
        self.focus.take(name)
        flags = imgui.InputTextFlags_.auto_select_all | imgui.InputTextFlags_.enter_returns_true
        done, now = imgui.input_text(f"##{name}", self._typed.get(name, text), flags)
        self.mark(name)
        self.tip(tip)
        if imgui.is_item_active() and not done:
            self._typed[name] = now
            return None
        before = self._typed.pop(name, None)
        if done:
            return str(now)
        is_left = is_taken_on_leaving and imgui.is_item_deactivated_after_edit()
        return before if is_left and before is not None and before != text else None

    def pair(self, label: str, value: str, at: float = 0.30) -> None:
        """Write a label and what it says beside it."""
        left = imgui.get_cursor_pos_x()
        imgui.push_style_color(imgui.Col_.text, imgui.get_style_color_vec4(imgui.Col_.text_disabled))
        imgui.text_unformatted(label)
        imgui.pop_style_color()
        imgui.same_line(left + at * (theme.PANEL_PX - 40) * self.scale)
        self.text(value)

    def badge(self, draw: imgui.ImDrawList, at: ImVec2, number: str, severity: Severity, radius: float) -> None:
        """Draw a number in a shape that tells how bad: square stops, triangle warns, circle notes."""
        fill, edge = theme.packed(theme.GLASS.of(severity)), theme.grey(0.06, 0.95)
        thick = max(1.0, 1.6 * self.scale)
        if severity == "stop":
            r = radius * 0.92
            low, high = ImVec2(at.x - r, at.y - r), ImVec2(at.x + r, at.y + r)
            draw.add_rect_filled(low, high, fill, 3 * self.scale)
            draw.add_rect(low, high, edge, 3 * self.scale, thick)
        elif severity == "warn":
            r = radius * 1.22
            points = (
                ImVec2(at.x, at.y - r * 1.02),
                ImVec2(at.x + r, at.y + r * 0.72),
                ImVec2(at.x - r, at.y + r * 0.72),
            )
            draw.add_triangle_filled(*points, fill)
            draw.add_triangle(*points, edge, thick)
        else:
            draw.add_circle_filled(at, radius, fill, 24)
            draw.add_circle(at, radius, edge, 24, thick)
        if number:
            imgui.push_font(self.faces.bold, theme.TEXT_PX - 3.0)
            size = imgui.calc_text_size(number)
            drop = 2.2 * self.scale if severity == "warn" else 0.0
            draw.add_text(ImVec2(at.x - size.x / 2, at.y - size.y / 2 + drop), theme.grey(0.05), number)
            imgui.pop_font()
