"""What the panes show: the state of the window drawn from the scenes on the workbench."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from mockup.checks.panel.clearance import Clearance
from mockup.engines.gl.progressive import Rect
from mockup.model.design import Placement
from mockup.model.enclosure import faces
from mockup.model.mesh import Floats
from mockup.model.scene import Camera
from mockup.scene.assemble import flip
from mockup.window.pane_content import PaneContent
from mockup.window.pointer.snapping import Guide
from mockup.window.shell.cards import GAP, cards
from mockup.window.shell.native_window import NativeWindow
from mockup.window.state import State, Toggle
from mockup.window.view.pane_grid import PaneGrid, PaneShot
from mockup.window.work.project import Project
from mockup.window.work.workbench import Workbench

STRIP, LOW_STRIP = 44.0, 32.0  # units, over each of several panes: its name and whether it can be built


@dataclass(frozen=True, kw_only=True)
class CarriedPart:
    """A part on its way: where it is wanted, the lines that it snaps to and the room round it.

    `others` go along. `is_new`: it is not on the pedal yet; `is_off`: it is not over the box.
    """

    part: str
    placement: Placement
    others: tuple[Placement, ...] = ()
    guides: tuple[Guide, ...] = ()
    clearances: tuple[Clearance, ...] = ()
    is_new: bool = False
    is_off: bool = False


class SceneView:
    """Holds the state of the window and the panes that show it.

    `is_held`: the cards are due to move, but a press on the picture keeps them where they are.
    """

    def __init__(self, window: NativeWindow, work: Workbench) -> None:
        self._window = window
        self._work = work
        self.state = State()
        self.grid = PaneGrid()
        self.carried: CarriedPart | None = None
        self._carried_in: PaneContent | None = None
        self._is_put_down = False
        self._project: Project | None = None
        self.cards = cards(window.size, window.scale)
        self.is_held = False

    # State

    def change(self, state: State) -> None:
        """Show another state."""
        before, self.state = self.state, state
        self._window.touch()
        self._work.show(state.contents, state.active)
        if before.selected != state.selected and self.carried is not None:
            self.carry(None)

    def reset(self) -> None:
        """Begin with another project, or with none."""
        self.grid.forget()
        self.carried, self._carried_in, self._is_put_down = None, None, False
        self.change(State(quality=self.state.quality))

    def is_on(self, toggle: Toggle) -> bool:
        """Return whether a toggle is on, be it here or in the layout."""
        here, design = self.state.is_on(toggle), self._work.design
        if here is not None:
            return here
        if design is None:
            return False
        if toggle == "lamp":
            return any(part.lamp is not None and part.lamp.is_lit for part in design.parts)
        return design.finish.has_clear_coat

    def toggle(self, toggle: Toggle) -> None:
        """Put a toggle the other way."""
        self.change(self.state.toggled(toggle, self.is_on(toggle)))

    def show_help(self, is_open: bool) -> None:
        """Open or close the help."""
        self.change(replace(self.state, has_help=is_open, has_settings=False))

    def show_settings(self, is_open: bool) -> None:
        """Open or close the settings."""
        self.change(replace(self.state, has_settings=is_open, has_help=False))

    # Places in the window, pixels from the top left corner

    def area(self) -> Rect:
        """Return the picture's part of the window, counted from the lower left corner."""
        card = self.cards.picture
        return Rect(x=card.x, y=self._window.size[1] - card.bottom, width=card.width, height=card.height)

    def covered(self) -> tuple[float, float]:
        """Return how many pixels of the picture lie under the drawer at its left and under the sheet at its right.

        Panes side by side keep their middle: all have one camera.
        """
        now, card = self.cards, self.cards.picture
        if len(self.state.variants) > 1:
            return 0.0, 0.0
        left = now.drawer.right - card.x if now.is_drawer_over and now.drawer is not None else 0
        right = card.right - now.sheet.x if now.is_sheet_over and now.sheet is not None else 0
        return max(float(left), 0.0), max(float(right), 0.0)

    @property
    def strip_tall(self) -> float:
        """How high the strip over each of several panes is, in units."""
        return STRIP if self.cards.size != "tight" else LOW_STRIP

    @property
    def scale(self) -> float:
        """How many pixels a unit of the window has."""
        return self._window.scale

    def pane_size(self) -> tuple[int, int]:
        """Return the width and height of each pane."""
        rects = self.grid.rects
        return (rects[0].width, rects[0].height) if rects else (64, 64)

    def origin(self, index: int) -> tuple[float, float]:
        """Return the top left corner of a pane."""
        rect = self.grid.rects[index]
        return float(rect.x), float(self._window.size[1] - rect.y - rect.height)

    def pane_at(self, x: float, y: float) -> tuple[int, tuple[float, float]] | None:
        """Return the pane at a pixel of the window and the place in it."""
        for index, rect in enumerate(self.grid.rects):
            left, top = self.origin(index)
            if left <= x < left + rect.width and top <= y < top + rect.height:
                if self.state.is_wipe:
                    index = int(x - left >= rect.width * self.state.wipe)
                return index, (x - left, y - top)
        return None

    # Scenes

    def body_pose(self, content: PaneContent) -> Floats:
        """Return the (4, 4) pose of a pedal, which may lie on its knobs; no turn where it stands on its lid."""
        pane = self._work.panes.get(content)
        if pane is None or not content.is_flipped:
            return np.eye(4)
        return flip(pane.scene.bodies)  # it undoes itself

    def points(self, part: str | None = None) -> Floats | None:
        """Return the points (n, 3) of what the active pane shows, or of one part in it."""
        pane = self._work.panes.get(self._work.content)
        if pane is None:
            return None
        hidden = self.state.hidden
        bodies = [body for body in pane.scene.bodies if body.group not in hidden]
        found = [body.mesh.vertices for body in bodies if part is None or body.part == part]
        return np.concatenate(found) if found else None

    def lay_out(self) -> None:
        """Share the picture's area among the panes, and take the scenes that came."""
        state = self.state
        self.grid.outline_px = max(1.0, 1.1 * self._window.scale)
        gap, strip = round(GAP * self.scale), round(self.strip_tall * self.scale)
        self.grid.lay(self._window.size, self.area(), len(state.variants), state.is_wipe, gap=gap, strip=strip)
        self.grid.wipe_at(state.wipe)
        if self._work.design is not None and not self._work.is_waiting:
            kept = state.kept_to(self._work.variants, self._work.part_names)
            if kept != state:
                self.change(kept)
        for content in self.state.contents:
            pane = self._work.panes.get(content)
            if pane is not None and self.grid.scene(content) is not pane.scene:
                self.grid.take(content, pane.scene)
                if content == self._carried_in:
                    self.carry(None if self._is_put_down else self.carried)

    def draw(self, camera: Camera) -> float | None:
        """Draw a little; return seconds until there is more to draw."""
        size = self.pane_size()
        self.grid.point(
            [
                PaneShot(
                    key=content,
                    shot=self.state.shot(camera, size),
                    part=self.state.selected,
                    pose=self._carried_pose(content),
                )
                for content in self.state.contents
            ]
        )
        was_fine = self.grid.is_fine
        until = self.grid.work()
        if self.grid.is_stale or self.grid.is_fine != was_fine:
            self._window.touch(1)
        return until

    # The part that is carried

    def carry(self, carried: CarriedPart | None) -> None:
        """Show a part on its way; None leaves it where the scene has it."""
        content = self._work.content
        if carried is None:
            if self._carried_in is not None:
                self.grid.lift(self._carried_in, None)
            self._carried_in, self.carried, self._is_put_down = None, None, False
        else:
            if self._carried_in != content and not carried.is_new:
                self.grid.lift(content, carried.part)
                self._carried_in, self._is_put_down = content, False
            self.carried = carried
            pose = self._carried_pose(content)
            if pose is not None:
                self.grid.carry(content, pose)
        self._window.touch()

    @property
    def is_carrying(self) -> bool:
        """Whether a part is in the hand now, not set down already."""
        return self.carried is not None and not self._is_put_down

    def put_down(self) -> None:
        """Leave the carried part where it is until the scene has it there."""
        if self.carried is not None:
            self._is_put_down = True
            self.carried = replace(self.carried, guides=(), clearances=())

    def _carried_pose(self, content: PaneContent) -> Floats | None:
        pane, carried = self._work.panes.get(content), self.carried
        if carried is None or pane is None or content != self._carried_in:
            return None
        part = next((each for each in pane.design.parts if each.name == carried.part), None)
        if part is None:
            return None
        sides, there = faces(pane.design.enclosure), carried.placement
        before = sides[part.face].pose(part.u_mm, part.v_mm, part.rotation_deg)
        after = sides[there.face].pose(there.u_mm, there.v_mm, there.rotation_deg)
        body = self.body_pose(content)
        pose: Floats = body @ after @ np.linalg.inv(before) @ np.linalg.inv(body)
        return pose

    def close(self) -> None:
        """Free the pictures."""
        self.grid.delete()
