"""A row of a sheet: what is measured at the left, its number to be written on at the right."""

from __future__ import annotations

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.model.units import Unit
from mockup.window.desk import Desk
from mockup.window.dimensions import number
from mockup.window.dimensions.sketch import Dimension, Quantity

FIELD = 64.0  # width of a number, units: the window's design


def begin_row(desk: Desk, label: str, hint: str = "", *, room: float = FIELD) -> None:
    """Write a row's label, and a hint before what stands at the right, which takes `room` units; it is drawn next."""
    widgets, scale = desk.widgets, desk.widgets.scale
    left, wide = imgui.get_cursor_pos_x(), widgets.wide
    imgui.push_style_color(imgui.Col_.text, ImVec4(*widgets.palette.second, 1.0))
    imgui.align_text_to_frame_padding()
    imgui.text_unformatted(label)
    imgui.pop_style_color()
    if hint:
        with widgets.small():
            imgui.same_line(left + wide - room * scale - 8 * scale - imgui.calc_text_size(hint).x)
            imgui.align_text_to_frame_padding()
            widgets.text(hint, is_dim=True)
    imgui.same_line(left + wide - room * scale)


def number_row(
    desk: Desk, label: str, name: str, value: float | None, unit: Unit, *, quantity: Quantity = "length",
    hint: str = "", empty: str = "", least: float | None = None, most: float | None = None, tip: str = "",
) -> float | None:  # fmt: skip
    """Draw a row whose number can be typed; return what was typed, None for nothing.

    Where there is no value `empty` stands in its place. A number that cannot be taken is told in the strip.
    """
    begin_row(desk, label, hint)
    shown = empty if value is None else number.shown(value, quantity, unit)
    typed = desk.widgets.field(name, shown, wide=FIELD * desk.widgets.scale, tip=tip, is_taken_on_leaving=True)
    imgui.dummy(ImVec2(0, 2 * desk.widgets.scale))
    if typed is None or typed == shown:
        return None
    dimension = Dimension(name=name, side="right", value=value, quantity=quantity, least=least, most=most)
    try:
        return number.read(typed, dimension, unit) if typed.strip() != empty or not empty else None
    except ValueError as error:
        desk.messages.say(str(error))
        return None
