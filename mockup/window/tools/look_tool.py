"""Going round the pedal and shifting the picture."""

from __future__ import annotations

from mockup.window.tools.tool import PointerMove, ToolContext

DEGREES_PER_PX = 0.4  # at scale 1; half a turn over the width of a small window: by eye


class LookTool:
    """Turns the camera while it is dragged; a click on nothing selects nothing."""

    def __init__(self, context: ToolContext) -> None:
        self._context = context

    def drag(self, move: PointerMove) -> None:
        """Go round."""
        turn = DEGREES_PER_PX / self._context.window.scale
        self._context.camera.turn(-move.dx * turn, move.dy * turn)

    def drop(self) -> None:
        """Stay there."""

    def click(self, _x: float, _y: float) -> None:
        """Select nothing."""
        view = self._context.view
        if view.state.selected is not None:
            view.change(view.state.picked(None))


class PanTool:
    """Shifts the picture while it is dragged."""

    def __init__(self, context: ToolContext) -> None:
        self._context = context

    def drag(self, move: PointerMove) -> None:
        """Shift the picture."""
        self._context.camera.pan(move.dx, move.dy)

    def drop(self) -> None:
        """Stay there."""

    def click(self, _x: float, _y: float) -> None:
        """Do nothing."""
