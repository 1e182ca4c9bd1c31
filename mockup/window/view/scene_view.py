"""How the work in hand is looked at: camera, panes, the part that is carried, what is measured."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np

from mockup.engines.gl.progressive import Rect
from mockup.model.enclosure import FaceName, faces
from mockup.model.mesh import Floats
from mockup.scene.assemble import flip
from mockup.scene.cameras import VIEWS
from mockup.window import pane_content
from mockup.window.pane_content import PaneContent
from mockup.window.pointer.measuring import Span
from mockup.window.pointer.orbit import Orbit
from mockup.window.pointer.snapping import Guide
from mockup.window.shell import theme
from mockup.window.shell.native_window import NativeWindow
from mockup.window.state import State
from mockup.window.view.pane_grid import PaneGrid, PaneShot
from mockup.window.work.scene_loader import PaneScene
from mockup.window.work.workbench import Desk


@dataclass(frozen=True, kw_only=True)
class Carried:
    """A part on its way: where it is wanted on its face, and the lines that it snaps to."""

    part: str
    u_mm: float
    v_mm: float
    guides: tuple[Guide, ...] = ()


@dataclass(frozen=True, kw_only=True, eq=False)
class Measured:
    """What the measure tool holds: points (3,) on the pedal each with its face, and what they say in words."""

    points: tuple[tuple[Floats, FaceName | None], ...] = ()
    face: FaceName | None = None
    span: Span | None = None
    lines: tuple[str, ...] = ()


class App(Desk):
    """The work in hand and how it is looked at."""

    def __init__(self, host: NativeWindow) -> None:
        super().__init__(host)
        self.stage = PaneGrid()
        self.orbit = Orbit()
        self.carried: Carried | None = None
        self.measured = Measured()
        self.preview: Measured | None = None
        self.pointed: Floats | None = None
        self.tab, self.wanted_tab = "look", ""
        self._is_framed = False
        self._framed: Orbit | None = None
        self._shape = 0.0
        self._aim: tuple[float, float, float] | None = None
        self._pose_of: PaneContent | None = None
        self._is_landing = False

    def show_part(self) -> None:
        """Turn to the panel's page of the selected part."""
        self.wanted_tab = "part"

    def look_at(self, point: tuple[float, float, float]) -> None:
        """Have the camera turn about a point of the world, which comes to the middle of the picture."""
        if self._is_framed:
            self.orbit = replace(self.orbit, target=point)
        else:
            self._aim = point  # once the view is there
        self.host.touch()

    def keep_camera(self) -> None:
        """Leave the camera where it is when the scene comes."""
        self._is_framed = True

    def area(self) -> Rect:
        """Return the picture's part of the window, from the lower left corner."""
        width, height = self.host.size
        taken = round(theme.PANEL_PX * self.host.scale) if self.state.has_panel or self.project is None else 0
        return Rect(x=0, y=0, width=max(width - taken, 64), height=max(height, 64))

    def pane_size(self) -> tuple[int, int]:
        """Return the width and height of each pane in pixels."""
        rects = self.stage.rects
        return (rects[0].width, rects[0].height) if rects else (64, 64)

    def pane_at(self, x: float, y: float) -> tuple[int, tuple[float, float]] | None:
        """Return the pane at a pixel of the window and the place in it, both from the top left corner."""
        height = self.host.size[1]
        for index, rect in enumerate(self.stage.rects):
            left, top = rect.x, height - rect.y - rect.height
            if left <= x < left + rect.width and top <= y < top + rect.height:
                if self.state.is_wipe:
                    index = int(x - left >= rect.width * self.state.wipe)
                return index, (x - left, y - top)
        return None

    def origin(self, index: int) -> tuple[float, float]:
        """Return the top left corner of a pane in the window."""
        rect = self.stage.rects[index]
        return float(rect.x), float(self.host.size[1] - rect.y - rect.height)

    def body_pose(self, order: PaneContent) -> Floats | None:
        """Return where the body lies in the world where it is not on its lid: turned over on its knobs."""
        pane = self.panes.get(order)
        if pane is None or not order.is_flipped:
            return None
        return flip(pane.scene.bodies)  # it undoes itself

    def points(self) -> Floats | None:
        """Return the points (n, 3) that a view of the active pane must hold."""
        pane = self.panes.get(self.order)
        if pane is None:
            return None
        hidden = pane_content.hidden(self.state)
        found = [body.mesh.vertices for body in pane.scene.bodies if body.group not in hidden]
        return np.concatenate(found) if found else None

    def take_view(self, name: str) -> None:
        """Go to a named view."""
        self.change(self.state.seen(name))
        self._is_framed = False
        self._frame()

    def _frame(self) -> None:
        """Put the camera where the named view stands, once its scene is there."""
        points = self.points()
        if self._is_framed or points is None or not self.stage.rects:
            return
        width, height = self.pane_size()
        self.orbit = self._framed = Orbit.from_view(VIEWS[self.state.view], points, width / height)
        self._is_framed = True
        if self._aim is not None:
            self.orbit, self._aim = replace(self.orbit, target=self._aim), None

    def _follow_shape(self) -> None:
        """Frame a named view again where panes became narrower or wider and nobody has moved the eye since."""
        width, height = self.pane_size()
        before, self._shape = self._shape, width / height
        if self._shape != before and self.orbit == self._framed:
            self._is_framed = False

    def work(self) -> float | None:
        """Do what is to be done; return seconds until there is more."""
        self.collect()
        if self.project is None:
            return None
        self.stage.outline_px = max(1.0, 1.1 * self.host.scale)
        count = len(self.state.variants)
        self.stage.lay(self.host.size, self.area(), count, self.state.is_wipe)
        self.stage.wipe_at(self.state.wipe)
        self._follow_shape()
        self._frame()
        if self._is_framed:
            self.stage.point(self._sights())
        was_fine = self.stage.is_fine
        until = self.stage.work()
        if self.stage.is_stale or self.stage.is_fine != was_fine:
            self.host.touch(1)
        if self.line is not None and not self.line.is_fault:
            left = self.line.until - time.perf_counter()
            if left <= 0:
                self.line = None
                self.host.touch()
            else:
                until = left if until is None else min(until, left)
        return until

    def _sights(self) -> list[PaneShot]:
        size, camera = self.pane_size(), self.orbit.camera()
        found = []
        for order in pane_content.contents(self.state):
            shot = pane_content.shot(self.state, camera, size)
            pose = self._carried_pose(order)
            found.append(PaneShot(key=order, shot=shot, part=self.state.selected, pose=pose))
        return found

    # Carrying a part

    def carry(self, carried: Carried | None) -> None:
        """Show a part on its way; None leaves it where the scene has it."""
        order = self.order
        if carried is None:
            if self._pose_of is not None:
                self.stage.lift(self._pose_of, None)
            self._pose_of, self.carried, self._is_landing = None, None, False
        else:
            if self._pose_of != order:
                self.stage.lift(order, carried.part)
                self._pose_of, self._is_landing = order, False
            self.carried = carried
            pose = self._carried_pose(order)
            if pose is not None:
                self.stage.carry(order, pose)
        self.host.touch()

    def put_down(self) -> None:
        """Leave the carried part where it is and have the scene follow; it stays in sight until then."""
        if self.carried is not None:
            self._is_landing = True
            self.carried = replace(self.carried, guides=())

    def _carried_pose(self, order: PaneContent) -> Floats | None:
        pane, carried = self.panes.get(order), self.carried
        if carried is None or pane is None or order != self._pose_of:
            return None
        part = next((each for each in pane.design.parts if each.name == carried.part), None)
        if part is None:
            return None
        face = faces(pane.design.enclosure)[part.face]
        shift = (carried.u_mm - part.u_mm) * face.right + (carried.v_mm - part.v_mm) * face.down
        pose = np.eye(4)
        over = self.body_pose(order)
        pose[:3, 3] = shift if over is None else over[:3, :3] @ shift
        return pose

    # What the desk tells

    def _arrived(self, pane: PaneScene, is_first: bool) -> None:
        if self.stage.scene(pane.order) is not pane.scene:
            self.stage.take(pane.order, pane.scene)
            if pane.order == self._pose_of:
                self.carry(None if self._is_landing else self.carried)
        self.panes = {order: each for order, each in self.panes.items() if self.stage.scene(order) is not None}
        if is_first:
            self._frame()

    def _varied(self, before: State) -> None:
        if before.variant != self.state.variant:
            self.measured = Measured()
        if before.selected != self.state.selected and self.carried is not None:
            self.carry(None)

    def _left(self) -> None:
        self.stage.forget()
        self.carried, self.measured, self.preview, self._pose_of = None, Measured(), None, None
        self._is_framed, self._is_landing = False, False

    def close(self) -> None:
        """End the threads and free the pictures."""
        super().close()
        self.stage.delete()
