"""How the window looks: neutral greys, so that colours are judged right, and one clear face."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup import fonts
from mockup.colour import rgb
from mockup.model.finding import Severity
from mockup.model.material import Colour

TEXT_PX: Final = 15.0  # at scale 1: by eye
SMALLEST, LARGEST = 0.8, 2.5  # scale: by eye
_LEAST_ADVANCE_PX: Final = 3.75  # at scale 1: the face's own word space, 3 px, lets words run together; by eye
PANEL_PX: Final = 344.0  # width of the panel at scale 1: by eye

BEHIND: Final[Colour] = (0.46, 0.46, 0.46)  # behind transparent pictures; encoded middle grey: ISO 3664:2009 4.2.4


@dataclass(frozen=True, kw_only=True)
class Palette:
    """The colours of the window: neutral greys, but for the marks of findings. Encoded sRGB."""

    ground: Colour
    sheet: Colour
    raised: Colour
    hover: Colour
    chosen: Colour
    line: Colour
    rule: Colour
    text: Colour
    second: Colour
    faint: Colour
    chalk: Colour
    on_chalk: Colour
    stop: Colour
    warn: Colour
    note: Colour

    def of(self, use: str) -> Colour:
        """Return a colour by its name; that of a finding's mark is called after its severity."""
        colour: Colour = getattr(self, use)
        return colour


def _palette(**codes: str) -> Palette:
    return Palette(**{name: rgb.parse(code) for name, code in codes.items()})


DARK: Final = _palette(
    ground="#242424", sheet="#2e2e2e", raised="#393939", hover="#424242", chosen="#4a4a4a", line="#444444",
    rule="#8a8a8a", text="#f2f2f2", second="#c6c6c6", faint="#b0b0b0", chalk="#f4f4f4", on_chalk="#1a1a1a",
    stop="#ff8a78", warn="#f0c05a", note="#a3c8ea",
)  # fmt: skip
LIGHT: Final = _palette(
    ground="#cbcbcb", sheet="#ececec", raised="#fbfbfb", hover="#dedede", chosen="#d6d6d6", line="#cfcfcf",
    rule="#767676", text="#1a1a1a", second="#424242", faint="#525252", chalk="#1f1f1f", on_chalk="#ffffff",
    stop="#a3261a", warn="#6e4a00", note="#1d5583",
)  # fmt: skip
GLASS: Final = DARK
"""What lies over the picture looks alike in both: it stands on dark plates."""

_USES: Final[dict[str, str]] = {
    "window_bg": "sheet", "child_bg": "sheet", "popup_bg": "sheet", "border": "line", "frame_bg": "raised",
    "frame_bg_hovered": "hover", "frame_bg_active": "chosen", "title_bg": "sheet", "title_bg_active": "sheet",
    "menu_bar_bg": "sheet", "scrollbar_bg": "sheet", "scrollbar_grab": "chosen", "scrollbar_grab_hovered": "rule",
    "scrollbar_grab_active": "rule", "check_mark": "text", "checkbox_selected_bg": "chosen", "slider_grab": "rule",
    "slider_grab_active": "chalk", "button": "raised", "button_hovered": "hover", "button_active": "chosen",
    "header": "chosen", "header_hovered": "hover", "header_active": "chosen", "separator": "line",
    "resize_grip": "line", "tab": "sheet", "tab_hovered": "hover", "tab_selected": "chosen",
    "tab_selected_overline": "chalk", "plot_histogram": "rule", "text_selected_bg": "rule", "nav_cursor": "chalk",
    "table_border_light": "line", "table_border_strong": "line", "table_header_bg": "sheet", "table_row_bg": "sheet",
    "table_row_bg_alt": "sheet", "text": "text", "text_disabled": "faint", "input_text_cursor": "text",
}  # fmt: skip
"""Which colour of the palette each colour of the widget library takes."""

SEVERITY_WORDS: Final[dict[Severity, str]] = {
    "stop": "Stops the build",
    "warn": "Likely trouble",
    "note": "Worth knowing",
}


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


def dress(scale: float, palette: Palette) -> None:
    """Set colours, spaces and sizes for a scale of 1 to 2 and more."""
    style = imgui.get_style()
    for name, use in _USES.items():
        style.set_color_(getattr(imgui.Col_, name), ImVec4(*palette.of(use), 1.0))
    style.set_color_(imgui.Col_.modal_window_dim_bg, ImVec4(0.0, 0.0, 0.0, 0.45))
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
