"""The arc at the picture's lower right while the picture is a draft or a change is on its way."""

from __future__ import annotations

import time

from imgui_bundle import ImVec2, imgui

from mockup.window.desk import Desk
from mockup.window.frame.readiness import draw_arc
from mockup.window.shell import theme
from mockup.window.widgets.tags import draw_tag, tag_size

_RADIUS = 8.0
_INSET = 24.0
_WORDS_AFTER_S = 2.0  # our choice


class WaitingArc:
    """Knows since when a change is waited for."""

    def __init__(self) -> None:
        self._since: float | None = None

    def draw(self, desk: Desk, canvas: imgui.ImDrawList) -> None:
        """Draw the arc, always in one place, and after a while words beside it."""
        now = time.perf_counter()
        self._since = (self._since or now) if desk.work.is_waiting and not desk.tools.is_holding else None
        if desk.tools.is_holding or (self._since is None and desk.view.grid.is_fine):
            return
        scale, picture = desk.widgets.scale, desk.view.cards.picture
        middle = ImVec2(picture.right - _INSET * scale, picture.bottom - _INSET * scale)
        canvas.add_circle_filled(middle, (_RADIUS + 6) * scale, theme.packed(theme.GLASS_GROUND, 0.6), 32)
        draw_arc(canvas, middle, _RADIUS * scale, theme.packed(theme.GLASS.text), scale)
        if self._since is not None and now - self._since >= _WORDS_AFTER_S:
            words = f"The picture follows, {now - self._since:.0f} s"
            wide, tall = tag_size(desk.widgets, words)
            draw_tag(desk.widgets, canvas, middle.x - (_INSET * scale + wide), middle.y - tall / 2, words)
