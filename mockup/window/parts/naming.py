"""The name of a part typed where it stands: a field beside it, open until Enter, Esc or the next press elsewhere."""

from __future__ import annotations

import numpy as np
from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.model.enclosure import faces
from mockup.window import part_flow
from mockup.window.desk import Desk
from mockup.window.shell import theme

_WIDE, _TALL = 132.0, 32.0  # units
_SETTLED = 6  # frames until the caret is surely in the field: the panel library takes three, measured
_AWAY = 26.0  # units, from the part's middle to the field: by eye


class NamingField:
    """Draws the field while a name is open."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._name: str | None = None
        self._text = ""
        self._frames = 0
        self._has_caret = False

    def draw(self) -> None:
        """Draw the field beside its part; what was typed is taken once it is left."""
        desk, name = self._desk, self._desk.view.state.naming
        if name is None:
            self._name = None
            return
        if name != self._name:
            self._name, self._text, self._frames, self._has_caret = name, name, 0, False
            desk.widgets.focus.ask("naming")
        self._frames += 1
        if self._frames <= _SETTLED + 1:
            desk.window.touch()  # until the caret is in it, each frame asks for the next
        place = self._place(name)
        if place is None:
            return
        scale = desk.widgets.scale
        imgui.set_next_window_pos(ImVec2(*place))
        imgui.set_next_window_size(ImVec2(_WIDE * scale, _TALL * scale))
        imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(4 * scale, 3 * scale))
        imgui.push_style_var(imgui.StyleVar_.window_rounding, theme.TAG_ROUND * scale)
        imgui.push_style_color(imgui.Col_.window_bg, ImVec4(*theme.GLASS_GROUND, 1.0))
        imgui.push_style_color(imgui.Col_.frame_bg, ImVec4(*theme.DARK.raised, 1.0))
        imgui.push_style_color(imgui.Col_.text, ImVec4(*theme.DARK.text, 1.0))
        flags = imgui.WindowFlags_.no_decoration | imgui.WindowFlags_.no_move | imgui.WindowFlags_.no_saved_settings
        if self._frames == 1:
            imgui.set_next_window_focus()
        imgui.begin("naming", None, flags)
        done = self._field()
        imgui.end()
        imgui.pop_style_color(3)
        imgui.pop_style_var(2)
        if done is not None:
            part_flow.end_naming(desk, done)

    def _field(self) -> str | None:
        """Draw the field; return the name once it is taken, the old one after Esc."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        widgets.focus.take("naming")
        # a button that goes up may take the caret away again; one that goes down elsewhere is not robbed of its press
        if self._frames <= _SETTLED and not self._has_caret and not imgui.is_mouse_down(0):
            imgui.set_keyboard_focus_here()
        imgui.set_next_item_width((_WIDE - 8.0) * scale)
        flags = imgui.InputTextFlags_.auto_select_all | imgui.InputTextFlags_.enter_returns_true
        with widgets.semibold():
            done, now = imgui.input_text("##naming", self._text, flags)
        widgets.mark("naming")
        low, high = imgui.get_window_pos(), imgui.get_window_size()
        widgets.cover((low.x, low.y, low.x + high.x, low.y + high.y))
        self._has_caret = imgui.is_item_active()
        is_left = self._frames > _SETTLED and not self._has_caret
        if imgui.is_key_pressed(imgui.Key.escape):
            return self._name
        self._text = str(now)
        return self._text if done or is_left else None

    def _place(self, name: str) -> tuple[float, float] | None:
        """Return the field's top left corner in the window, inside the picture."""
        desk, design = self._desk, part_flow.pedal(self._desk)
        part = next((each for each in design.parts if each.name == name), None) if design is not None else None
        if part is None or design is None or not desk.view.grid.rects:
            return None
        point = faces(design.enclosure)[part.face].to_world(np.array([part.u_mm, part.v_mm]))
        card, scale = desk.view.cards.picture, desk.widgets.scale
        at = desk.camera.seen_at(point) or (card.x + card.width / 2, card.y + card.height / 2)
        x = at[0] + _AWAY * scale
        if x + (_WIDE + 8) * scale > card.right:
            x = at[0] - (_AWAY + _WIDE) * scale
        x = min(max(x, card.x + 8 * scale), card.right - (_WIDE + 8) * scale)
        return x, min(max(at[1] - _TALL * scale / 2, card.y + 8 * scale), card.bottom - (_TALL + 8) * scale)
