"""What questions are about, drawn: pedals side by side, and what was changed on both sides with one of them ticked."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.layout.edit.merge import Clash, Side
from mockup.layout.edit.tables import MISSING, Place
from mockup.model.text import capitalized
from mockup.window.desk import Desk
from mockup.window.shelf.subjects import CARD_PX, PedalSubject, Thumbnail
from mockup.window.shell import theme
from mockup.window.work.project import Project

_MOST_ROWS = 5  # in sight, the rest scrolls; so that the card fits a small window: by eye
_ROW = 34.0
_LABEL = 0.36  # of the width
_PRINT = 148.0  # the widest print


def prints(desk: Desk, project: Project, pedals: Sequence[tuple[str, str]]) -> None:
    """Draw pedals side by side, each (words, layout's text), the words under it."""
    widgets, scale = desk.widgets, desk.widgets.scale
    gap = 16 * scale
    wide = min((widgets.wide - gap * (len(pedals) - 1)) / len(pedals), _PRINT * scale)
    tall = wide * CARD_PX[1] / CARD_PX[0]
    at, canvas = imgui.get_cursor_screen_pos(), imgui.get_window_draw_list()
    for index, (words, text) in enumerate(pedals):
        low = ImVec2(at.x + index * (wide + gap), at.y)
        high = ImVec2(low.x + wide, low.y + tall)
        texture = desk.shelf.texture(Thumbnail(subject=PedalSubject(project=project, text=text)))
        rounding = theme.BUTTON_ROUND * scale
        if texture is None:
            canvas.add_rect_filled(low, high, theme.packed(widgets.palette.raised), rounding)
        else:
            canvas.add_image_rounded(texture, low, high, ImVec2(0, 0), ImVec2(1, 1), theme.grey(1.0), rounding)
        place = (low.x, high.y + 6 * scale)
        widgets.draw_text(canvas, place, words, widgets.faces.small, widgets.palette.second)
    imgui.dummy(ImVec2(widgets.wide, tall + 24 * scale))


class ClashRows:
    """A row for each thing that was changed on both sides: what it is, and either value, one of which is ticked."""

    def __init__(self, desk: Desk, clashes: Sequence[Clash]) -> None:
        self._desk, self._clashes = desk, clashes
        self.sides: dict[Place, Side] = {each.place: "file" if each.is_lost else "mine" for each in clashes}

    def draw(self) -> None:
        """Lay out the rows."""
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        wide = widgets.wide
        column = (1 - _LABEL) / 2 * wide
        at, canvas = imgui.get_cursor_screen_pos(), imgui.get_window_draw_list()
        for index, words in enumerate(("Here", "In the file")):
            place = (at.x + _LABEL * wide + index * column, at.y)
            widgets.draw_text(canvas, place, words, widgets.faces.small, widgets.palette.second)
        imgui.dummy(ImVec2(wide, 16 * scale))
        tall = min(len(self._clashes), _MOST_ROWS) * _ROW * scale + 4 * scale
        imgui.begin_child("clash.rows", ImVec2(wide, tall), imgui.ChildFlags_.nav_flattened)
        for number, clash in enumerate(self._clashes):
            self._row(number, clash, wide, column)
        imgui.end_child()

    def _row(self, number: int, clash: Clash, wide: float, column: float) -> None:
        widgets, scale = self._desk.widgets, self._desk.widgets.scale
        top = imgui.get_cursor_pos_y()
        at = imgui.get_cursor_screen_pos()
        subject = subject_words(clash)
        said = widgets.shortened(subject, _LABEL * wide - 12 * scale, widgets.faces.text)
        canvas = imgui.get_window_draw_list()
        place = (at.x, at.y + 6 * scale)
        widgets.draw_text(canvas, place, said, widgets.faces.text, widgets.palette.text)
        sides: tuple[tuple[Side, Any], ...] = (("mine", clash.here), ("file", clash.there))
        for index, (side, value) in enumerate(sides):
            imgui.set_cursor_pos(ImVec2(_LABEL * wide + index * column, top))
            is_on = self.sides[clash.place] == side
            is_enabled = side == "file" or not clash.is_lost
            words = widgets.shortened(value_words(value), column - 64 * scale, widgets.faces.strong)
            tip = "" if is_enabled else "What it belongs to is gone from the file"
            if widgets.button(
                words, f"ask.{side}.{number}", wide=column - 12 * scale, tall=28 * scale, is_on=is_on,
                glyph="check" if is_on else "", is_enabled=is_enabled, tip=tip,
            ):  # fmt: skip
                self.sides[clash.place] = side
            self._swatch(value)
        imgui.set_cursor_pos_y(top + _ROW * scale)
        imgui.dummy(ImVec2(0, 0))

    def _swatch(self, value: Any) -> None:
        """Show a colour at the right of the button that names it."""
        if not isinstance(value, str) or not value.startswith("#"):
            return
        try:
            colour = rgb.parse(value)
        except ValueError:
            return
        scale = self._desk.widgets.scale
        high = imgui.get_item_rect_max()
        middle = ImVec2(high.x - 14 * scale, (imgui.get_item_rect_min().y + high.y) / 2)
        canvas = imgui.get_window_draw_list()
        canvas.add_circle_filled(middle, 7 * scale, theme.packed(colour), 24)
        canvas.add_circle(middle, 7 * scale, theme.packed(self._desk.widgets.palette.rule), 24, 1.0)


def subject_words(clash: Clash) -> str:
    """Return what a clash is about as a builder says it: ``TONE left``, ``Paint``."""
    words = clash.subject.removeprefix("part ").removeprefix("finish ").replace("_", " ")
    return capitalized(words)


def value_words(value: Any) -> str:
    """Return a value in words; one that is a whole table is not spelled out."""
    if value is MISSING:
        return "removed"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:g}"
    return value if isinstance(value, str) else "changed"
