"""The holes of a face as a picture shows them, one enlarged at a time: which circle its rim is, where it is unsure."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from imgui_bundle import ImVec2, imgui
from numpy.typing import NDArray

from mockup.as_built import Answer, FaceReading
from mockup.as_built.enlargements import DRILL, FOUND, RIVAL, enlarged, sureness
from mockup.model.material import Colour
from mockup.model.text import capitalized
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.widgets.picture_texture import PictureTexture

_SIDE_PX = 600  # of an enlargement: sharp at twice the usual size
_SIDE = 340.0  # units, so that the card fits a low window: by eye
_STEP_MM = 0.05  # of a nudge by a button: half of what a photograph is good for; our choice
_ARROWS = (
    ("arrow-left", "left", -1, 0), ("arrow-up", "up", 0, -1), ("arrow-down", "down", 0, 1),
    ("arrow-right", "right", 1, 0),
)  # fmt: skip
_DASHES = 26


class HolesCard:
    """Shows a reading and gathers `answers`, by the holes' numbers."""

    def __init__(self, desk: Desk, reading: FaceReading) -> None:
        self._desk = desk
        self._reading = reading
        self._texture = PictureTexture()
        self._enlarged: tuple[int, NDArray[np.uint8], float] | None = None
        self.index = next((at for at, why in enumerate(reading.unsure) if why), 0)
        self.answers: dict[int, Answer] = reading.remembered

    def draw(self) -> None:
        """Draw the numbers of all holes, the picked one enlarged, and what may be said of it."""
        self._numbers()
        self._picture()
        self._words()
        self._buttons()

    def close(self) -> None:
        """Free the picture."""
        self._texture.clear()

    def _numbers(self) -> None:
        widgets, reading = self._desk.widgets, self._reading
        rows = []
        for hole, why in zip(reading.holes, reading.unsure, strict=True):
            is_open = bool(why) and hole.number not in self.answers
            rows.append((str(hole.number), f"{hole.number} ?" if is_open else str(hole.number)))
        pushed = widgets.choose(
            "built.hole", rows, str(reading.holes[self.index].number), columns=8,
            tips=tuple(each.name for each in reading.holes),
        )  # fmt: skip
        if pushed is not None:
            self.index = next(at for at, hole in enumerate(reading.holes) if str(hole.number) == pushed)
        widgets.space(theme.SPACES[1])

    def _picture(self) -> None:
        """Draw the enlargement with its circles; a click puts the circle's middle there."""
        scale, reading = self._desk.widgets.scale, self._reading
        bore = reading.holes[self.index].bore
        if self._enlarged is None or self._enlarged[0] != self.index:
            self._enlarged = self.index, *enlarged(reading, self.index, _SIDE_PX)
        _, pixels, per_mm = self._enlarged
        side = _SIDE * scale
        at = imgui.get_cursor_screen_pos()
        low = ImVec2(at.x + max(0.0, (self._desk.widgets.wide - side) / 2), at.y)
        imgui.set_cursor_screen_pos(low)
        pushed = imgui.invisible_button("##enlarged", ImVec2(side, side))
        self._desk.widgets.mark("built.enlarged")
        canvas = imgui.get_window_draw_list()
        canvas.add_image(imgui.ImTextureRef(self._texture.of(pixels).id), low, ImVec2(low.x + side, low.y + side))
        zoom = per_mm * side / _SIDE_PX
        middle, designed = np.array([low.x + side / 2, low.y + side / 2]), np.array([bore.u_mm, bore.v_mm])
        if pushed:
            mouse = imgui.get_mouse_pos()
            self._put(designed + (np.array([mouse.x, mouse.y]) - middle) / zoom)
        canvas.push_clip_rect(low, ImVec2(low.x + side, low.y + side), True)
        radius, look = bore.outline.width_mm / 2, reading.seen[0].seen[self.index]
        self._circle(canvas, middle, radius * zoom, DRILL, is_dashed=True)
        rival, taken = reading.rival(self.index), self._taken()
        if rival is not None:
            self._circle(canvas, middle + (rival - designed) * zoom, radius * zoom, RIVAL, is_dashed=True)
        found = taken if taken is not None else reading.places[self.index]
        if not np.isnan(found).any():
            wide = look.diameter_mm / 2 if look is not None else radius
            spot = middle + (found - designed) * zoom
            self._circle(canvas, spot, wide * zoom, FOUND, is_dashed=False)
            for dx, dy in ((7, 0), (0, 7)):
                ends = (
                    ImVec2(spot[0] - dx * scale, spot[1] - dy * scale),
                    ImVec2(spot[0] + dx * scale, spot[1] + dy * scale),
                )
                canvas.add_line(*ends, theme.packed(FOUND), 1.5 * scale)
        canvas.pop_clip_rect()
        self._desk.widgets.space(theme.SPACES[1])

    def _circle(
        self, canvas: imgui.ImDrawList, spot: np.ndarray, radius: float, colour: Colour, *, is_dashed: bool
    ) -> None:
        scale = self._desk.widgets.scale
        if not is_dashed:
            canvas.add_circle(ImVec2(*spot), radius, theme.packed(colour), 96, 2.0 * scale)
            return
        for dash in range(_DASHES):
            start = dash * 2 * np.pi / _DASHES
            canvas.path_arc_to(ImVec2(*spot), radius, start, start + np.pi / _DASHES, 6)
            canvas.path_stroke(theme.packed(colour), thickness=1.5 * scale)

    def _taken(self) -> np.ndarray | None:
        """Return where the picked hole is taken to be on the face, None where that is open."""
        return self._reading.answered(self.index, self.answers.get(self._reading.holes[self.index].number))

    def _words(self) -> None:
        widgets, reading = self._desk.widgets, self._reading
        hole = reading.holes[self.index]
        answer = self.answers.get(hole.number)
        with widgets.semibold():
            widgets.text(f"{hole.number}  {hole.name}")
        said = sureness(reading, self.index, answer)
        widgets.text(capitalized(said), colour=widgets.palette.second)
        widgets.space(theme.SPACES[1])

    def _buttons(self) -> None:
        """Offer the circles, and to move the one that is taken."""
        widgets, reading = self._desk.widgets, self._reading
        number = reading.holes[self.index].number
        answer = self.answers.get(number)
        has_found = not np.isnan(reading.places[self.index]).any()
        choices = (
            ("found", "Found circle", has_found), ("rival", "Its rival", reading.rival(self.index) is not None),
            ("none", "Can't tell", True),
        )  # fmt: skip
        for at, wide in widgets.side_by_side(len(choices)):
            name, label, is_enabled = choices[at]
            circle = None if name == "none" else name
            is_on = answer is not None and answer.circle == circle
            if widgets.button(label, f"built.{name}", wide=wide, is_on=is_on, is_enabled=is_enabled):
                self.answers[number] = Answer(circle=circle)  # type: ignore[arg-type]  # one of both, or None
        can_move = has_found and (answer is None or answer.circle is not None)
        for at, wide in widgets.side_by_side(len(_ARROWS)):
            glyph, way, dx, dy = _ARROWS[at]
            tip = f"Move it {_STEP_MM:g} mm {way}; a click in the picture puts its middle there"
            if widgets.button("", f"built.{way}", tip=tip, wide=wide, glyph=glyph, is_enabled=can_move):
                now = answer or Answer(circle="found")
                self.answers[number] = replace(
                    now, right_mm=now.right_mm + dx * _STEP_MM, down_mm=now.down_mm + dy * _STEP_MM
                )

    def _put(self, on_face: np.ndarray) -> None:
        """Move the circle that is taken so that its middle lies there."""
        number = self._reading.holes[self.index].number
        circle = (self.answers.get(number) or Answer(circle="found")).circle or "found"
        base = self._reading.rival(self.index) if circle == "rival" else self._reading.places[self.index]
        if base is None or np.isnan(base).any():
            return
        right, down = (on_face - base).tolist()
        self.answers[number] = Answer(circle=circle, right_mm=round(right, 2), down_mm=round(down, 2))
