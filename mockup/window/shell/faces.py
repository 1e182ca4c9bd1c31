"""The window's type: one face in three weights, with the icons among its letters."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import resources
from typing import Final

from imgui_bundle import ImVec2, imgui

from mockup import fonts
from mockup.window.shell import theme
from mockup.window.shell.theme import LINE, TEXT_PX

_LEAST_ADVANCE_PX: Final = 3.9  # units at body size: the face's own word space, 3, lets words run together; by eye
_ICONS = "Font_Awesome_6_Free-Solid-900.otf"  # comes with the panel library; SIL Open Font License 1.1
_ICON_DROP_PX: Final = 1.0  # so that an icon stands in the middle of a capital: by eye


@dataclass(frozen=True)
class TypeStyle:
    """A face at a size in units."""

    face: imgui.ImFont
    size: float


@dataclass(frozen=True)
class Faces:
    """The window's type: medium for text, semibold for buttons and heads, bold for the name of the tool."""

    plain: imgui.ImFont
    semibold: imgui.ImFont
    bold: imgui.ImFont

    @property
    def text(self) -> TypeStyle:
        """What most is written in."""
        return TypeStyle(self.plain, theme.TEXT_PX)

    @property
    def small(self) -> TypeStyle:
        """States, units and hints."""
        return TypeStyle(self.plain, theme.SMALL_PX)

    @property
    def tag(self) -> TypeStyle:
        """Tags over the picture, and rows of what is wrong."""
        return TypeStyle(self.plain, theme.NUMBER_PX)

    @property
    def strong(self) -> TypeStyle:
        """Buttons, heads of sections and names in lists."""
        return TypeStyle(self.semibold, theme.TEXT_PX)

    @property
    def number(self) -> TypeStyle:
        """Numbers, and names under small pictures."""
        return TypeStyle(self.semibold, theme.NUMBER_PX)

    @property
    def title(self) -> TypeStyle:
        """The head of a sheet or a card."""
        return TypeStyle(self.semibold, theme.TITLE_PX)


def load_faces() -> Faces:
    """Give the panel library our faces; a context must be there."""
    with fonts.weights() as files, resources.as_file(_icon_file()) as icons:
        return Faces(*(_face(str(files[each]), str(icons)) for each in (fonts.MEDIUM, fonts.SEMIBOLD, fonts.BOLD)))


def _icon_file() -> resources.abc.Traversable:
    return resources.files("imgui_bundle") / "assets" / "fonts" / _ICONS


def _face(letters: str, icons: str) -> imgui.ImFont:
    config = imgui.ImFontConfig()
    config.glyph_min_advance_x = _LEAST_ADVANCE_PX
    face = imgui.get_io().fonts.add_font_from_file_ttf(letters, TEXT_PX * LINE, config)
    merged = imgui.ImFontConfig()
    merged.merge_mode = True
    merged.extra_size_scale = 1 / LINE
    merged.glyph_offset = ImVec2(0.0, _ICON_DROP_PX)
    imgui.get_io().fonts.add_font_from_file_ttf(icons, TEXT_PX * LINE, merged)
    return face
