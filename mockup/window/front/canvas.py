"""Drawing on the front door in units, from the page's own top left corner, which scrolls."""

from __future__ import annotations

from imgui_bundle import ImVec2, imgui

from mockup.model.material import Colour
from mockup.window.front.places import Area
from mockup.window.shell import theme
from mockup.window.shell.faces import TypeStyle
from mockup.window.widgets.tile import tile
from mockup.window.widgets.widgets import Widgets


class FrontCanvas:
    """The page's drawing list, with its corner and scale."""

    def __init__(self, widgets: Widgets) -> None:
        self.widgets = widgets
        self.scale = widgets.scale
        self.draw = imgui.get_window_draw_list()
        self._corner = imgui.get_cursor_screen_pos()

    def at(self, x: float, y: float) -> ImVec2:
        """Return a place of the page on the screen."""
        return ImVec2(self._corner.x + x * self.scale, self._corner.y + y * self.scale)

    def go(self, x: float, y: float) -> None:
        """Put the next widget at a place of the page."""
        imgui.set_cursor_screen_pos(self.at(x, y))

    def fill(self, area: Area, colour: Colour, rounding: float = theme.CARD_ROUND, alpha: float = 1.0) -> None:
        """Fill an area."""
        self.draw.add_rect_filled(
            self.at(area.x, area.y), self.at(area.right, area.low), theme.packed(colour, alpha), rounding * self.scale
        )

    def outline(self, area: Area, colour: Colour, thick: float, rounding: float) -> None:
        """Draw the edge of an area."""
        self.draw.add_rect(
            self.at(area.x, area.y), self.at(area.right, area.low), theme.packed(colour), rounding * self.scale,
            max(1.0, thick * self.scale),
        )  # fmt: skip

    def line(self, start: tuple[float, float], end: tuple[float, float], colour: Colour, thick: float = 1.0) -> None:
        """Draw a straight line."""
        self.draw.add_line(self.at(*start), self.at(*end), theme.packed(colour), max(1.0, thick * self.scale))

    def text(
        self, at: tuple[float, float], text: str, size: float, colour: Colour, *, is_bold: bool = False,
        share: float = 0.0,
    ) -> float:  # fmt: skip
        """Write a text with its top at a place, `share` of its width left of it; return its width in units."""
        faces = self.widgets.faces
        style = TypeStyle(faces.semibold if is_bold else faces.plain, size)
        wide = self.widgets.text_size(text, style)[0] / self.scale
        place = self.at(at[0] - share * wide, at[1])
        self.widgets.draw_text(self.draw, (place.x, place.y), text, style, colour)
        return wide

    def pressed(self, name: str, area: Area, tip: str = "") -> bool:
        """Lay a button that is not seen over an area; True when it was pushed."""
        self.go(area.x, area.y)
        self.widgets.focus.take(name)
        return tile(self.widgets, name, area.wide * self.scale, area.tall * self.scale, tip=tip).is_pushed
