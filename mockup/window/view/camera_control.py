"""The camera that all panes share: where it stands, and what it sees at a pixel."""

from __future__ import annotations

import time
from collections.abc import Collection, Sequence
from dataclasses import replace

import numpy as np

from mockup.model.enclosure import FACES, Face, FaceName
from mockup.model.mesh import Floats
from mockup.model.scene import Camera, Point3
from mockup.scene.projection import facing, projected
from mockup.scene.views import STRAIGHT_AT, VIEWS
from mockup.window.photograph.held_photograph import HeldPhotograph
from mockup.window.pointer.orbit import Orbit
from mockup.window.pointer.rays import Hit, Ray, ray
from mockup.window.view.camera_motion import MOTION_S, CameraMotion
from mockup.window.view.scene_view import SceneView
from mockup.window.work.workbench import Workbench

_LEAST_FACING = 0.15  # of 1, how far a face is turned to the camera that is seen well: by eye
_PART_ROOM = 1.6  # round a part that is fitted, so that its neighbours are seen too: by eye


class CameraControl:
    """Moves the camera of a view; `is_framed` is true once it stands where the named view has it."""

    def __init__(self, view: SceneView, work: Workbench, photo: HeldPhotograph) -> None:
        self._view = view
        self._work = work
        self._photo = photo
        self.orbit = Orbit()
        self.is_framed = False
        self._framed: Orbit | None = None
        self._outside: tuple[float, ...] = ()
        self._aspect = 0.0
        self._covered = (0.0, 0.0)
        self._next_target: Point3 | None = None
        self._motion: CameraMotion | None = None
        self._is_moved = False
        self.motion_s = MOTION_S

    # Motion

    def move(self) -> float | None:
        """Go on with a move; return seconds until there is more, None where the camera rests."""
        if self._motion is None:
            return None
        now = time.perf_counter()
        self.orbit = self._motion.at(now)
        if self._motion.is_over(now):
            self._motion = None
        return 0.0

    def stop(self) -> None:
        """Stay where the camera is: something was pressed."""
        if self._motion is not None:
            self._motion = None

    @property
    def goal(self) -> Orbit:
        """Where the camera stands once it rests."""
        return self._motion.end if self._motion is not None else self.orbit

    def _go(self, orbit: Orbit) -> None:
        """Move to a place, at once where nothing shall move."""
        if self.motion_s <= 0:
            self.orbit, self._motion = orbit, None
        elif orbit != self.goal:
            self._motion = CameraMotion(start=self.orbit, end=orbit, began=time.perf_counter(), seconds=self.motion_s)

    @property
    def camera(self) -> Camera:
        """The camera where it now stands; a photograph's own while one is held beside the pedal."""
        held = self._photo.camera(self._view.pane_size()) if self._is_held else None
        return held or self.orbit.camera()

    @property
    def _is_held(self) -> bool:
        """True while a photograph's camera counts, which nobody moves."""
        return self._view.state.page == "photograph"

    # Named views and sizes

    def take_view(self, name: str) -> None:
        """Go to a named view; a pedal that is turned over for it is there at once."""
        was_flipped = self._view.state.is_flipped
        self._view.change(self._view.state.seen(name))
        self.is_framed, self._is_moved = False, self._view.state.is_flipped == was_flipped
        self.frame()

    def frame(self) -> None:
        """Put the camera where the named view has it, once its scene is there; again when panes or box change shape."""
        self._keep_clear()
        box = self._work.design.enclosure if self._work.design is not None else None
        outside = (box.length_mm, box.width_mm, box.height_mm) if box is not None else ()
        before, self._aspect = (self._aspect, self._outside), self._free_aspect()
        self._outside = outside
        if (self._aspect, outside) != before and self.goal == self._framed:  # nobody has moved it since
            self.is_framed = False
        points = self._view.points()
        if self.is_framed or points is None or not self._view.grid.rects:
            return
        found = self._framed = self._beside_cards(Orbit.from_view(VIEWS[self._view.state.view], points, self._aspect))
        self.is_framed = True
        if self._next_target is not None:
            found, self._next_target = self._beside_cards(replace(found, target=self._next_target)), None
        if self._is_moved:
            self._go(found)
        else:
            self.orbit, self._motion = found, None
        self._is_moved = False

    def _keep_clear(self) -> None:
        """Go aside, calmly, with the drawer or the sheet that opens over the picture or closes."""
        (left, right), before = self._view.covered(), self._covered
        self._covered = (left, right)
        if self._covered == before or not self.is_framed:
            return
        self._is_moved = True
        if self.goal != self._framed:
            self._go(self.goal.panned((left - right - before[0] + before[1]) / 2, 0.0, self._size))

    def _free_aspect(self) -> float:
        """Return width over height of what the cards leave free of the picture."""
        width, height = self._size
        return max(width - sum(self._covered), 0.2 * width) / height

    def _beside_cards(self, orbit: Orbit) -> Orbit:
        """Return an eye whose middle of the picture lies in the middle of what the cards leave free."""
        left, right = self._covered
        return orbit.panned((left - right) / 2, 0.0, self._size) if left != right else orbit

    def uncovered(self) -> Camera:
        """Return the camera as it would stand if no card lay over the picture: that of pictures to be saved."""
        points, (left, right), (width, height) = self._view.points(), self._covered, self._size
        if points is not None and self.goal == self._framed:  # nobody has moved it
            return Orbit.from_view(VIEWS[self._view.state.view], points, width / height).camera()
        return self.goal.panned((right - left) / 2, 0.0, self._size).camera()

    def look_at(self, point: Floats) -> None:
        """Turn about a point (3,) of the world, which comes to the middle of the picture."""
        x, y, z = (float(value) for value in point)
        if self.is_framed:
            self._go(self._beside_cards(replace(self.goal, target=(x, y, z))))
        else:
            self._next_target = (x, y, z)

    def fit(self) -> None:
        """Hold the whole pedal in the picture."""
        points = self._view.points()
        if points is not None:
            self._view.change(self._view.state.at_true_size(None))
            self._go(self._beside_cards(self.orbit.fitted(points, self._free_aspect())))

    def fit_part(self) -> None:
        """Hold the selected part in the picture, with some room round it."""
        selected = self._view.state.selected
        points = self._view.points(selected) if selected is not None else None
        if points is not None:
            middle = points.mean(axis=0)
            room = middle + _PART_ROOM * (points - middle)
            self._go(self._beside_cards(self.orbit.fitted(room, self._free_aspect())))

    def see_face(self, face: FaceName) -> None:
        """Look straight at a face, where it is out of sight now."""
        side = self._work.faces.get(face)
        if side is None:
            return
        middle = side.to_world(np.array([side.width_mm / 2, side.height_mm / 2]))
        if self._work.content.is_flipped or facing(self.camera, middle, side.out) < _LEAST_FACING:
            self.take_view(STRAIGHT_AT[face])

    def show_true_size(self, px_per_mm: float) -> None:
        """Show the face that looks most towards the camera as large as it is."""
        if self._work.faces:
            face = self._facing()
            self._view.change(self._view.state.at_true_size(face))
            self._go(self._beside_cards(Orbit.true_size(self._work.faces[face], px_per_mm, self._size)))
            self.is_framed = True

    def _facing(self) -> FaceName:
        if self._work.content.is_flipped:
            return "top"
        back = self.camera.basis()[:3, 2]
        return max(FACES, key=lambda name: float(self._work.faces[name].out @ back))

    def toggle_perspective(self) -> None:
        """Show depth, or the same view without."""
        self.stop()
        self._view.change(replace(self._view.state, true_size=None))
        self.orbit = self.orbit.perspective() if self.orbit.ortho_mm is not None else self.orbit.orthographic()

    # Small moves

    def turn(self, across_deg: float, up_deg: float) -> None:
        """Go round the pedal: to the right, and up."""
        if self._is_held:
            return
        self.stop()
        self.orbit = self.orbit.orbited(across_deg, up_deg)

    def pan(self, dx_px: float, dy_px: float) -> None:
        """Shift the picture by pixels."""
        if self._is_held:
            return
        self.stop()
        self.orbit = self.orbit.panned(dx_px, dy_px, self._size)

    def zoom(self, factor: float, at_px: tuple[float, float] | None = None) -> None:
        """Go so many times nearer about a place of a pane, its middle by default."""
        if self._is_held:
            return
        self.stop()
        width, height = self._size
        self.orbit = self.orbit.zoomed(factor, at_px or (width / 2, height / 2), self._size)

    # Pixels

    def seen_at(self, point: Floats, index: int | None = None) -> tuple[float, float] | None:
        """Return where a point (3,) of the pedal on its lid is seen in the window, in a pane (the active one)."""
        found = self._seen(point[None], index)
        return found[0] if found is not None else None

    def seen_on(self, face: Face, at: tuple[float, float], out_mm: float = 0.1) -> tuple[float, float] | None:
        """Return where a place (u, v) of a face is seen in the window, in the active pane."""
        return self.seen_at(face.to_world(np.array(at), out_mm))

    def seen_line(
        self, face: Face, line: Sequence[tuple[float, float]], out_mm: float = 0.1
    ) -> list[tuple[float, float]] | None:
        """Return where a line (u, v) on a face is seen in the active pane; None where some of it is behind the eye."""
        return self._seen(face.to_world(np.array(line), out_mm))

    def _seen(self, points: Floats, index: int | None = None) -> list[tuple[float, float]] | None:
        """Return where points (n, 3) of the pedal on its lid are seen; None where one is behind the eye."""
        state = self._view.state
        at = state.active if index is None else index
        if at >= len(self._view.grid.rects) or at >= len(state.contents):
            return None
        pose = self._view.body_pose(state.contents[at])
        seen = projected(self.camera, self._size, points @ pose[:3, :3].T + pose[:3, 3]) + self._view.origin(at)
        return None if np.isnan(seen).any() else [(x, y) for x, y in seen.tolist()]

    def mm(self, units: float) -> float:
        """Return how many millimetres so many units of the window are where the camera looks."""
        return units * self._view.scale * self.orbit.mm_per_px(self._size[1])

    def ray(self, at_px: tuple[float, float]) -> Ray:
        """Return the ray through a place of the active pane, in the frame of the pedal on its lid."""
        return ray(self.camera, at_px, self._size).seen_from(self._view.body_pose(self._work.content))

    def pick(self, at_px: tuple[float, float], without: Collection[str] = ()) -> Hit | None:
        """Return what lies under a place of the active pane, some parts left out."""
        pane = self._work.panes.get(self._work.content)
        if pane is None:
            return None
        state = self._view.state
        return pane.picker.pick(ray(self.camera, at_px, self._size), state.hidden | state.see_through, without)

    def on_pedal(self, point: Floats) -> Floats:
        """Return a point (3,) of the world in the frame of the pedal on its lid."""
        pose = self._view.body_pose(self._work.content)
        return np.asarray((point - pose[:3, 3]) @ pose[:3, :3])

    @property
    def _size(self) -> tuple[float, float]:
        width, height = self._view.pane_size()
        return float(width), float(height)
