"""The widgets of the cards: sections, buttons, rows; each tells where it is, so that tests can click it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.window.shell import theme
from mockup.window.shell.icons import icon
from mockup.window.shell.native_window import NativeWindow
from mockup.window.widgets.surface import Surface

GAP_PX = 4.0  # units between buttons in a row: by eye
Look = Literal["raised", "quiet", "chalk"]
"""How a button looks: raised from its card, quiet until the pointer comes, or the one chalk button of a page."""


class Widgets(Surface):
    """Widgets in the window's own style."""

    def __init__(self, window: NativeWindow) -> None:
        super().__init__(window)
        self._typed: dict[str, str] = {}

    def title(self, text: str, is_first: bool = False, hint: str = "") -> None:
        """Begin a section, under a hairline unless it is the first; a hint stands at the right."""
        if not is_first:
            self.hairline()
        with self.semibold():
            imgui.text_unformatted(text)
        if hint:
            with self.small():
                wide = imgui.calc_text_size(hint).x
                imgui.same_line(imgui.get_cursor_pos_x() + self.wide - wide)
                self.text(hint, is_dim=True)

    def button(
        self,
        label: str,
        name: str,
        *,
        tip: str = "",
        key: str = "",
        wide: float = 0.0,
        tall: float = 0.0,
        look: Look = "raised",
        glyph: str = "",
        is_on: bool = False,
        is_enabled: bool = True,
    ) -> bool:
        """Draw a button, with an icon where one is named; True when it was pushed. `is_on` marks the chosen one."""
        said = f"{icon(glyph)}  {label}".strip() if glyph else label
        if not is_enabled:
            imgui.begin_disabled()
        self.focus.take(name)
        fill, over, text = self._button_colours(look, is_on=is_on)
        for use, colour in (
            (imgui.Col_.button, fill), (imgui.Col_.button_hovered, over), (imgui.Col_.button_active, over),
            (imgui.Col_.text, text),
        ):  # fmt: skip
            imgui.push_style_color(use, colour)
        imgui.push_font(self.faces.semibold, 0.0)
        pushed = imgui.button(f"{said}##{name}", ImVec2(wide, tall))
        imgui.pop_font()
        imgui.pop_style_color(4)
        if is_on:
            self.underline()
        self.mark(name)
        if not is_enabled:
            imgui.end_disabled()
        self.tip(tip, key)
        return bool(pushed) and is_enabled

    def _button_colours(self, look: Look, *, is_on: bool) -> tuple[ImVec4, ImVec4, ImVec4]:
        """Return what a button is filled with, filled with under the pointer, and written with."""
        palette = self.palette
        if look == "chalk":
            return ImVec4(*palette.chalk, 1.0), ImVec4(*palette.chalk, 0.88), ImVec4(*palette.on_chalk, 1.0)
        text = ImVec4(*(palette.text if is_on or look == "raised" else palette.second), 1.0)
        if is_on:
            return ImVec4(*palette.chosen, 1.0), ImVec4(*palette.chosen, 1.0), text
        return ImVec4(*palette.raised, 0.0 if look == "quiet" else 1.0), ImVec4(*palette.hover, 1.0), text

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
        at, side = imgui.get_cursor_screen_pos(), imgui.get_frame_height()
        changed, _ = imgui.checkbox(f"{label}##{name}", is_on)
        thick = max(1.0, 1.5 * self.scale)  # an empty box is seen by its edge
        imgui.get_window_draw_list().add_rect(
            at, ImVec2(at.x + side, at.y + side), theme.packed(self.palette.rule), theme.BUTTON_ROUND * self.scale,
            thick,
        )  # fmt: skip
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
        self.rule()
        self.mark(name)
        if imgui.is_item_hovered(imgui.HoveredFlags_.no_nav_override):  # whoever came by key is typing
            self.tip(tip)
        if imgui.is_item_active() and not done:
            self._typed[name] = now
            return None
        before = self._typed.pop(name, None)
        if done:
            return str(now)
        is_left = is_taken_on_leaving and imgui.is_item_deactivated_after_edit()
        return before if is_left and before is not None and before != text else None

    def bar(self, share: float, *, wide: float = 0.0) -> None:
        """Draw how far a job is, 0 to 1, over a width in pixels, 0 for all that is left."""
        low, wide, tall = imgui.get_cursor_screen_pos(), wide or self.wide, 4 * self.scale
        canvas = imgui.get_window_draw_list()
        for end, colour in ((1.0, self.palette.hover), (min(max(share, 0.0), 1.0), self.palette.chalk)):
            canvas.add_rect_filled(low, ImVec2(low.x + wide * end, low.y + tall), theme.packed(colour), tall / 2)
        imgui.dummy(ImVec2(wide, tall))

    def pair(self, label: str, value: str, at: float = 0.30) -> None:
        """Write a label and what it says beside it, at a share of the width."""
        left = imgui.get_cursor_pos_x()
        wide = self.wide
        imgui.push_style_color(imgui.Col_.text, imgui.get_style_color_vec4(imgui.Col_.text_disabled))
        imgui.text_unformatted(label)
        imgui.pop_style_color()
        imgui.same_line(left + at * wide)
        self.text(value)

    def icon_button(
        self, glyph: str, name: str, *, tip: str, key: str = "", side: float = theme.QUIET_BUTTON,
        is_enabled: bool = True,
    ) -> bool:  # fmt: skip
        """Draw a quiet button that is an icon alone, as wide as high in units; its tip says what it does."""
        imgui.push_style_var(imgui.StyleVar_.frame_padding, ImVec2(0, 0))
        pushed = self.button(
            icon(glyph), name, tip=tip, key=key, wide=side * self.scale, tall=side * self.scale, look="quiet",
            is_enabled=is_enabled,
        )  # fmt: skip
        imgui.pop_style_var()
        return pushed
