"""Going round the pedal and shifting the picture."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from mockup.window.tools.tool import PointerMove

if TYPE_CHECKING:
    from mockup.window.desk import Desk

DEGREES_PER_PX = 0.4  # at scale 1; half a turn over the width of a small window: by eye


class LookTool:
    """Turns the camera while it is dragged; a click on nothing selects nothing."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def drag(self, move: PointerMove) -> None:
        """Go round."""
        turn = DEGREES_PER_PX / self._desk.window.scale
        self._desk.camera.turn(-move.dx * turn, move.dy * turn)

    def drop(self) -> None:
        """Stay there."""

    def click(self, _x: float, _y: float) -> None:
        """Select nothing."""
        view = self._desk.view
        if view.state.selected is not None:
            view.change(replace(view.state, selected=None))


class PanTool:
    """Shifts the picture while it is dragged."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def drag(self, move: PointerMove) -> None:
        """Shift the picture."""
        self._desk.camera.pan(move.dx, move.dy)

    def drop(self) -> None:
        """Stay there."""

    def click(self, _x: float, _y: float) -> None:
        """Do nothing."""
