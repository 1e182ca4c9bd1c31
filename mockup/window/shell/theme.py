"""How the window looks: neutral greys, so that colours are judged right, and one clear face."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup import fonts
from mockup.model.finding import Severity
from mockup.model.material import Colour

TEXT_PX: Final = 15.0  # at scale 1: by eye
SMALLEST, LARGEST = 0.8, 2.5  # scale: by eye
_LEAST_ADVANCE_PX: Final = 3.75  # at scale 1: the face's own word space, 3 px, lets words run together; by eye
PANEL_PX: Final = 344.0  # width of the panel at scale 1: by eye

SURROUND: Final[Colour] = (0.17, 0.17, 0.17)
BEHIND: Final[Colour] = (0.46, 0.46, 0.46)  # behind transparent pictures; encoded middle grey: ISO 3664:2009 4.2.4

_GREYS: Final[dict[str, float]] = {
    "window_bg": 0.135, "child_bg": 0.135, "popup_bg": 0.175, "border": 0.27, "frame_bg": 0.215,
    "frame_bg_hovered": 0.27, "frame_bg_active": 0.31, "title_bg": 0.135, "title_bg_active": 0.135,
    "menu_bar_bg": 0.135, "scrollbar_bg": 0.135, "scrollbar_grab": 0.30, "scrollbar_grab_hovered": 0.38,
    "scrollbar_grab_active": 0.45, "check_mark": 0.96, "checkbox_selected_bg": 0.36, "slider_grab": 0.62,
    "slider_grab_active": 0.80, "button": 0.235, "button_hovered": 0.31, "button_active": 0.38, "header": 0.26,
    "header_hovered": 0.30, "header_active": 0.36, "separator": 0.235, "resize_grip": 0.235, "tab": 0.135,
    "tab_hovered": 0.30, "tab_selected": 0.26, "tab_selected_overline": 0.90, "plot_histogram": 0.72,
    "text_selected_bg": 0.40, "nav_cursor": 1.0, "table_border_light": 0.22, "table_border_strong": 0.26,
    "table_header_bg": 0.17, "table_row_bg": 0.135, "table_row_bg_alt": 0.150, "text": 0.91, "text_disabled": 0.56,
    "input_text_cursor": 1.0,
}  # fmt: skip

SEVERITY_COLOURS: Final[dict[Severity, Colour]] = {
    "stop": (0.93, 0.36, 0.32),
    "warn": (0.95, 0.72, 0.28),
    "note": (0.58, 0.72, 0.88),
}
SEVERITY_WORDS: Final[dict[Severity, str]] = {
    "stop": "Stops the build",
    "warn": "Likely trouble",
    "note": "Worth knowing",
}
FAULT: Final[Colour] = SEVERITY_COLOURS["stop"]
UNSAVED: Final[Colour] = SEVERITY_COLOURS["warn"]


@dataclass(frozen=True)
class Faces:
    """The window's type: plain and bold."""

    plain: imgui.ImFont
    bold: imgui.ImFont


def load_faces() -> Faces:
    """Give the panel library our faces; a context must be there."""
    config = imgui.ImFontConfig()
    config.glyph_min_advance_x = _LEAST_ADVANCE_PX
    with fonts.paths() as files:
        plain, bold = (
            imgui.get_io().fonts.add_font_from_file_ttf(str(files[is_bold]), TEXT_PX, config)
            for is_bold in (False, True)
        )
    return Faces(plain, bold)


def dress(scale: float) -> None:
    """Set colours, spaces and sizes for a scale of 1 to 2 and more."""
    style = imgui.get_style()
    for colour, grey in _GREYS.items():
        style.set_color_(getattr(imgui.Col_, colour), ImVec4(grey, grey, grey, 1.0))
    style.set_color_(imgui.Col_.modal_window_dim_bg, ImVec4(0.0, 0.0, 0.0, 0.45))
    style.set_color_(imgui.Col_.popup_bg, ImVec4(0.165, 0.165, 0.165, 0.985))
    style.window_padding = ImVec2(14, 12)
    style.frame_padding = ImVec2(9, 5)
    style.item_spacing = ImVec2(8, 7)
    style.item_inner_spacing = ImVec2(8, 5)
    style.cell_padding = ImVec2(6, 4)
    style.window_rounding = 0.0
    style.popup_rounding = style.child_rounding = 6.0
    style.frame_rounding = style.grab_rounding = style.tab_rounding = 4.0
    style.scrollbar_rounding = 6.0
    style.scrollbar_size = 11.0
    style.grab_min_size = 12.0
    style.window_border_size = 0.0
    style.popup_border_size = 1.0
    style.frame_border_size = 0.0
    style.indent_spacing = 14.0
    style.hover_stationary_delay = 0.0
    style.hover_delay_normal = 0.45
    style.scale_all_sizes(scale)
    style.font_size_base = TEXT_PX
    style.font_scale_main = scale


def packed(colour: Colour, alpha: float = 1.0) -> int:
    """Return an encoded colour as the panel library's drawing takes it."""
    return int(imgui.color_convert_float4_to_u32(ImVec4(*colour, alpha)))


def grey(value: float, alpha: float = 1.0) -> int:
    """Return a grey for drawing."""
    return packed((value, value, value), alpha)
