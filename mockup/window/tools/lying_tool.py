"""A decal or a word dragged on its face: moved, made larger by a corner, turned by its arc; the layout follows."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from mockup.layout.edit.undo import LayoutDocument
from mockup.window.pointer.face_things import FaceThing, beside, thing_at, thing_of
from mockup.window.pointer.lying import TURNS, Laid, Lying, laid, scaled, turned_by
from mockup.window.pointer.rays import on_face
from mockup.window.pointer.snapping import Uv
from mockup.window.tools.look_tool import LookTool
from mockup.window.tools.tool import FaceDrag, PointerMove
from mockup.window.work.drawn_marks import DrawnMark
from mockup.window.work.face_edits import FaceEdits, Grip

if TYPE_CHECKING:
    from mockup.window.desk import Desk

_GRIP_PX = 10.0  # round a corner or the arc, units: the window's design
_OFF_PX = 12.0  # of the handles from a word, units: the window's design
_ARC_MM, _ARC_SHARE = 3.0, 0.03  # from a thing's edge to its arc, and more for a large one: by eye
_REST_S = 0.25  # a thing that is held still so long is printed where it is: by eye
_TWICE_S, _TWICE_PX = 0.35, 6.0  # between the presses of a double click: the window's design
_TITLES: dict[Grip, str] = {"body": "move", "corner": "resize", "arc": "turn"}


@dataclass(frozen=True, kw_only=True)
class Held:
    """What is held: the thing as it was, by what, the corner's number, and where on the face."""

    thing: FaceThing
    grip: Grip
    corner: int
    at: Uv


class LyingTool(FaceDrag):
    """Takes hold of the decal or word that lies under the pointer, or of a handle of the one that is picked."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.held: Held | None = None
        self.now: Laid | None = None
        self.changes = FaceEdits(desk.work)
        self._before: LayoutDocument | None = None
        self._nudged: FaceThing | None = None
        self._clicked = (-1.0, 0.0, 0.0)

    @property
    def picked(self) -> FaceThing | None:
        """The decal or word that alone is picked."""
        picked, design = self._desk.view.state.picked, self._desk.work.design
        if design is None or len(picked) != 1 or picked[0][0] not in ("decal", "label"):
            return None
        return thing_of(design, picked[0])

    @property
    def is_dragging(self) -> bool:
        """Whether something is on its way."""
        return self._before is not None

    def frame(self, thing: FaceThing) -> Lying:
        """Return the frame that a thing's handles stand on: a word's stands off, so that it can be read."""
        lying = self.lying(thing)
        if not thing.is_word:
            return lying
        return lying.grown(self._desk.camera.mm(_OFF_PX))

    def arc(self, thing: Lying) -> tuple[Uv, ...]:
        """Return the arc by which a thing is turned."""
        return thing.arc(_ARC_MM + _ARC_SHARE * thing.height_mm)

    def grip(self, at_px: Uv) -> bool:
        """Take hold of a handle of what is picked, if one is at a place of the active pane."""
        thing = self.picked
        if thing is None or thing.part is not None:
            return False
        corners = enumerate(self.frame(thing).corners)
        spots: list[tuple[Uv, Grip, int]] = [(each, "corner", index) for index, each in corners]
        if not thing.is_word:
            spots += [(each, "arc", 0) for each in self.arc(thing.lying)]
        away, grip, index = min((self._away(thing, spot, at_px), grip, index) for spot, grip, index in spots)
        if away > _GRIP_PX * self._desk.window.scale:
            return False
        return self._take(thing, grip, index, at_px)

    def grab(self, at_px: Uv) -> FaceThing | None:
        """Take hold of what lies at a place of the active pane; return it, None where nothing does."""
        design, hit = self._desk.work.design, self._desk.camera.pick(at_px)
        if design is None or hit is None or hit.face is None or not self._desk.view.state.has_decal:
            return None
        at = on_face(self._desk.camera.ray(at_px), self._desk.work.faces[hit.face])
        thing = thing_at(design, hit.face, at) if at is not None else None
        return thing if thing is not None and self._take(thing, "body", 0, at_px) else None

    def mark(self, at_px: Uv) -> DrawnMark | None:
        """Return the scale or border whose line lies at a place of the active pane."""
        hit = self._desk.camera.pick(at_px)
        if hit is None or hit.face is None or not self._desk.view.state.has_decal:
            return None
        at = on_face(self._desk.camera.ray(at_px), self._desk.work.faces[hit.face])
        marks = self.changes.drawn() if at is not None else ()
        return next((each for each in marks if at is not None and each.face == hit.face and each.holds(at)), None)

    def drag(self, move: PointerMove) -> None:
        """Carry, stretch or turn what is held."""
        held, work = self.held, self._desk.work
        if held is None or work.document is None:
            return
        left, top = self._desk.view.origin(self._desk.view.state.active)  # it goes on where a card lies beside
        at = on_face(self._desk.camera.ray((move.x - left, move.y - top)), work.faces[held.thing.face])
        if at is None:
            return
        if self._before is None:
            self._before = work.document.closed()
            self._desk.view.change(self._desk.view.state.picking(held.thing.way))
        self.now = self._moved(held, at, move)
        before = self._before
        edits = self.changes.edits(held.thing, held.grip, self.now, before)
        title = f"{_TITLES[held.grip]} {held.thing.name}"
        work.edit(lambda _document, _scope: before.edited(title, edits), is_step=False, is_shown=False)
        self._build_at = time.perf_counter() + _REST_S

    def drop(self) -> None:
        """Leave it where it is; the picture follows."""
        self._before, self._build_at, self.held = None, 0.0, None
        self._desk.work.end_step()
        self._desk.work.request_scenes()

    def cancel(self) -> None:
        """Put it back where it was taken."""
        before, self._before, self._build_at = self._before, None, 0.0
        self.held = self.now = None
        self._desk.work.take(before)

    def click(self, x: float, y: float) -> None:
        """Pick what was pressed; a word that is pressed twice is written anew."""
        held, self.held = self.held, None
        if held is None:
            return
        before, self._clicked = self._clicked, (time.perf_counter(), x, y)
        self._desk.view.change(self._desk.view.state.picking(held.thing.way))
        is_near = math.hypot(x - before[1], y - before[2]) <= _TWICE_PX * self._desk.window.scale
        if held.thing.is_word and is_near and self._clicked[0] - before[0] <= _TWICE_S:
            self._desk.tools.writing.begin(held.thing.way, held.thing.name)

    def lying(self, thing: FaceThing) -> Lying:
        """Return where a thing lies: where it is held, else where the design has it."""
        if self.now is None or (self.held is None and not self._desk.work.is_waiting):
            self.now = None
            return thing.lying
        return self.now.thing

    def nudge(self, thing: FaceThing, right_mm: float, down_mm: float) -> None:
        """Move a thing by millimetres to the right and down, from where steps before have brought it."""
        if self._nudged is not None and self._nudged.way == thing.way and self._desk.work.is_waiting:
            thing = self._nudged
        lying = replace(thing.lying, u_mm=thing.lying.u_mm + right_mm, v_mm=thing.lying.v_mm + down_mm)
        across, down = self.changes.centred(thing.way)
        to = Laid(thing=lying, is_centred=(across and not right_mm, down and not down_mm))
        self._nudged = replace(thing, lying=lying)
        self._desk.work.edit(
            lambda document, _scope: document.edited(
                f"move {thing.name}", self.changes.edits(thing, "body", to, document)
            )
        )

    def _take(self, thing: FaceThing, grip: Grip, corner: int, at_px: Uv) -> bool:
        at = on_face(self._desk.camera.ray(at_px), self._desk.work.faces[thing.face])
        if at is None:
            return False
        self.held, self._before, self.now = Held(thing=thing, grip=grip, corner=corner, at=at), None, None
        return True

    def _away(self, thing: FaceThing, spot: Uv, at_px: Uv) -> float:
        """Return how far a spot of a thing's face is seen from a place of the active pane, pixels."""
        seen = self._desk.camera.seen_on(self._desk.work.faces[thing.face], spot)
        if seen is None:
            return math.inf
        left, top = self._desk.view.origin(self._desk.view.state.active)
        return math.hypot(seen[0] - left - at_px[0], seen[1] - top - at_px[1])

    def _moved(self, held: Held, at: Uv, move: PointerMove) -> Laid:
        """Return where what is held comes to lie once the pointer is at a place of its face."""
        was, state, design = held.thing.lying, self._desk.view.state, self._desk.work.design
        is_centred = self.changes.centred(held.thing.way)
        if held.grip == "arc":
            step = 0.0 if move.is_free else TURNS[move.is_coarse]
            return Laid(thing=turned_by(was, held.at, at, step), is_centred=is_centred)
        if held.grip == "corner":
            corner = was.corners[held.corner]
            to = (corner[0] + at[0] - held.at[0], corner[1] + at[1] - held.at[1])
            return Laid(thing=scaled(was, held.corner, to, is_centred), is_centred=is_centred)
        wanted = replace(was, u_mm=was.u_mm + at[0] - held.at[0], v_mm=was.v_mm + at[1] - held.at[1])
        if held.thing.part is not None or design is None:
            return Laid(thing=wanted)
        return laid(
            self._desk.work.faces[held.thing.face],
            wanted,
            beside(design, held.thing),
            grid_mm=state.grid_mm,
            reach_mm=self._reach_mm,
            is_on=state.is_snapping and not move.is_free,
        )


class PressTool(LookTool):
    """Goes round the pedal while it is dragged; else picks the picture, scale or border that was pressed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.way: tuple[str | int, ...] = ()

    def click(self, _x: float, _y: float) -> None:
        """Pick what was pressed."""
        self._desk.view.change(self._desk.view.state.picking(self.way))
