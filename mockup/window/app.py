"""The window as a whole: what the user does becomes a new state, and the state becomes pictures."""

from __future__ import annotations

import queue
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from mockup.engines.raster.live import Rect
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Face, FaceName, faces
from mockup.model.errors import InputError, MockupError
from mockup.model.finding import Finding
from mockup.model.mesh import Floats
from mockup.scene.cameras import VIEWS
from mockup.window import recovery, saving, shown, theme
from mockup.window.checking import Answer, Checker, Question
from mockup.window.editing import Document, Prefer
from mockup.window.host import Host
from mockup.window.loading import Loaded, Loader, Pane, Wish
from mockup.window.measuring import Span
from mockup.window.orbit import Orbit
from mockup.window.project import Paint, Project, opened
from mockup.window.shown import Order
from mockup.window.snapping import Guide
from mockup.window.stage import Sight, Stage
from mockup.window.state import State
from mockup.window.watching import Watcher

_FLIP = np.diag([-1.0, 1.0, -1.0, 1.0])


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line for the user at the foot of the picture. `is_fault` lines stay until things are well again."""

    text: str
    is_fault: bool = False
    until: float = 0.0


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


class App:
    """Holds the window's parts together. Everything here runs on the window's own thread."""

    def __init__(self, host: Host) -> None:
        self.host = host
        self.stage = Stage()
        self.state = State()
        self.orbit = Orbit()
        self.project: Project | None = None
        self.document: Document | None = None
        self.panes: dict[Order, Pane] = {}
        self.variants: tuple[str, ...] = ()
        self.paints: tuple[Paint, ...] = ()
        self.findings: tuple[Finding, ...] = ()
        self.checked: str | None = None
        self.is_checking = False
        self.finding = -1
        self.faults: tuple[str, ...] = ()
        self.line: Line | None = None
        self.carried: Carried | None = None
        self.measured = Measured()
        self.preview: Measured | None = None
        self.pointed: Floats | None = None
        self.tab, self.wanted_tab = "look", ""
        self.is_own_change = False
        self.seconds = 0.0
        self._mail: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()
        self._number = self._shown_number = 0
        self._is_framed = False
        self._aim: tuple[float, float, float] | None = None
        self._watched: frozenset[Path] = frozenset()
        self._pose_of: Order | None = None
        self._put_down: tuple[str, float, float] | None = None
        self.loader = Loader(lambda loaded: self.post(lambda: self._loaded(loaded)))
        self.checker = Checker(lambda answer: self.post(lambda: self._answered(answer)))
        self.watcher = Watcher(lambda paths: self.post(lambda: self._saved_outside(paths)))
        self.keeper = recovery.Keeper(lambda text: self.post(lambda: self.say(text, is_fault=True)))

    # What threads send

    def post(self, letter: Callable[[], None]) -> None:
        """Have something done on the window's thread; may be called from any."""
        self._mail.put(letter)
        self.host.wake()

    def collect(self) -> None:
        """Do what threads have asked for."""
        while True:
            try:
                letter = self._mail.get_nowait()
            except queue.Empty:
                return
            letter()
            self.host.touch()

    # Projects

    def open(self, path: str | Path) -> bool:
        """Open a layout or a folder; False, with a line for the user, where that is none."""
        try:
            project = opened(path)
            document = saving.reopened(project.layout)
        except MockupError as error:
            self.say(str(error).splitlines()[0], is_fault=True)
            return False
        self.leave()
        self.project, self.document = project, document
        self.state = replace(State(), has_panel=self.state.has_panel)
        self._is_framed = False
        self.line = None
        try:
            recovery.remember(project.layout)
        except MockupError as error:
            self.say(str(error))
        self.host.retitle(f"{project.title} - mockup")
        self.wish(is_fresh=True)
        return True

    def leave(self) -> None:
        """Go back to the start page; what is unsaved must have been asked about before."""
        self.stage.forget()
        self.watcher.watch(())
        self.project, self.document = None, None
        self.panes, self.findings, self.faults = {}, (), ()
        self.variants, self.paints, self.checked = (), (), None
        self.carried, self.measured, self.finding = None, Measured(), -1
        self.host.retitle("mockup")

    @property
    def order(self) -> Order:
        """What the active pane shows."""
        return shown.orders(self.state)[self.state.active]

    @property
    def pane(self) -> Pane | None:
        """What the active pane was made of, the last good one; None before the first picture."""
        found = self.panes.get(self.order)
        if found is None:
            found = next((each for key, each in self.panes.items() if key.variant == self.state.variant), None)
        return found

    @property
    def design(self) -> Design | None:
        """The design in the active pane."""
        return self.pane.design if self.pane is not None else None

    @property
    def faces(self) -> dict[FaceName, Face]:
        """The faces of the box in the active pane; none before the first picture."""
        return faces(self.design.enclosure) if self.design is not None else {}

    def part(self, name: str | None) -> Placement | None:
        """Return a part of the active design by name."""
        if self.design is None:
            return None
        return next((part for part in self.design.parts if part.name == name), None)

    @property
    def is_changed(self) -> bool:
        """True where there is something to save."""
        return self.document is not None and self.document.is_changed

    # Changes

    def change(self, state: State) -> None:
        """Show another state."""
        before, self.state = self.state, state
        self.host.touch()
        if shown.orders(before) != shown.orders(state):
            self.wish()
        if before.variant != state.variant:
            self.measured = Measured()
            self.check()
        if before.selected != state.selected and self.carried is not None:
            self.carried = None

    def edit(self, document: Document | None, *, is_shown: bool = True) -> None:
        """Take a changed layout; the picture and the findings follow."""
        if document is None or document is self.document or self.project is None:
            return
        self.document = document
        self.keeper.changed(self.project.layout, document)
        self.host.touch()
        if is_shown:
            self.wish()
        self.check()

    def show_part(self) -> None:
        """Turn to the panel's page of the selected part."""
        self.wanted_tab = "part"

    def try_edit(self, changed: Callable[[Document], Document], *, is_shown: bool = True) -> None:
        """Change the layout, or say in one line why that cannot be done."""
        if self.document is None:
            return
        try:
            self.edit(changed(self.document), is_shown=is_shown)
        except InputError as error:
            self.say(str(error).splitlines()[0], is_fault=False)

    def save(self, prefer: Prefer | None = None) -> bool:
        """Write the changes into the layout file; False, with a line, where that cannot be."""
        if self.document is None or self.project is None:
            return True
        try:
            ready = saving.ready(self.project.layout, self.document, prefer=prefer)
            self.watcher.expect(self.project.layout, ready.data)
            self.document = saving.save(self.project.layout, self.document, prefer=prefer)
        except MockupError as error:
            self.say(str(error).splitlines()[0], is_fault=True)
            return False
        recovery.drop(self.project.layout)
        self.keeper.changed(self.project.layout, self.document)
        self.say(f"saved to {self.project.layout.name}")
        self.wish()
        return True

    def wish(self, *, is_fresh: bool = False) -> None:
        """Ask for the pictures of the present state."""
        if self.project is None or self.document is None:
            return
        text = self.document.text if self.document.is_changed else None
        orders = shown.orders(self.state)
        self._number = self.loader.request(Wish(project=self.project, orders=orders, text=text, is_fresh=is_fresh))

    def check(self) -> None:
        """Ask for the findings of the present state."""
        if self.project is None or self.document is None:
            return
        text = self.document.text if self.document.is_changed else None
        self.is_checking = True
        self.checker.request(Question(project=self.project, text=text, variant=self.state.variant))

    def say(self, text: str, *, is_fault: bool = False, seconds: float = 6.0) -> None:
        """Tell the user something in one line."""
        self.line = Line(text=" ".join(text.split()), is_fault=is_fault, until=time.perf_counter() + seconds)
        self.host.touch()

    # Pictures

    @property
    def is_waiting(self) -> bool:
        """True while a change is on its way into the picture."""
        return self._shown_number < self._number

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

    def body_pose(self, order: Order) -> Floats | None:
        """Return where the body lies in the world where it is not on its lid: turned over on its knobs."""
        pane = self.panes.get(order)
        if pane is None or not order.is_flipped:
            return None
        pose = _FLIP.copy()
        pose[2, 3] = max(float(body.mesh.vertices[:, 2].max()) for body in pane.scene.bodies)
        return pose

    def points(self) -> Floats | None:
        """Return the points (n, 3) that a view of the active pane must hold."""
        pane = self.panes.get(self.order)
        if pane is None:
            return None
        hidden = shown.hidden(self.state)
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
        self.orbit = Orbit.from_view(VIEWS[self.state.view], points, width / height)
        self._is_framed = True
        if self._aim is not None:
            self.orbit, self._aim = replace(self.orbit, target=self._aim), None

    def work(self) -> float | None:
        """Do what is to be done; return seconds until there is more."""
        self.collect()
        if self.project is None:
            return None
        self.stage.outline_px = max(1.0, 1.1 * self.host.scale)
        count = len(self.state.variants)
        self.stage.lay(self.host.size, self.area(), count, self.state.is_wipe)
        self.stage.wipe_at(self.state.wipe)
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

    def _sights(self) -> list[Sight]:
        size, camera = self.pane_size(), self.orbit.camera()
        ghost: frozenset[Any] = frozenset({"box", "lid"}) if self.state.is_see_through else frozenset()
        found = []
        for order in shown.orders(self.state):
            shot = shown.shot(self.state, camera, size)
            pose = self._carried_pose(order)
            found.append(Sight(key=order, shot=shot, ghost=ghost, part=self.state.selected, pose=pose))
        return found

    # Carrying a part

    def carry(self, carried: Carried | None) -> None:
        """Show a part on its way; None leaves it where the scene has it."""
        order = self.order
        if carried is None:
            if self._pose_of is not None:
                self.stage.lift(self._pose_of, None)
            self._pose_of, self.carried = None, None
        else:
            if self._pose_of != order:
                self.stage.lift(order, carried.part)
                self._pose_of = order
            self.carried = carried
            pose = self._carried_pose(order)
            if pose is not None:
                self.stage.carry(order, pose)
        self.host.touch()

    def put_down(self) -> None:
        """Leave the carried part where it is and have the scene follow; it stays in sight until then."""
        if self.carried is not None:
            self._put_down = (self.carried.part, self.carried.u_mm, self.carried.v_mm)
            self.carried = replace(self.carried, guides=())

    def _carried_pose(self, order: Order) -> Floats | None:
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

    # Letters

    def _loaded(self, loaded: Loaded) -> None:
        if self.project is None or loaded.number < self._number - 50:
            return
        self.seconds, self._shown_number = loaded.seconds, loaded.number
        self.variants, self.paints = loaded.variants, loaded.paints
        for pane in loaded.panes:
            if pane is not None:
                self._take(pane)
        self.faults = loaded.faults
        if loaded.faults:
            more = f" (and {len(loaded.faults) - 1} more)" if len(loaded.faults) > 1 else ""
            self.say(loaded.faults[0] + more, is_fault=True)
        elif self.line is not None and self.line.is_fault:
            self.line = None
        if loaded.files != self._watched:
            self._watched = loaded.files
            self.watcher.watch(loaded.files)
        if self.design is not None:
            self.state = self.state.kept_to(self.variants, [part.name for part in self.design.parts])
        if loaded.number == self._number and self.checked is None and not self.is_checking:
            self.check()

    def _take(self, pane: Pane) -> None:
        before = self.panes.get(pane.order)
        self.panes[pane.order] = pane
        if self.stage.scene(pane.order) is not pane.scene:
            is_landing = pane.order == self._pose_of and self._put_down is not None
            self.stage.take(pane.order, pane.scene)
            if is_landing:
                self._put_down = None
                self.carry(None)
            elif pane.order == self._pose_of and self.carried is not None:
                self.carry(self.carried)
        if before is None and not self._is_framed:
            self._frame()

    def _answered(self, answer: Answer) -> None:
        if self.project is None or answer.question.project != self.project:
            return
        self.is_checking = False
        if answer.faults:
            return
        self.findings = answer.findings
        self.checked = answer.question.variant or ""
        if self.finding >= len(self.findings):
            self.finding = -1

    def _saved_outside(self, paths: frozenset[Path]) -> None:
        """Follow files that were saved elsewhere; what is unsaved here stays on top of a new layout."""
        if self.project is None or self.document is None:
            return
        if self.project.layout.resolve() in {path.resolve() for path in paths} or not paths:
            self._follow_layout()
        self.wish(is_fresh=True)
        self.check()

    def _follow_layout(self) -> None:
        assert self.project is not None
        assert self.document is not None
        try:
            there = saving.reopened(self.project.layout)
            if not self.document.is_changed:
                self.document = there
            elif there.disk != self.document.disk:
                self.document = replace(self.document.onto(there.disk), has_bom=there.has_bom)
        except MockupError as error:
            self.say(str(error).splitlines()[0], is_fault=True)

    def close(self) -> None:
        """End the threads and free the pictures."""
        self.watcher.close()
        self.keeper.close()
        self.loader.close()
        self.checker.close()
        self.stage.delete()
