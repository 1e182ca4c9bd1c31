"""The first walk on the real pedal: a card beside each thing, round it a chalk edge; it can be left at any time."""

from __future__ import annotations

from dataclasses import replace

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.window.desk import Desk
from mockup.window.frame.walk_steps import PART, STEPS, Box, Glance, beside, is_done
from mockup.window.shell import theme
from mockup.window.shell.cards import Cards

_WIDE, _PAD, _GAP = 288.0, 16.0, 14.0
_REACH = 26.0  # units round a part: by eye


class Walk:
    """Which card is up; none while no walk is taken."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._step = 0
        self._before: Glance | None = None
        self._tall = 0.0

    def draw(self, cards: Cards) -> None:
        """Show the card that is due; go on where its deed was done."""
        desk = self._desk
        if not desk.view.state.is_walking or desk.work.design is None:
            self._step, self._before = 0, None
            return
        now = self._glance()
        if self._before is None:
            self._before = now
        elif is_done(STEPS[self._step], self._before, now):
            self._next()
            return
        self._card(cards)

    def _next(self) -> None:
        self._step, self._before = self._step + 1, self._glance()
        self._desk.window.touch()
        if self._step == len(STEPS):
            self._leave()

    def _leave(self) -> None:
        """End the walk; it is not offered again."""
        desk = self._desk
        self._step, self._before = 0, None
        desk.view.change(replace(desk.view.state, is_walking=False))
        if not desk.settings.has_walked:
            desk.settle(replace(desk.settings, has_walked=True))

    def _glance(self) -> Glance:
        design, state = self._desk.work.design, self._desk.view.state
        parts = design.parts if design is not None else ()
        return Glance(
            parts=tuple((part.name, part.face, round(part.u_mm, 2), round(part.v_mm, 2)) for part in parts),
            naming=state.naming,
            station=state.station,
        )

    def _target(self) -> Box | None:
        """Return where the thing lies that the card is about, None where it is out of sight."""
        desk, name = self._desk, STEPS[self._step].target
        if name != PART:
            return desk.widgets.places.get(name)
        parts = desk.work.design.parts if desk.work.design is not None else ()
        part = desk.work.part(desk.view.state.selected) or next(reversed(parts), None)
        if part is None:
            return None
        at = desk.camera.seen_on(desk.work.faces[part.face], (part.u_mm, part.v_mm))
        if at is None:
            return None
        reach = _REACH * desk.widgets.scale
        around = desk.widgets.places.get("naming", (at[0], at[1], at[0], at[1]))
        return (
            min(at[0] - reach, around[0]), min(at[1] - reach, around[1]),
            max(at[0] + reach, around[2]), max(at[1] + reach, around[3]),
        )  # fmt: skip

    def _card(self, cards: Cards) -> None:
        widgets, scale, step = self._desk.widgets, self._desk.widgets.scale, STEPS[self._step]
        target, window = self._target(), cards.window
        size = (_WIDE * scale, max(self._tall, 96 * scale))
        around = (0.0, 0.0, float(window.right), float(window.bottom))
        if target is None:
            picture = cards.picture
            x, y = picture.x + (picture.width - size[0]) / 2, picture.bottom - size[1] - 24 * scale
        else:
            x, y = beside(target, size, around, _GAP * scale)
            self._edge(target)
        imgui.set_next_window_pos(ImVec2(round(x), round(y)))
        imgui.set_next_window_size(ImVec2(*size))
        imgui.push_style_color(imgui.Col_.window_bg, ImVec4(*widgets.palette.raised, 1.0))
        imgui.push_style_color(imgui.Col_.border, ImVec4(*widgets.palette.rule, 1.0))
        imgui.push_style_var(imgui.StyleVar_.window_rounding, theme.CARD_ROUND * scale)
        imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(_PAD * scale, 12 * scale))
        imgui.push_style_var(imgui.StyleVar_.window_border_size, 1.0)
        flags = (
            imgui.WindowFlags_.no_decoration | imgui.WindowFlags_.no_move | imgui.WindowFlags_.no_saved_settings
            | imgui.WindowFlags_.no_focus_on_appearing
        )  # fmt: skip
        imgui.begin("walk", None, flags)
        imgui.pop_style_var(3)
        imgui.pop_style_color(2)
        widgets.note(f"{self._step + 1} of {len(STEPS)}")
        widgets.text(step.text)
        widgets.space(12)
        is_last = self._step == len(STEPS) - 1
        if widgets.button("Done" if is_last else "Next", "walk.next", look="chalk"):
            self._next()
        imgui.same_line()
        if not is_last and widgets.button("Skip the walk", "walk.skip", look="quiet"):
            self._leave()
        tall = imgui.get_cursor_pos_y() - imgui.get_style().item_spacing.y + 12 * scale
        place = imgui.get_window_pos()
        imgui.end()
        if tall != self._tall:  # it is as tall as its words
            self._tall = tall
            self._desk.window.touch()
        widgets.places["walk"] = (place.x, place.y, place.x + size[0], place.y + size[1])

    def _edge(self, target: Box) -> None:
        scale = self._desk.widgets.scale
        canvas, away = imgui.get_foreground_draw_list(), 3 * scale
        low, high = ImVec2(target[0] - away, target[1] - away), ImVec2(target[2] + away, target[3] + away)
        rounding = (theme.BUTTON_ROUND + 3) * scale
        canvas.add_rect(low, high, theme.grey(0.0, 0.5), rounding, 4 * scale)
        canvas.add_rect(low, high, theme.packed(self._desk.widgets.palette.chalk), rounding, 2 * scale)
