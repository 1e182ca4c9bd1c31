"""The line that parts two pictures of one pedal."""

from __future__ import annotations

from mockup.window.tools.tool import PointerMove, PointerTool

_REACH_PX = 7.0  # at scale 1, how near the line is taken hold of: by eye


class WipeTool(PointerTool):
    """Moves the wipe's line."""

    def is_at(self, x: float) -> bool:
        """Return whether the line is under a pixel of the window."""
        view = self._desk.view
        if not view.state.has_wipe_line or not view.grid.rects:
            return False
        rect = view.grid.rects[0]
        return abs(x - rect.x - rect.width * view.state.wipe) <= _REACH_PX * self._desk.window.scale

    def drag(self, move: PointerMove) -> None:
        """Move the line to the pointer."""
        view = self._desk.view
        rect = view.grid.rects[0]
        view.change(view.state.wiped_to((move.x - rect.x) / max(rect.width, 1)))
