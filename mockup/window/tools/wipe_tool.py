"""The line that parts two pictures of one pedal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mockup.window.tools.tool import PointerMove

if TYPE_CHECKING:
    from mockup.window.desk import Desk

_REACH_PX = 7.0  # at scale 1, how near the line is taken hold of: by eye


class WipeTool:
    """Moves the wipe's line."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def is_at(self, x: float) -> bool:
        """Return whether the line is under a pixel of the window."""
        view = self._desk.view
        if not view.state.is_wipe or not view.grid.rects:
            return False
        rect = view.grid.rects[0]
        return abs(x - rect.x - rect.width * view.state.wipe) <= _REACH_PX * self._desk.window.scale

    def drag(self, move: PointerMove) -> None:
        """Move the line to the pointer."""
        view = self._desk.view
        rect = view.grid.rects[0]
        view.change(view.state.wiped_to((move.x - rect.x) / max(rect.width, 1)))

    def drop(self) -> None:
        """Leave the line there."""

    def click(self, _x: float, _y: float) -> None:
        """Do nothing."""
