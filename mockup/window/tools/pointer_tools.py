"""The pointer in the picture: which tool a press takes in hand, and what lies under the pointer."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from typing import TYPE_CHECKING

from mockup.layout.edit.undo import LayoutDocument
from mockup.model.design import Placement
from mockup.window.tools.carry_tool import CarryTool, SetDown
from mockup.window.tools.frame_tool import FrameTool
from mockup.window.tools.look_tool import LookTool, PanTool
from mockup.window.tools.lying_tool import LyingTool, PressTool
from mockup.window.tools.measure_tool import MeasureTool
from mockup.window.tools.tool import PointerMove, PointerTool
from mockup.window.tools.wipe_tool import WipeTool
from mockup.window.tools.writing import Writing

if TYPE_CHECKING:
    from mockup.window.desk import Desk

_TREMBLE_PX = 3.0  # at scale 1, what a click may move: common practice, no source
_STILL_S = 0.4  # after a press, for the second one of a double click: a little longer than that may take
_ZOOM_PER_LINE = 1.12  # of the wheel: by eye


class PointerTools:
    """Hands pointer events to the tools. Pixels count from the window's top left corner.

    `nudged` is the layout as a nudge by keys left it: while it stays so, the room round the picked part is shown.
    `first` is asked for a tool before any other: that of what lies over the picture, None where nothing does.
    """

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.look, self.pan, self.wipe = LookTool(desk), PanTool(desk), WipeTool(desk)
        self.carry, self.measure, self.frame = CarryTool(desk), MeasureTool(desk), FrameTool(desk)
        self.lying, self.press_tool = LyingTool(desk), PressTool(desk)
        self.writing = Writing(desk)
        self.first: Callable[[float, float], PointerTool | None] = lambda _x, _y: None
        self._held: PointerTool | None = None
        self._start = (0.0, 0.0)
        self._is_moved = False
        self._pressed_at = -math.inf
        self.hovered_part: str | None = None
        self.nudged: LayoutDocument | None = None

    @property
    def is_carrying(self) -> bool:
        """True while a part is in the hand and on its way."""
        return self._held is self.carry and self._is_moved

    def set_down(self) -> bool:
        """Leave a carried part where it is, by a key; False where none is carried."""
        if not self.is_carrying:
            return False
        self._held = None
        self.carry.drop()
        return True

    @property
    def is_holding(self) -> bool:
        """True while a button is down on the picture."""
        return self._held is not None

    @property
    def still_s(self) -> float:
        """For how many seconds the picture is to stay in its place: while a button is down, and a moment after."""
        return math.inf if self.is_holding else self._pressed_at + _STILL_S - time.perf_counter()

    def press(self, x: float, y: float, button: str, key: str) -> None:
        """Take a tool in hand for what is under the pointer; keys go to the picture again."""
        self._desk.widgets.focus.leave_panel()
        self._desk.camera.stop()
        self.nudged = None
        view = self._desk.view
        found = view.pane_at(x, y)
        if found is None:
            return
        self.writing.end()
        self._start, self._is_moved = (x, y), False
        self._pressed_at = time.perf_counter()
        self._held = self.wipe if self.wipe.is_at(x) else self.first(x, y) if button == "left" else None
        if self._held is not None:
            return
        if found[0] != view.state.active:
            view.change(view.state.activated(found[0]))
        if button in ("middle", "right"):
            self._held = self.pan
        elif view.state.tool == "measure":
            self._held = self.measure
        elif "shift+" in key:
            self.frame.begin(x, y)
            self._held = self.frame
        elif self.lying.grip(found[1]):
            self._held = self.lying
        else:
            self._held = self._for_hit(found[1])

    def drag(self, x: float, y: float, dx: float, dy: float, key: str) -> None:
        """Move the tool in hand."""
        if self._held is None:
            return
        if not self._is_moved:
            dx, dy = x - self._start[0], y - self._start[1]
            if math.hypot(dx, dy) < _TREMBLE_PX * self._desk.window.scale:
                return
            self._is_moved = True
        self._held.drag(PointerMove(x=x, y=y, dx=dx, dy=dy, is_free="alt+" in key, is_coarse="shift+" in key))
        self._desk.window.touch()

    def release(self, x: float, y: float) -> None:
        """Let the tool go."""
        held, self._held = self._held, None
        if held is not None:
            if self._is_moved:
                held.let_go(x, y)
            else:
                held.click(x, y)
            self._desk.window.touch()

    def hover(self, x: float, y: float) -> None:
        """Follow the pointer: what a click would choose, and where a measure would end."""
        view = self._desk.view
        found = view.pane_at(x, y)
        self.hovered_part = None
        if found is None or found[0] != view.state.active:
            return
        if view.state.tool == "measure":
            self.measure.hover(found[1])
            return
        hit = self._desk.camera.pick(found[1])
        self.hovered_part = hit.part if hit is not None else None

    def take_new(self, part: Placement, set_down: SetDown) -> None:
        """Take a part out of the drawer while its button is down; where it is let go, `set_down` gets it."""
        self._held, self._is_moved = self.carry, True
        self.carry.take_new(part, set_down)
        self._desk.window.hand_over()

    def scroll(self, x: float, y: float, lines: float) -> None:
        """Go nearer about the pointer."""
        found = self._desk.view.pane_at(x, y)
        if found is not None:
            self._desk.camera.zoom(_ZOOM_PER_LINE**lines, found[1])
            self._desk.window.touch()

    def step_back(self) -> bool:
        """Leave what the pointer is at: put a carried part back, clear a measure; False where there is nothing."""
        if self.is_carrying:
            self._held = None
            self.carry.cancel()
            return True
        if self.writing.is_on:
            self.writing.cancel()
            return True
        if self._held is self.lying and self.lying.is_dragging:
            self._held = None
            self.lying.cancel()
            return True
        if self._held is self.frame:
            self._held = None
            self.frame.cancel()
            return True
        if self.measure.shown.points:
            self.measure.clear()
            return True
        return False

    def _for_hit(self, at_px: tuple[float, float]) -> PointerTool:
        view = self._desk.view
        hit = self._desk.camera.pick(at_px)
        if hit is None or hit.part is None:
            return self._for_face(at_px)
        self.carry.grab(hit.part, at_px)
        if ("part", hit.part) not in view.state.picked:
            view.change(view.state.picking(("part", hit.part)))
        return self.carry

    def _for_face(self, at_px: tuple[float, float]) -> PointerTool:
        """Return the tool for a press on the box: words and the picked picture are dragged, any other only picked."""
        thing = self.lying.grab(at_px)
        if thing is not None and (thing.is_word or thing.way in self._desk.view.state.picked):
            return self.lying
        mark = self.lying.mark(at_px)
        under = mark or thing
        if under is None:
            return self.look
        self.press_tool.way = under.way
        return self.press_tool
