"""A part carried along its face: it snaps to its neighbours, and the layout follows."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from mockup.layout.edit.undo import LayoutDocument
from mockup.model.enclosure import Face
from mockup.window.pointer.rays import on_face
from mockup.window.pointer.snapping import Across, Down, neighbours, snapped
from mockup.window.tools.tool import PointerMove, PointerTool
from mockup.window.view.scene_view import CarriedPart

if TYPE_CHECKING:
    from mockup.window.desk import Desk

_REACH_PX = 7.0  # at scale 1, how near a line draws a carried part to it: by eye
_MOST_REACH_MM = 4.0  # however small the picture: by eye
_NUDGE_MM = 0.1  # without a grid: our choice
_REST_S = 0.3  # a part that is held still so long is built where it is: by eye


class CarryTool(PointerTool):
    """Carries the part that `grab` took."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._part: str | None = None
        self._offset = (0.0, 0.0)
        self._before: LayoutDocument | None = None
        self._build_at = 0.0
        self._nudged = ("", 0.0, 0.0)

    def grab(self, part: str, at_px: tuple[float, float]) -> None:
        """Take hold of a part at a place of the active pane."""
        placed = self._desk.work.part(part)
        self._part, self._before, self._offset = part, None, (0.0, 0.0)
        if placed is not None:
            uv = on_face(self._desk.camera.ray(at_px), self._desk.work.faces[placed.face])
            self._offset = (uv[0] - placed.u_mm, uv[1] - placed.v_mm) if uv is not None else (0.0, 0.0)

    def drag(self, move: PointerMove) -> None:
        """Carry the part to the pointer."""
        work, view = self._desk.work, self._desk.view
        found, part, design = view.pane_at(move.x, move.y), work.part(self._part), work.design
        if found is None or found[0] != view.state.active or part is None or design is None:
            return
        face = work.faces[part.face]
        uv = on_face(self._desk.camera.ray(found[1]), face)
        if uv is None:
            return
        if self._before is None:
            self._before = work.document
        mm_per_px = self._desk.camera.orbit.mm_per_px(view.pane_size()[1])
        across, down = self._edges(part.name)
        landed = snapped(
            face,
            (uv[0] - self._offset[0], uv[1] - self._offset[1]),
            neighbours(design, part.name),
            grid_mm=view.state.grid_mm,
            reach_mm=min(_REACH_PX * self._desk.window.scale * mm_per_px, _MOST_REACH_MM),
            across=across,
            down=down,
            is_on=view.state.is_snapping and not move.is_free,
        )
        carried = CarriedPart(part=part.name, u_mm=landed.u_mm, v_mm=landed.v_mm, guides=landed.guides)
        view.carry(carried)
        self._write(carried, face)
        self._build_at = time.perf_counter() + _REST_S

    def drop(self) -> None:
        """Leave the part where it is; the picture follows."""
        self._before, self._build_at = None, 0.0
        if self._desk.view.carried is not None:
            self._desk.work.end_step()
            self._desk.view.put_down()
            self._desk.work.request_scenes()

    def cancel(self) -> None:
        """Put the part back where it was taken."""
        before, self._before, self._build_at = self._before, None, 0.0
        self._desk.view.carry(None)
        self._desk.work.take(before)

    def nudge(self, across: int, down: int, step_mm: float | None = None) -> None:
        """Move the picked part by steps, of the grid where no other is given, as the face is seen from outside."""
        work, view = self._desk.work, self._desk.view
        part = work.part(view.state.selected)
        if part is None:
            self._desk.messages.say("Pick a part first: click it, or press Tab.")
            return
        step = step_mm or view.state.grid_mm or _NUDGE_MM
        name, u, v = self._nudged if work.is_waiting else ("", 0.0, 0.0)
        if name != part.name:  # the picture shows where it is; else steps that are on their way count too
            u, v = part.u_mm, part.v_mm
        self._nudged = (part.name, u + across * step, v + down * step)
        face = work.faces[part.face]
        _, u, v = self._nudged
        work.edit(lambda document, scope: document.moved(part.name, face, u, v, **scope), is_step=False)

    def build_when_still(self) -> float | None:
        """Build the pedal around a part that is held still; return the seconds until then, None for never."""
        if not self._build_at:
            return None
        left = self._build_at - time.perf_counter()
        if left > 0:
            return left
        self._build_at = 0.0
        if self._desk.view.carried is not None:
            self._desk.work.request_scenes()
        return None

    def _write(self, carried: CarriedPart, face: Face) -> None:
        self._desk.work.edit(
            lambda document, scope: document.moved(carried.part, face, carried.u_mm, carried.v_mm, **scope),
            is_step=False,
            is_shown=False,
        )

    def _edges(self, part: str) -> tuple[Across, Down]:
        """Return the edges that the layout measures a part from."""
        kept = self._desk.work.kept_edges(part)
        return ("right" if "right" in kept else "left"), ("bottom" if "bottom" in kept else "top")
