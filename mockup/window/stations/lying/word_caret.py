"""The caret of a word that is written in its place: an unseen field holds the text, the pedal shows it."""

from __future__ import annotations

import math

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.decal.typeface import carets
from mockup.model.label import Label
from mockup.window import letter_flow
from mockup.window.desk import Desk
from mockup.window.dimensions import lines
from mockup.window.pointer.face_things import FaceThing
from mockup.window.shell import theme

_REACH = 0.75  # of a capital's height, that the caret stands out above and below its middle: by eye
_PLACE = imgui.WindowFlags_.no_decoration | imgui.WindowFlags_.no_saved_settings | imgui.WindowFlags_.no_background
_NOTHING = ImVec4(0.0, 0.0, 0.0, 0.0)


class WordCaret:
    """Takes the keys for the word that is being written, and draws its caret."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._caret = 0

    def draw(self, canvas: imgui.ImDrawList, thing: FaceThing | None, label: Label | None) -> None:
        """Lay out the unseen field under the word, and draw the caret in it.

        A word that was only just made is not on the pedal yet: it takes keys all the same.
        """
        card = self._desk.view.cards.picture
        low, high = ImVec2(card.x + card.width / 2, card.y + card.height / 2), ImVec2(0, 0)
        if thing is not None:
            face = self._desk.work.faces[thing.face]
            corners = [self._desk.camera.seen_on(face, each) for each in thing.lying.grown(1.5).corners]
            seen = [each for each in corners if each is not None]
            if seen:
                low = ImVec2(min(x for x, _ in seen), min(y for _, y in seen))
                high = ImVec2(max(x for x, _ in seen), max(y for _, y in seen))
        size = ImVec2(max(high.x - low.x, 40.0), max(high.y - low.y, 20.0))
        if self._field(low, size):
            self._desk.widgets.places["writing"] = (low.x, low.y, low.x + size.x, low.y + size.y)
        if thing is not None and label is not None and self._desk.tools.writing.is_on:
            self._line(canvas, thing, label)

    def _field(self, at: ImVec2, size: ImVec2) -> bool:
        """Lay out the field; return whether keys go to it."""
        writing = self._desk.tools.writing
        imgui.set_next_window_pos(at)
        imgui.set_next_window_size(size)
        if writing.is_new:
            imgui.set_next_window_focus()
        imgui.begin("##writing", None, _PLACE)
        colours = (
            imgui.Col_.text, imgui.Col_.frame_bg, imgui.Col_.frame_bg_active, imgui.Col_.frame_bg_hovered,
            imgui.Col_.text_selected_bg, imgui.Col_.input_text_cursor, imgui.Col_.nav_cursor, imgui.Col_.border,
        )  # fmt: skip
        for colour in colours:
            imgui.push_style_color(colour, _NOTHING)
        if writing.is_new:
            imgui.set_keyboard_focus_here()
        imgui.set_next_item_width(-1)
        flags = imgui.InputTextFlags_.enter_returns_true | imgui.InputTextFlags_.callback_always
        done, text = imgui.input_text("##word", writing.text, flags, self._followed)
        is_left, is_active = imgui.is_item_deactivated(), imgui.is_item_active()
        imgui.pop_style_color(len(colours))
        imgui.end()
        is_new, writing.is_new = writing.is_new, False
        if is_new:
            return False
        if is_left and not done and imgui.is_key_down(imgui.Key.escape):
            writing.cancel()
            return False
        writing.type(text)
        if done or is_left:
            writing.end()
        return bool(is_active and imgui.get_io().want_text_input)

    def _followed(self, told: imgui.InputTextCallbackData) -> int:
        self._caret = told.cursor_pos
        return 0

    def _line(self, canvas: imgui.ImDrawList, thing: FaceThing, label: Label) -> None:
        """Draw the caret where the lettering's own advances have it."""
        desk, writing = self._desk, self._desk.tools.writing
        lying, across = thing.lying, 0.0
        font = letter_flow.typeface(desk, label.lettering.font) if label.lettering is not None else None
        shown = writing.text.strip()
        if font is not None and label.lettering is not None and shown:
            places = carets(font, shown, label.lettering.size_mm, label.lettering.spacing_mm)
            lead = len(writing.text) - len(writing.text.lstrip())
            across = places[min(max(self._caret - lead, 0), len(shown))] - lying.width_mm / 2
        ends = []
        angle = math.radians(lying.rotation_deg)
        for down in (-_REACH * lying.height_mm, _REACH * lying.height_mm):
            u = lying.u_mm + across * math.cos(angle) - down * math.sin(angle)
            v = lying.v_mm + across * math.sin(angle) + down * math.cos(angle)
            ends.append(desk.camera.seen_on(desk.work.faces[thing.face], (u, v)))
        found = [each for each in ends if each is not None]
        if len(found) == 2:
            thick = max(1.0, 2.0 * desk.widgets.scale)
            lines.draw(canvas, [found], theme.grey(1.0), thick, casing=theme.grey(0.0, 0.6), case=desk.widgets.scale)
