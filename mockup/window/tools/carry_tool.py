"""A part carried over the box: from the drawer or from its place, alone or with all that are picked.

It snaps to its neighbours, its room is measured as it goes, and the layout follows.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import clearances
from mockup.layout.edit import parts as edits_of
from mockup.layout.edit.undo import LayoutDocument
from mockup.model.design import Design, Placement
from mockup.model.enclosure import FACES, Face, FaceName, faces
from mockup.scene.views import STRAIGHT_AT
from mockup.window.pointer.rays import on_face
from mockup.window.pointer.snapping import Across, Down, Guide, Snapped, snapped
from mockup.window.tools.tool import FaceDrag, PointerMove
from mockup.window.view.scene_view import CarriedPart
from mockup.window.work.bare_design import pedal
from mockup.window.work.room_search import near

if TYPE_CHECKING:
    from mockup.window.desk import Desk

_SAME_PX, _DOUBLE_S = 6.0, 0.35  # how near and how soon a second click counts as one: the window's design
_TREMBLE_PX = 12.0  # what the pointer may move before it takes over from the keys again: by eye
_NET_S = 0.35  # how long a part is held over a face of the net before it is turned to: the window's design
_REST_S = 0.3  # a part that is held still so long is built where it is: by eye
SetDown = Callable[[Placement], object]


@dataclass(frozen=True, kw_only=True)
class Hand:
    """What is in the hand: the part as it was taken, the others that go along, and where it is held.

    `set_down` takes a new part where it was let go; None for one that is on the pedal already.
    """

    part: Placement
    others: tuple[Placement, ...] = ()
    offset: tuple[float, float] = (0.0, 0.0)
    kept: tuple[Across, Down] = ("left", "top")
    set_down: SetDown | None = None


class CarryTool(FaceDrag):
    """Carries the part that `grab` took, or a new one."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._hand: Hand | None = None
        self._before: LayoutDocument | None = None
        self._design: Design | None = None
        self._wanted: PointerMove | None = None
        self._at = (0.0, 0.0)
        self._keyed_at: tuple[float, float] | None = None
        self._is_seen = False
        self._clicked = (-1e9, -1e9, 0.0)
        self._under_it: tuple[str, ...] = ()
        self._net: tuple[FaceName | None, float] = (None, 0.0)

    @property
    def is_new(self) -> bool:
        """Whether a part is in the hand that is not on the pedal yet."""
        return self._hand is not None and self._hand.set_down is not None

    def grab(self, part: str, at_px: tuple[float, float]) -> None:
        """Take hold of a part at a place of the active pane; all that are picked on its face go along."""
        self._begin()
        design = self._design
        held = next((each for each in design.parts if each.name == part), None) if design is not None else None
        if held is None or design is None:
            self._hand = None
            return
        names = self._desk.view.state.picked_parts
        others = [
            p for p in design.parts if part in names and p.name in names and p.name != part and p.face == held.face
        ]
        uv = on_face(self._desk.camera.ray(at_px), self._sides(design)[held.face])
        offset = (uv[0] - held.u_mm, uv[1] - held.v_mm) if uv is not None else (0.0, 0.0)
        self._hand = Hand(part=held, others=tuple(others), offset=offset, kept=self._edges(part))

    def take_new(self, part: Placement, set_down: SetDown) -> None:
        """Take a new part in hand; where it is let go on a face, `set_down` gets it there."""
        self._begin()
        self._hand = Hand(part=part, set_down=set_down)
        self._desk.view.carry(CarriedPart(part=part.name, placement=part, is_new=True, is_off=True))

    def drag(self, move: PointerMove) -> None:
        """Follow the pointer, once a frame: of many moves between two frames the last one counts."""
        self._at = (move.x, move.y)
        if self._keyed_at is not None and math.dist(self._at, self._keyed_at) < _TREMBLE_PX * self._desk.window.scale:
            return
        self._wanted, self._keyed_at = move, None

    def follow(self) -> None:
        """Carry the part to where the pointer was last."""
        move, self._wanted = self._wanted, None
        self._is_seen = self._is_seen or move is not None
        hand, design, view = self._hand, self._design, self._desk.view
        if hand is None or design is None or move is None:
            return
        found = view.pane_at(move.x, move.y)
        place = self._under(found[1], hand, design) if found is not None and found[0] == view.state.active else None
        if place is None:
            if hand.set_down is not None:
                view.carry(CarriedPart(part=hand.part.name, placement=hand.part, is_new=True, is_off=True))
            return
        side, uv = place
        moved, landed = self._landed(hand, design, side, uv, is_free=move.is_free)
        self._bring(hand, design, side, moved, landed.guides)

    def step(self, across_mm: float, down_mm: float) -> None:
        """Move what is carried by keys, to the right and down of its face; the pointer may tremble meanwhile."""
        carried, design = self._desk.view.carried, self._design
        if carried is not None and design is not None and not carried.is_off:
            side, part = self._sides(design)[carried.placement.face], carried.placement
            u, v = part.u_mm + across_mm, part.v_mm + down_mm
            self._set(replace(part, u_mm=min(max(u, 0.0), side.width_mm), v_mm=min(max(v, 0.0), side.height_mm)))

    def next_face(self, by: int) -> None:
        """Bring what is carried to the middle of another face by keys, and look at that."""
        carried, design = self._desk.view.carried, self._design
        if carried is None or design is None or carried.others or carried.placement.kind.mount == "inside":
            return
        part = carried.placement
        name: FaceName = "top" if carried.is_off else FACES[(FACES.index(part.face) + by) % len(FACES)]
        side = self._sides(design)[name]
        self._set(replace(part, face=name, u_mm=side.width_mm / 2, v_mm=side.height_mm / 2))
        self._desk.camera.see_face(name)

    def _set(self, moved: Placement) -> None:
        """Put what is carried where keys have brought it."""
        if self._hand is not None and self._design is not None:
            self._wanted, self._keyed_at = None, self._at
            self._bring(self._hand, self._design, self._sides(self._design)[moved.face], moved, ())

    def _bring(
        self, hand: Hand, design: Design, side: Face, moved: Placement, guides: tuple[Guide, ...]
    ) -> None:  # fmt: skip
        """Show what is carried in a place, with the room that it has there; the layout follows."""
        others = self._along(hand, moved, side)
        rest = without(design, [hand.part, *others])
        self._desk.view.carry(
            CarriedPart(
                part=hand.part.name, placement=moved, others=others, guides=guides,
                clearances=clearances(Built(rest), moved), is_new=hand.set_down is not None,
            )
        )  # fmt: skip
        if hand.set_down is None:
            self._write(hand, moved, others, side)
            self._build_at = time.perf_counter() + _REST_S

    def let_go(self, x: float, y: float) -> None:
        """Leave the part where the pointer is; a new one may not have been seen to move there."""
        if self.is_new and self._wanted is None and not self._is_seen:
            self._wanted = PointerMove(x=x, y=y, dx=0.0, dy=0.0)
        self.drop()

    def over_net(self, face: FaceName | None) -> None:
        """Be told which face of the net the part is held over: after a while it is turned to; no part is on a lid."""
        face = None if face == "lid" else face
        if face != self._net[0]:
            self._net = (face, time.perf_counter())
            self._desk.window.touch()
        elif face is not None:
            self._desk.window.touch()
            if time.perf_counter() - self._net[1] >= _NET_S:
                self._net = (face, float("inf"))
                self._desk.camera.take_view(STRAIGHT_AT[face])

    def _in_net(self, hand: Hand) -> bool:
        """Set the part down on the face of the net that it was let go over, where there is room."""
        face, design = self._net[0], self._design
        self._net = (None, 0.0)
        if face is None or design is None or hand.part.kind.mount == "inside" or hand.others:
            return False
        there = near(design, hand.part, face)
        if hand.set_down is not None:
            self._desk.view.carry(None)
            hand.set_down(there)
            return True
        self._write(hand, there, (), self._sides(design)[face])
        self._desk.view.carry(None)
        self._desk.work.end_step()
        self._desk.work.request_scenes()
        self._before = None
        return True

    def drop(self) -> None:
        """Leave the part where it is; the picture follows. A new one is set down, or goes back into the drawer."""
        self.follow()
        hand, self._hand = self._hand, None
        carried = self._desk.view.carried
        if hand is not None and self._in_net(hand):
            self._build_at = 0.0
            return
        self._before, self._build_at = None, 0.0
        if hand is not None and hand.set_down is not None:
            self._desk.view.carry(None)
            if carried is not None and not carried.is_off:
                hand.set_down(carried.placement)
        elif carried is not None:
            self._desk.work.end_step()
            self._desk.view.put_down()
            self._desk.work.request_scenes()

    def click(self, x: float, y: float) -> None:
        """Pick the part alone; again at the same place, what lies under it; twice in short order, type its name."""
        hand, self._hand = self._hand, None
        view = self._desk.view
        if hand is None:
            return
        now, before = (x, y, time.perf_counter()), self._clicked
        is_again = math.hypot(x - before[0], y - before[1]) <= _SAME_PX * self._desk.window.scale
        self._clicked = now
        if not is_again or len(view.state.picked) != 1:
            self._under_it = ()
            view.change(view.state.picking(("part", hand.part.name)))
        elif now[2] - before[2] <= _DOUBLE_S:
            view.change(replace(view.state, naming=view.state.selected))
        else:
            self._pick_under(x, y)

    def _pick_under(self, x: float, y: float) -> None:
        """Pick what lies under the thing that is picked; under the last one, the uppermost again."""
        view, found = self._desk.view, self._desk.view.pane_at(x, y)
        if found is None or view.state.selected is None:
            return
        self._under_it = (*self._under_it, view.state.selected)
        hit = self._desk.camera.pick(found[1], self._under_it)
        if hit is None or hit.part is None:
            self._under_it = ()
            hit = self._desk.camera.pick(found[1])
        if hit is not None and hit.part is not None:
            view.change(view.state.picking(("part", hit.part)))

    def cancel(self) -> None:
        """Put the part back where it was taken."""
        self._wanted = None
        before, self._before, self._build_at = self._before, None, 0.0
        is_new, self._hand = self.is_new, None
        self._desk.view.carry(None)
        if not is_new:
            self._desk.work.take(before)

    def build_when_still(self) -> float | None:
        """Follow the pointer, and build the pedal around a part that is held still.

        Return the seconds until then, None for never.
        """
        self.follow()
        if self._desk.view.carried is None:
            self._build_at = 0.0
        return super().build_when_still()

    def _begin(self) -> None:
        self._wanted, self._keyed_at, self._is_seen = None, None, False
        self._before, self._design = None, pedal(self._desk.work)

    def _sides(self, design: Design) -> dict[FaceName, Face]:
        return faces(design.enclosure)

    def _under(self, at_px: tuple[float, float], hand: Hand, design: Design) -> tuple[Face, tuple[float, float]] | None:
        """Return the face under the pointer and where; of a part on the pedal its own face's plane at worst."""
        ray = self._desk.camera.ray(at_px)
        sides = self._sides(design)
        met: list[tuple[float, Face, tuple[float, float]]] = []
        for side in (sides[name] for name in FACES):
            uv = on_face(ray, side)
            if uv is None or float(ray.way @ side.out) >= 0:
                continue
            if 0 <= uv[1] <= side.height_mm and side.left_edge(uv[1]) <= uv[0] <= side.right_edge(uv[1]):
                away = float((side.origin - ray.origin) @ side.out / (ray.way @ side.out))
                met.append((away, side, uv))
        if met and hand.part.kind.mount == "panel" and not hand.others:
            _, side, uv = min(met, key=lambda each: each[0])
            return side, uv
        if hand.part.kind.mount == "inside" or hand.set_down is None:
            own = sides[hand.part.face]
            uv = on_face(ray, own)
            is_over = bool(met) or hand.set_down is None
            return (own, uv) if uv is not None and is_over else None
        return None

    def _landed(
        self, hand: Hand, design: Design, side: Face, uv: tuple[float, float], *, is_free: bool
    ) -> tuple[Placement, Snapped]:
        view = self._desk.view
        offset = hand.offset if side.name == hand.part.face else (0.0, 0.0)
        gone = {hand.part.name, *(each.name for each in hand.others)}
        landed = snapped(
            side,
            (uv[0] - offset[0], uv[1] - offset[1]),
            [part for part in design.parts if part.face == side.name and part.name not in gone],
            grid_mm=view.state.grid_mm,
            reach_mm=self._reach_mm,
            across=hand.kept[0],
            down=hand.kept[1],
            is_on=view.state.is_snapping and not is_free,
        )
        return replace(hand.part, face=side.name, u_mm=landed.u_mm, v_mm=landed.v_mm), landed

    def _along(self, hand: Hand, moved: Placement, side: Face) -> tuple[Placement, ...]:
        """Return the others of the group, moved as the one in hand; none is left hanging over an edge."""
        du, dv = moved.u_mm - hand.part.u_mm, moved.v_mm - hand.part.v_mm
        left, top, right, bottom = side.flat
        return tuple(
            replace(
                each,
                u_mm=min(max(each.u_mm + du, left), right),
                v_mm=min(max(each.v_mm + dv, top), bottom),
            )
            for each in hand.others
        )

    def _write(self, hand: Hand, moved: Placement, others: Sequence[Placement], side: Face) -> None:
        """Make the layout follow, as one step from where the part was taken."""
        work = self._desk.work
        if self._before is None:
            self._before = work.document.closed() if work.document is not None else None
        before, scope = self._before, work.scope
        if before is None:
            return
        places = {each.name: (side, each.u_mm, each.v_mm) for each in (moved, *others)}
        if moved.face == hand.part.face:
            edits = edits_of.moved(before.raw, places, **scope)
        else:
            edits = edits_of.refaced(before.raw, moved, side, **scope)
        title = f"move {moved.name}" if not others else f"move {len(others) + 1} parts"
        work.edit(lambda _document, _scope: before.edited(title, edits), is_step=False, is_shown=False)

    def _edges(self, part: str) -> tuple[Across, Down]:
        """Return the edges that the layout measures a part from."""
        kept = self._desk.work.kept_edges(part)
        return ("right" if "right" in kept else "left"), ("bottom" if "bottom" in kept else "top")


def without(design: Design, parts: Sequence[Placement]) -> Design:
    """Return a design without some of its parts."""
    names = {part.name for part in parts}
    return replace(design, parts=tuple(part for part in design.parts if part.name not in names))
