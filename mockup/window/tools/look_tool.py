"""Going round the pedal and shifting the picture."""

from __future__ import annotations

from mockup.window.tools.tool import PointerMove, PointerTool

DEGREES_PER_PX = 0.4  # at scale 1; half a turn over the width of a small window: by eye


class LookTool(PointerTool):
    """Turns the camera while it is dragged; a click lets go of what is picked, or picks the box or its lid."""

    def drag(self, move: PointerMove) -> None:
        """Go round."""
        turn = DEGREES_PER_PX / self._desk.window.scale
        self._desk.camera.turn(-move.dx * turn, move.dy * turn)

    def click(self, x: float, y: float) -> None:
        """Let go of what is picked; where nothing is, pick the box or the lid that was pressed."""
        view = self._desk.view
        found = view.pane_at(x, y)
        if view.state.picked:
            view.change(view.state.picking())
        elif found is not None:
            hit = self._desk.camera.pick(found[1])
            group = hit.body.group if hit is not None else None
            if group in ("box", "lid"):
                view.change(view.state.picking((group,)))


class PanTool(PointerTool):
    """Shifts the picture while it is dragged."""

    def drag(self, move: PointerMove) -> None:
        """Shift the picture."""
        self._desk.camera.pan(move.dx, move.dy)
