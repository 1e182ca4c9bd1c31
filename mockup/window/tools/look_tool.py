"""Going round the pedal and shifting the picture."""

from __future__ import annotations

from mockup.window.tools.tool import PointerMove, PointerTool

DEGREES_PER_PX = 0.4  # at scale 1; half a turn over the width of a small window: by eye


class LookTool(PointerTool):
    """Turns the camera while it is dragged; a click on nothing selects nothing."""

    def drag(self, move: PointerMove) -> None:
        """Go round."""
        turn = DEGREES_PER_PX / self._desk.window.scale
        self._desk.camera.turn(-move.dx * turn, move.dy * turn)

    def click(self, _x: float, _y: float) -> None:
        """Select nothing."""
        view = self._desk.view
        if view.state.picked:
            view.change(view.state.picking())


class PanTool(PointerTool):
    """Shifts the picture while it is dragged."""

    def drag(self, move: PointerMove) -> None:
        """Shift the picture."""
        self._desk.camera.pan(move.dx, move.dy)
