"""How the window looks: neutral greys, so that colours are judged right, a scale of type and one of spaces.

Sizes are in units: one unit is one pixel at a scale of 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.colour import rgb
from mockup.model.finding import Severity
from mockup.model.material import Colour

# The scale of type, units: our choice
LINE: Final = 1.366  # of a line to its type, as the face itself has it: ascent 1.066, descent 0.300 of the em
SMALL_PX: Final = 12.0  # states, units, hints; nothing is smaller
RAIL_PX: Final = 12.5
NUMBER_PX: Final = 13.0
TEXT_PX: Final = 14.0
TITLE_PX: Final = 18.0
HEAD_PX: Final = 20.0
NAME_PX: Final = 26.0

SPACES: Final = (4.0, 8.0, 12.0, 16.0, 24.0, 40.0)  # units: our choice
INSET: Final = 16.0  # of a sheet's text
SECTION: Final = 14.0  # above and below a section
BUTTON, QUIET_BUTTON, CHALK_BUTTON = 32.0, 28.0, 40.0  # heights
CARD_ROUND, BUTTON_ROUND, TAG_ROUND = 10.0, 6.0, 5.0  # corners

SMALLEST, LARGEST = 0.8, 2.5  # scale: by eye
GLASS_ALPHA: Final = 0.92
FADED_ALPHA: Final = 0.45  # rings that are not looked at, and the veil under a question

BEHIND: Final[Colour] = (0.46, 0.46, 0.46)  # behind transparent pictures; encoded middle grey: ISO 3664:2009 4.2.4


@dataclass(frozen=True, kw_only=True)
class Palette:
    """The colours of the window: neutral greys, but for the marks of findings. Encoded sRGB.

    `line` parts what lies on a card, `ground_line` what lies on the ground; `rule` stands under what is written on.
    """

    ground: Colour
    sheet: Colour
    raised: Colour
    hover: Colour
    chosen: Colour
    line: Colour
    ground_line: Colour
    rule: Colour
    text: Colour
    second: Colour
    faint: Colour
    chalk: Colour
    on_chalk: Colour
    stop: Colour
    warn: Colour
    note: Colour
    clear: Colour

    def of(self, use: str) -> Colour:
        """Return a colour by its name; that of a finding's mark is called after its severity."""
        colour: Colour = getattr(self, use)
        return colour


def _palette(**codes: str) -> Palette:
    return Palette(**{name: rgb.parse(code) for name, code in codes.items()})


DARK: Final = _palette(
    ground="#242424", sheet="#2e2e2e", raised="#393939", hover="#424242", chosen="#4a4a4a", line="#444444",
    ground_line="#444444", rule="#8a8a8a", text="#f2f2f2", second="#c6c6c6", faint="#b0b0b0", chalk="#f4f4f4",
    on_chalk="#1a1a1a", stop="#ff8a78", warn="#f0c05a", note="#a3c8ea", clear="#7fd3ad",
)  # fmt: skip
LIGHT: Final = _palette(
    ground="#cbcbcb", sheet="#ececec", raised="#fbfbfb", hover="#dedede", chosen="#d6d6d6", line="#cfcfcf",
    ground_line="#a9a9a9", rule="#767676", text="#1a1a1a", second="#424242", faint="#525252", chalk="#1f1f1f",
    on_chalk="#ffffff", stop="#a3261a", warn="#6e4a00", note="#1d5583", clear="#0f5f43",
)  # fmt: skip
GLASS: Final = DARK
"""What lies over the picture looks alike in both themes: it stands on dark glass."""
GLASS_GROUND: Final[Colour] = rgb.parse("#222222")

_USES: Final[dict[str, str]] = {
    "window_bg": "sheet", "child_bg": "sheet", "popup_bg": "raised", "border": "line", "frame_bg": "raised",
    "frame_bg_hovered": "hover", "frame_bg_active": "raised", "title_bg": "sheet", "title_bg_active": "sheet",
    "menu_bar_bg": "sheet", "scrollbar_bg": "sheet", "scrollbar_grab": "chosen", "scrollbar_grab_hovered": "rule",
    "scrollbar_grab_active": "rule", "check_mark": "text", "checkbox_selected_bg": "chosen", "slider_grab": "rule",
    "slider_grab_active": "chalk", "button": "raised", "button_hovered": "hover", "button_active": "chosen",
    "header": "chosen", "header_hovered": "hover", "header_active": "chosen", "separator": "line",
    "resize_grip": "line", "tab": "sheet", "tab_hovered": "hover", "tab_selected": "chosen",
    "tab_selected_overline": "chalk", "plot_histogram": "rule", "text_selected_bg": "rule",
    "table_border_light": "line", "table_border_strong": "line", "table_header_bg": "sheet", "table_row_bg": "sheet",
    "table_row_bg_alt": "sheet", "text": "text", "text_disabled": "faint", "input_text_cursor": "text",
}  # fmt: skip
"""Which colour of the palette each colour of the widget library takes."""

SEVERITY_WORDS: Final[dict[Severity, str]] = {
    "stop": "Stops the build",
    "warn": "Likely trouble",
    "note": "Worth knowing",
}


def dress(scale: float, palette: Palette) -> None:
    """Set colours, spaces and sizes for a scale of 1 to 2 and more, whatever they were before."""
    style, usual = imgui.get_style(), imgui.Style()
    for name in dir(usual):  # else what is not set below would be scaled anew each time, in the end out of all bounds
        if isinstance(getattr(usual, name), float | ImVec2):
            setattr(style, name, getattr(usual, name))
    for name, use in _USES.items():
        style.set_color_(getattr(imgui.Col_, name), ImVec4(*palette.of(use), 1.0))
    style.set_color_(imgui.Col_.nav_cursor, ImVec4(0.0, 0.0, 0.0, 0.0))  # the focus has a ring of our own
    style.set_color_(imgui.Col_.modal_window_dim_bg, ImVec4(0.0, 0.0, 0.0, FADED_ALPHA))
    style.window_padding = ImVec2(INSET, 12)
    style.frame_padding = ImVec2(12, (BUTTON - TEXT_PX * LINE) / 2)
    style.item_spacing = ImVec2(8, 8)
    style.item_inner_spacing = ImVec2(8, 4)
    style.cell_padding = ImVec2(4, 4)
    style.window_rounding = CARD_ROUND
    style.popup_rounding = style.child_rounding = BUTTON_ROUND
    style.frame_rounding = style.grab_rounding = style.tab_rounding = BUTTON_ROUND
    style.scrollbar_rounding = 6.0
    style.scrollbar_size = 11.0
    style.grab_min_size = 12.0
    style.window_border_size = 0.0
    style.popup_border_size = 1.0
    style.frame_border_size = 0.0
    style.indent_spacing = 14.0
    style.hover_stationary_delay = 0.0
    style.hover_delay_normal = 0.5
    style.scale_all_sizes(scale)
    style.input_text_cursor_size = max(1.0, round(scale))  # cut to whole pixels, it would be none under 1
    style.font_size_base = TEXT_PX * LINE
    style.font_scale_main = scale


def packed(colour: Colour, alpha: float = 1.0) -> int:
    """Return an encoded colour as the panel library's drawing takes it."""
    return int(imgui.color_convert_float4_to_u32(ImVec4(*colour, alpha)))


def grey(value: float, alpha: float = 1.0) -> int:
    """Return a grey for drawing."""
    return packed((value, value, value), alpha)
