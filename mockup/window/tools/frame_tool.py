"""Several things picked with Shift: a click adds one or lets it go, a drag draws a frame round many."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from mockup.model.enclosure import faces
from mockup.scene.projection import facing
from mockup.window.tools.tool import PointerMove, PointerTool
from mockup.window.work.bare_design import pedal

if TYPE_CHECKING:
    from mockup.window.desk import Desk

_LEAST_FACING = 0.02  # of 1: a face that is turned to the eye at all


class FrameTool(PointerTool):
    """Draws a frame from where it was pressed; `frame` is its rectangle in the window while it is drawn."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.frame: tuple[float, float, float, float] | None = None
        self._start = (0.0, 0.0)

    def begin(self, x: float, y: float) -> None:
        """Press at a place of the window."""
        self._start, self.frame = (x, y), None

    def drag(self, move: PointerMove) -> None:
        """Draw the frame to the pointer."""
        x, y = self._start
        self.frame = (min(x, move.x), min(y, move.y), max(x, move.x), max(y, move.y))

    def drop(self) -> None:
        """Pick the parts whose middles lie in the frame, besides those that are picked."""
        frame, self.frame = self.frame, None
        if frame is None:
            return
        state = self._desk.view.state
        held = [way for way in state.picked if way[0] == "part"]
        new = [("part", name) for name in self._inside(frame) if ("part", name) not in held]
        if held or new:
            self._desk.view.change(state.picking(*held, *new))

    def cancel(self) -> None:
        """Draw no frame."""
        self.frame = None

    def click(self, x: float, y: float) -> None:
        """Add the part under the pointer to those that are picked, or let it go."""
        found, state = self._desk.view.pane_at(x, y), self._desk.view.state
        hit = self._desk.camera.pick(found[1]) if found is not None else None
        if hit is None or hit.part is None:
            return
        way = ("part", hit.part)
        held = [each for each in state.picked if each[0] == "part" and each != way]
        self._desk.view.change(state.picking(*held) if way in state.picked else state.picking(*held, way))

    def _inside(self, frame: tuple[float, float, float, float]) -> list[str]:
        """Return the parts in a frame, of the faces that are turned to the eye."""
        design = pedal(self._desk.work)
        if design is None:
            return []
        sides, camera = faces(design.enclosure), self._desk.camera
        found = []
        for part in design.parts:
            side = sides[part.face]
            point = side.to_world(np.array([part.u_mm, part.v_mm]))
            at = camera.seen_at(point)
            if at is None or facing(camera.camera, point, side.out) < _LEAST_FACING:
                continue
            if frame[0] <= at[0] <= frame[2] and frame[1] <= at[1] <= frame[3]:
                found.append(part.name)
        return found
