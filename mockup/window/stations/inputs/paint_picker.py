"""Choosing a paint: those of the project first, then lighter or darker, greyer or stronger, and hue."""

from __future__ import annotations

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.colour import lch, rgb
from mockup.colour.paints import Paint
from mockup.layout.fields import is_picture_name
from mockup.model.material import Colour
from mockup.window.shell import theme
from mockup.window.widgets.widgets import Widgets

_SWATCH_PX, _GAP_PX = 24.0, 6.0  # at scale 1: by eye
_LABEL_PX = 76.0  # the same, what a slider is called
_SLIDERS = (("Lightness", 100.0), ("Strength", 100.0), ("Colour", 360.0))
_NO_LABEL = imgui.ColorEditFlags_.no_tooltip | imgui.ColorEditFlags_.no_alpha | imgui.ColorEditFlags_.no_drag_drop


class PaintPicker:
    """Remembers where its sliders stand, so that the hue of a grey and the strength of a black are kept.

    Sliders hold lightness, strength in percent of the strongest colour of that lightness and hue, and hue in degrees.
    `named` is the picture that was typed just now in place of a colour, None for none.
    """

    def __init__(self, widgets: Widgets, name: str) -> None:
        self._widgets = widgets
        self._name = name
        self._sliders = (0.0, 0.0, 0.0)
        self._of = ""
        self.is_dragged = False
        self.named: str | None = None

    def draw(
        self, colour: Colour, paints: tuple[Paint, ...] = (), *, is_settled: bool = True, picture: str | None = None
    ) -> Colour | None:
        """Lay out the picker of a colour, encoded sRGB; return another one that was chosen.

        A `picture` of that mean colour stands in its place, "" where there could be one and None where there cannot.
        `is_settled` is false while a choice is on its way into `colour`. `is_dragged` is true while a slider moves.
        Raises `ValueError` for a typed text that is no colour.
        """
        self.is_dragged, self.named = False, None
        if is_settled and rgb.to_hex(colour) != self._of:
            self._of, self._sliders = rgb.to_hex(colour), _sliders(colour, self._sliders)
        found = (self._project_paints(colour, paints), self._slid(), self._typed(colour, picture))
        return next((each for each in found if each is not None), None)

    def _project_paints(self, colour: Colour, paints: tuple[Paint, ...]) -> Colour | None:
        widgets, chosen = self._widgets, None
        side, gap = _SWATCH_PX * widgets.scale, _GAP_PX * widgets.scale
        across = max(int((widgets.wide + gap) // (side + gap)), 1)
        if paints:
            widgets.note("Paints of this project")
        for index, paint in enumerate(paints):
            if index % across:
                imgui.same_line(0, gap)
            place = f"{self._name}.project.{index}"
            if imgui.color_button(f"##{place}", ImVec4(*paint.colour, 1.0), _NO_LABEL, ImVec2(side, side)):
                chosen = paint.colour
            widgets.mark(place)
            widgets.tip(f"{paint.name}, {rgb.to_hex(paint.colour)}")
            if rgb.to_hex(paint.colour) == rgb.to_hex(colour):
                low, high = imgui.get_item_rect_min(), imgui.get_item_rect_max()
                canvas, scale = imgui.get_window_draw_list(), widgets.scale
                canvas.add_rect(low, high, theme.grey(0.06), 4 * scale, 4 * scale)
                canvas.add_rect(low, high, theme.grey(1.0), 4 * scale, 2 * scale)
        return chosen

    def _slid(self) -> Colour | None:
        values, is_changed = list(self._sliders), False
        for index, (label, most) in enumerate(_SLIDERS):
            left = imgui.get_cursor_pos_x()
            imgui.align_text_to_frame_padding()
            self._widgets.note(label)
            imgui.same_line(left + _LABEL_PX * self._widgets.scale)
            imgui.set_next_item_width(-1)
            ending = "%.0f°" if index == 2 else "%.0f"
            changed, values[index] = imgui.slider_float(f"##{self._name}.{index}", values[index], 0.0, most, ending)
            self._widgets.mark(f"{self._name}.slider.{index}")
            is_changed |= changed
            self.is_dragged |= imgui.is_item_active()
        if not is_changed:
            return None
        lightness, strength, hue = values
        chosen = lch.from_lch(lightness, strength / 100.0 * lch.most_chroma(lightness, hue), hue)
        self._sliders, self._of = (lightness, strength, hue), rgb.to_hex(chosen)
        return chosen

    def _typed(self, colour: Colour, picture: str | None) -> Colour | None:
        widgets = self._widgets
        tall = imgui.get_frame_height()
        imgui.color_button(f"##{self._name}.swatch", ImVec4(*colour, 1.0), _NO_LABEL, ImVec2(2 * tall, tall))
        widgets.mark(f"{self._name}.swatch")
        imgui.same_line()
        other = "" if picture is None else ", or a picture beside the layout"
        tip = f"#rrggbb, or a colour's name such as teal{other}; Enter takes it"
        typed = widgets.field(f"{self._name}.hex", picture or rgb.to_hex(colour), tip=tip)
        if typed is None:
            return None
        if picture is not None and is_picture_name(typed):
            self.named = typed.strip()
            return None
        return rgb.parse(typed)


def _sliders(colour: Colour, before: tuple[float, float, float]) -> tuple[float, float, float]:
    """Return where the sliders stand for a colour; what it leaves open stays as it was before."""
    lightness, chroma, hue = lch.to_lch(colour)
    hue = hue if chroma > 1.0 else before[2]
    most = lch.most_chroma(lightness, hue)
    return lightness, min(100.0 * chroma / most, 100.0) if most > 1.0 else before[1], hue
