"""The settings: how the window looks, moves and measures; each is taken on at once and kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from imgui_bundle import ImVec2, imgui

from mockup.model.units import Unit
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.work.settings import Settings

_WIDE, _LABEL = 520.0, 140.0  # units
_UNITS: dict[str, Unit] = {"mm": "mm", "in": "in"}


class SettingsCard:
    """The card, over all else."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def draw(self, *, is_new: bool) -> None:
        """Lay out the card."""
        desk, widgets, wanted = self._desk, self._desk.widgets, self._desk.settings
        scale = widgets.scale
        with widgets.dialog("settings", _WIDE * scale, is_new=is_new):
            with widgets.font(widgets.faces.title):
                imgui.text_unformatted("Settings")
            widgets.space(theme.INSET)
            themes = (("dark", "Dark"), ("light", "Light"))
            picked = self._row("Window", "theme", themes, wanted.theme)
            if picked is not None:
                self._take(replace(wanted, theme="light" if picked == "light" else "dark"))
            self._text_size(wanted)
            motion = (("usual", "Usual"), ("less", "Less"))
            picked = self._row("Movement", "motion", motion, "less" if wanted.has_less_motion else "usual")
            if picked is not None:
                self._take(replace(wanted, has_less_motion=picked == "less"))
            units = (("pedal", "Pedal's own"), ("mm", "mm"), ("in", "inches"))
            picked = self._row("Measures in", "units", units, wanted.units or "pedal")
            if picked is not None:
                self._take(replace(wanted, units=_UNITS.get(picked)))
            widgets.space(theme.INSET)
            if desk.work.project is not None:
                if widgets.button("Take the first walk again", "settings.walk", look="quiet"):
                    desk.view.show_settings(False)
                    act(desk, BY_NAME["walk"])
                imgui.same_line()
            wide = 80.0 * scale
            imgui.set_cursor_pos_x(imgui.get_cursor_pos_x() + widgets.wide - wide)
            if is_new:
                imgui.set_keyboard_focus_here()
            if widgets.button("Done", "settings.done", look="chalk", wide=wide):
                desk.view.show_settings(False)

    def _row(self, label: str, name: str, rows: Sequence[tuple[str, str]], chosen: str) -> str | None:
        """A label, and beside it what may be chosen."""
        self._label(label)
        imgui.begin_group()
        picked = self._desk.widgets.choose(f"settings.{name}", rows, chosen)
        imgui.end_group()
        return picked

    def _label(self, label: str) -> None:
        widgets, left = self._desk.widgets, imgui.get_cursor_pos_x()
        imgui.align_text_to_frame_padding()
        widgets.text(label, colour=widgets.palette.second)
        imgui.same_line(left + _LABEL * widgets.scale)

    def _text_size(self, wanted: Settings) -> None:
        """Smaller, how large it is, larger; as the screen has it."""
        desk, widgets, scale = self._desk, self._desk.widgets, self._desk.widgets.scale
        self._label("Text and controls")
        side = theme.BUTTON * scale
        if widgets.button("–", "settings.smaller", wide=side, tall=side, tip="Smaller", key=BY_NAME["smaller"].key):
            act(desk, BY_NAME["smaller"])
        imgui.same_line()
        said = f"{100 * desk.window.scale:.0f} %"
        at, room = imgui.get_cursor_screen_pos(), 64 * scale
        size = widgets.text_size(said, widgets.faces.strong)
        place = (at.x + (room - size[0]) / 2, at.y + (side - size[1]) / 2)
        widgets.draw_text(imgui.get_window_draw_list(), place, said, widgets.faces.strong, widgets.palette.text)
        imgui.dummy(ImVec2(room, side))
        imgui.same_line()
        if widgets.button("+", "settings.bigger", wide=side, tall=side, tip="Larger", key=BY_NAME["bigger"].key):
            act(desk, BY_NAME["bigger"])
        imgui.same_line()
        if widgets.button("Usual", "settings.usual", look="quiet", is_enabled=wanted.scale is not None):
            self._take(replace(wanted, scale=None))

    def _take(self, wanted: Settings) -> None:
        self._desk.settle(wanted)
