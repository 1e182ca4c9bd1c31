"""Colours to choose from by a plain word: caps and pointers of knobs, light of lamps."""

from __future__ import annotations

from collections.abc import Mapping

from imgui_bundle import ImVec2, imgui

from mockup.colour import rgb
from mockup.model.material import Colour
from mockup.window.shell import theme
from mockup.window.widgets.tile import tile
from mockup.window.widgets.widgets import Widgets

CAPS: Mapping[str, str] = {
    "Black": "#1d1d1f", "Charcoal": "#3a3b3e", "Grey": "#84868a", "White": "#f2f1ec", "Ivory": "#efe6cf",
    "Cream": "#e9d8a6", "Red": "#b3261e", "Orange": "#d9731a", "Yellow": "#e3b719", "Green": "#2f7d4a",
    "Teal": "#1f7f86", "Blue": "#274c9b", "Violet": "#66408f", "Rose": "#d98c96", "Aluminium": "#c3c5c8",
    "Brass": "#b08d3f",
}  # fmt: skip
"""Colours that caps and pointers come in, encoded; by eye."""
LAMPS: Mapping[str, str] = {
    "Red": "#ff2418", "Amber": "#ff9a1a", "Yellow": "#ffd21f", "Green": "#35d04a", "Blue": "#2f6bff",
    "Violet": "#a04dff", "White": "#fff4e0", "Rose": "#ff5c9a",
}  # fmt: skip
"""Colours that lamps come in, encoded; by eye."""
_SIDE, _COLUMNS = 26.0, 8


def swatch(
    widgets: Widgets, label: str, name: str, colour: Colour | None, choices: Mapping[str, str]
) -> Colour | None:  # fmt: skip
    """Draw a round swatch that opens a palette; return the colour that was chosen, encoded.

    `colour` is the one now, encoded, None where several differ. A colour's place is called ``name.Word``.
    """
    scale, palette = widgets.scale, widgets.palette
    side = _SIDE * scale
    spot = tile(widgets, name, side, side, tip=label)
    if spot.is_pushed:
        imgui.open_popup(name)
    canvas, middle = spot.canvas, spot.middle
    if colour is not None:
        canvas.add_circle_filled(middle, side / 2 - scale, theme.packed(colour), 32)
    ring = palette.chalk if spot.is_focused and widgets.focus.is_shown else palette.rule
    canvas.add_circle(middle, side / 2 - scale, theme.packed(ring), 32, max(1.0, 1.2 * scale))
    return _palette(widgets, name, choices)


def _palette(widgets: Widgets, name: str, choices: Mapping[str, str]) -> Colour | None:
    chosen: Colour | None = None
    scale = widgets.scale
    imgui.push_style_var(imgui.StyleVar_.window_padding, ImVec2(12 * scale, 12 * scale))
    if imgui.begin_popup(name):
        for index, (word, code) in enumerate(choices.items()):
            if index % _COLUMNS:
                imgui.same_line(0, 6 * scale)
            side = _SIDE * scale
            spot = tile(widgets, f"{name}.{word}", side, side, tip=word)
            if spot.is_pushed:
                chosen = rgb.parse(code)
                imgui.close_current_popup()
            canvas, middle = spot.canvas, spot.middle
            canvas.add_circle_filled(middle, side / 2 - scale, theme.packed(rgb.parse(code)), 32)
            is_hot = spot.is_hovered or spot.is_focused
            ring = widgets.palette.chalk if is_hot else widgets.palette.rule
            canvas.add_circle(middle, side / 2 - scale, theme.packed(ring), 32, (2.0 if is_hot else 1.0) * scale)
        imgui.end_popup()
    imgui.pop_style_var()
    return chosen
