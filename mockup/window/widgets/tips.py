"""Tips: one line beside the card of the control that the pointer rests on; they never cover a control."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import Literal

from imgui_bundle import ImVec2, imgui

from mockup.window.shell import theme
from mockup.window.shell.cards import Card
from mockup.window.shell.faces import Faces

Side = Literal["right", "left", "below", "above"]
REST_S = 0.5  # the pointer's rest before a tip: our choice
_GAP = 6.0  # units between a card and its tip: by eye


@dataclass(frozen=True, kw_only=True)
class Tip:
    """One line for a control: its rectangle, its card's, and the side of the card on which it stands."""

    text: str
    control: tuple[float, float, float, float]
    card: Card
    side: Side


class Tips:
    """Shows the tip of the control under the pointer once it rests there; a press hides it until it moves on."""

    def __init__(self) -> None:
        self._tip: Tip | None = None
        self._last: Tip | None = None
        self._since = 0.0
        self._is_hushed = False

    def offer(self, tip: Tip) -> None:
        """Say that the pointer is over a control with a tip, in this frame."""
        self._tip = tip

    def draw(self, faces: Faces, scale: float, *, is_busy: bool) -> float | None:
        """Draw the tip that is due; return the seconds until it is, None for none. `is_busy` while something moves."""
        tip, self._tip = self._tip, None
        now = time.perf_counter()
        if tip is None or self._last is None or tip.control != self._last.control:
            self._since, self._is_hushed = now, False
        self._last = tip
        if any(imgui.is_mouse_down(button) for button in (0, 1, 2)):
            self._is_hushed = True
        if tip is None or is_busy or self._is_hushed:
            return None
        if now - self._since < REST_S:
            return REST_S - (now - self._since)
        _draw(tip, faces, scale)
        return None


def place(tip: Tip, size: tuple[float, float], window: tuple[float, float], gap: float) -> tuple[float, float]:
    """Return the top left corner of a tip of a size, outside its card and inside the window."""
    left, top, right, low = tip.control
    middle_x, middle_y = (left + right) / 2, (top + low) / 2
    match tip.side:
        case "right":
            x, y = tip.card.right + gap, middle_y - size[1] / 2
        case "left":
            x, y = tip.card.x - gap - size[0], middle_y - size[1] / 2
        case "below":
            x, y = middle_x - size[0] / 2, tip.card.bottom + gap
        case _:
            x, y = middle_x - size[0] / 2, tip.card.y - gap - size[1]
    return (
        min(max(x, gap), max(window[0] - gap - size[0], gap)),
        min(max(y, gap), max(window[1] - gap - size[1], gap)),
    )


def _draw(tip: Tip, faces: Faces, scale: float) -> None:
    canvas, view = imgui.get_foreground_draw_list(), imgui.get_main_viewport()
    imgui.push_font(faces.plain, theme.SMALL_PX * theme.LINE)
    words = imgui.calc_text_size(tip.text)
    pad_x, pad_y = 8 * scale, 6 * scale
    size = (words.x + 2 * pad_x, words.y + 2 * pad_y)
    x, y = place(tip, size, (view.size.x, view.size.y), _GAP * scale)
    canvas.add_rect_filled(
        ImVec2(x, y), ImVec2(x + size[0], y + size[1]), theme.packed(theme.GLASS_GROUND), theme.TAG_ROUND * scale
    )
    canvas.add_text(ImVec2(x + pad_x, y + pad_y), theme.packed(theme.GLASS.text), tip.text)
    imgui.pop_font()
