"""A tile: a place that is pushed like a button, and that its owner draws: a swatch, a picture, a row of a list."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Self

from imgui_bundle import ImVec2, imgui

from mockup.model.material import Colour
from mockup.window.shell import theme
from mockup.window.shell.faces import TypeStyle
from mockup.window.widgets.widgets import Widgets


@dataclass(frozen=True, kw_only=True)
class Tile:
    """Where a tile lies in the window, pixels, and what came of it in this frame.

    `is_lit` is true under the pointer, and where the keyboard has led to it.
    """

    widgets: Widgets
    low: ImVec2
    high: ImVec2
    is_pushed: bool
    is_hovered: bool
    is_focused: bool

    @property
    def canvas(self) -> imgui.ImDrawList:
        """What it is drawn on."""
        return imgui.get_window_draw_list()

    @property
    def is_lit(self) -> bool:
        """Whether it is shown as the one that a push would go to."""
        return self.is_hovered or (self.is_focused and self.widgets.focus.is_shown)

    @property
    def middle(self) -> ImVec2:
        """Its middle."""
        return ImVec2((self.low.x + self.high.x) / 2, (self.low.y + self.high.y) / 2)

    def upper(self, tall: float) -> Self:
        """Return its upper part, so many units high."""
        return replace(self, high=ImVec2(self.high.x, self.low.y + tall * self.widgets.scale))

    def fill(self, colour: Colour, alpha: float = 1.0, *, beyond: float = 0.0) -> None:
        """Fill it, and so many units beyond it at the left and the right."""
        away = beyond * self.widgets.scale
        self.canvas.add_rect_filled(
            ImVec2(self.low.x - away, self.low.y), ImVec2(self.high.x + away, self.high.y),
            theme.packed(colour, alpha), theme.BUTTON_ROUND * self.widgets.scale,
        )  # fmt: skip

    def picture(self, texture: imgui.ImTextureRef | None, alpha: float = 1.0) -> None:
        """Lay a picture on it, where it is there."""
        if texture is not None:
            self.canvas.add_image_rounded(
                texture, self.low, self.high, ImVec2(0, 0), ImVec2(1, 1), theme.grey(1.0, alpha),
                theme.BUTTON_ROUND * self.widgets.scale,
            )  # fmt: skip

    def edge(self, colour: Colour, thick: float, *, away: float = 0.0, alpha: float = 1.0) -> None:
        """Draw its edge so many units thick, or a line so many units outside it."""
        scale = self.widgets.scale
        out = away * scale
        self.canvas.add_rect(
            ImVec2(self.low.x - out, self.low.y - out), ImVec2(self.high.x + out, self.high.y + out),
            theme.packed(colour, alpha), theme.BUTTON_ROUND * scale + out, max(1.0, thick * scale),
        )  # fmt: skip

    def word(self, y: float, text: str, style: TypeStyle, colour: Colour) -> None:
        """Write a word across its middle with its top at a height of the window, shortened where it is too long."""
        shown = self.widgets.shortened(text, self.high.x - self.low.x, style)
        x = self.middle.x - self.widgets.text_size(shown, style)[0] / 2
        self.widgets.draw_text(self.canvas, (x, y), shown, style, colour)


def tile(widgets: Widgets, name: str, wide: float, tall: float, *, tip: str = "", key: str = "") -> Tile:
    """Lay out a tile of a size in pixels where the next widget goes; a tip says what a push on it does."""
    pushed = imgui.invisible_button(f"##{name}", ImVec2(max(wide, 1.0), max(tall, 1.0)), imgui.ButtonFlags_.enable_nav)
    found = Tile(
        widgets=widgets,
        low=imgui.get_item_rect_min(),
        high=imgui.get_item_rect_max(),
        is_pushed=bool(pushed),
        is_hovered=imgui.is_item_hovered(),
        is_focused=imgui.is_item_focused(),
    )
    widgets.mark(name)
    widgets.tip(tip, key)
    return found
