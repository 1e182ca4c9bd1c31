"""The pictures: one to four panes, each a draft while it moves and better and better once it rests."""

from __future__ import annotations

import os
import time
from collections import OrderedDict
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from mockup.engines.gl.progressive import Pane, Rect, outlined
from mockup.engines.gl.resources import GpuMesh, Programs
from mockup.engines.gl.screen import Screen
from mockup.engines.gl.session import RasterSession
from mockup.model.material import Colour
from mockup.model.mesh import Floats
from mockup.model.scene import Group, Scene, Shot
from mockup.window.shell import theme
from mockup.window.state import DRAFTS
from mockup.window.view.pane_rects import overlap, rect_around, shared_area

REST_S = 0.25  # a picture that nobody has touched for so long gets better: by eye
_MOST_SESSIONS = 6  # variants kept on the GPU, about 30 MB each: our choice
_PIECE_S = 0.05  # what one piece of work may take, so that the window answers at once: by eye
_DRAFT_S = 0.06  # a moving picture that takes longer is drawn smaller: by eye
_MOST_BANDS = 32
_SMALLEST = 0.45  # of its side: by eye


@dataclass(frozen=True, kw_only=True)
class PaneShot:
    """What one pane is to show: a session's key, the shot, the part outlined and where it is."""

    key: Hashable
    shot: Shot
    part: str | None = None
    pose: Floats | None = None


@dataclass
class _Slot:
    pane: Pane
    rect: Rect
    sight: PaneShot | None = None
    drawn: object = None
    work: Iterator[bool] | None = None
    is_fine: bool = False
    is_marked: bool = False
    marked: object = None
    within: Rect | None = None
    solid: GpuMesh | None = field(default=None, repr=False)
    solid_of: tuple[int, ...] = ()


class PaneGrid:
    """Draws the panes into a screen of its own; `show` copies that to the window.

    `is_stale` is true where the screen does not yet show what was drawn.
    """

    def __init__(self) -> None:
        self._programs = Programs()
        self._sessions: OrderedDict[Hashable, RasterSession] = OrderedDict()
        self._revisions: dict[Hashable, int] = {}
        self._places: list[_Slot] = []
        self._screen: Screen | None = None
        self._area = Rect(x=0, y=0, width=1, height=1)
        self._is_wipe, self._wipe = False, 0.5
        self._touched = 0.0
        self.is_stale = True
        self._bands, self._share = 4, _SMALLEST if DRAFTS in os.environ else 1.0
        self._awake: set[Hashable] = set()
        self._surround: Colour | None = None
        self.outline_px = 1.2
        self.drafts = 0

    @property
    def rects(self) -> list[Rect]:
        """Where the panes are on the screen, from the lower left corner."""
        return [place.rect for place in self._places]

    @property
    def places(self) -> list[Rect | None]:
        """Where the outlined part is seen in each pane, None where it is not."""
        return [place.within if place.is_marked else None for place in self._places]

    def has_picture(self, index: int) -> bool:
        """Return whether a pane shows anything yet."""
        return index < len(self._places) and self._places[index].sight is not None

    def lay(
        self, size: tuple[int, int], area: Rect, count: int, is_wipe: bool, *, gap: int = 0, strip: int = 0
    ) -> None:
        """Share an area of the window among so many panes; with `is_wipe` two share all of it.

        A `gap` parts them, and over each of several a `strip` is kept free.
        """
        if self._screen is None or (self._screen.width, self._screen.height) != size:
            if self._screen is not None:
                self._screen.delete()
            self._screen = Screen(*size)
            self.is_stale = True
        rects = shared_area(area, count, is_wipe, gap=gap, strip=strip)
        if rects != self.rects or is_wipe != self._is_wipe:
            while len(self._places) > len(rects):
                self._drop(self._places.pop())
            while len(self._places) < len(rects):
                self._places.append(_Slot(pane=Pane(self._programs), rect=rects[len(self._places)]))
            for place, rect in zip(self._places, rects, strict=True):
                place.rect = rect
            self._is_wipe, self._area, self.is_stale = is_wipe, area, True

    def wipe_at(self, share: float) -> None:
        """Part the two pictures of a wipe at a share of the width."""
        if share != self._wipe:
            self._wipe, self.is_stale = share, True

    def take(self, key: Hashable, scene: Scene) -> None:
        """Keep a scene under a key; a scene under a known key takes the place of the one before."""
        session = self._sessions.get(key)
        if session is None:
            self._sessions[key] = RasterSession(scene, self._programs)
        elif session.scene is not scene:
            session.update(scene)
        self._sessions.move_to_end(key)
        self._revisions[key] = self._revisions.get(key, 0) + 1
        shown = {place.sight.key for place in self._places if place.sight is not None}
        for old in [old for old in self._sessions if old not in shown and old != key]:
            if len(self._sessions) > _MOST_SESSIONS:
                self._sessions.pop(old).close()

    def scene(self, key: Hashable) -> Scene | None:
        """Return the scene kept under a key, None for none."""
        session = self._sessions.get(key)
        return session.scene if session is not None else None

    def forget(self) -> None:
        """Drop every scene: another project is opened."""
        for place in self._places:
            place.sight, place.drawn, place.work = None, None, None
        for session in self._sessions.values():
            session.close()
        self._sessions.clear()
        self.is_stale = True

    def lift(self, key: Hashable, part: str | None) -> None:
        """Make a part of one scene ready to be carried about; None puts it down."""
        session = self._sessions.get(key)
        if session is not None:
            session.lift(part)
            self._revisions[key] = self._revisions.get(key, 0) + 1

    def carry(self, key: Hashable, pose: Floats) -> None:
        """Show the lifted part moved by a rigid pose."""
        session = self._sessions.get(key)
        if session is not None:
            session.carry(pose)
            self._revisions[key] = self._revisions.get(key, 0) + 1

    def point(self, sights: Sequence[PaneShot]) -> None:
        """Say what the panes show from now on, in order; what has no scene yet keeps its last picture."""
        for place, sight in zip(self._places, sights, strict=False):
            if sight.key in self._sessions:
                place.sight = sight
                self._sessions.move_to_end(sight.key)
        shown = {place.sight.key for place in self._places if place.sight is not None}
        for key in self._awake - shown:
            if key in self._sessions:
                self._sessions[key].rest()
        self._awake = shown

    def work(self) -> float | None:
        """Draw a little; return seconds until there is more to draw, None when all is as good as it gets."""
        now = time.perf_counter()
        for place in self._places:
            if place.sight is not None and place.drawn != self._state(place):
                self._draft(place)
                self._touched = time.perf_counter()
        for place in self._places:
            self._mark(place)
        waiting = [place for place in self._places if place.sight is not None and not place.is_fine]
        if not waiting or DRAFTS in os.environ:
            return None
        if now - self._touched < REST_S:
            return max(REST_S - (now - self._touched), 0.001)
        self._refine(waiting[0])
        return 0.0 if any(not place.is_fine for place in self._places if place.sight) else None

    @property
    def is_fine(self) -> bool:
        """True while nothing is left to be drawn better."""
        return all(place.is_fine for place in self._places if place.sight is not None)

    def blank(self, size: tuple[int, int]) -> None:
        """Show no picture: plain grey of a size."""
        self.lay(size, self._area, 0, False)
        self.is_stale = True

    def show(self, surround: Colour, framebuffer: int = 0) -> None:
        """Put the pictures together on an encoded colour, if any changed, and copy them to the window."""
        screen = self._screen
        if screen is None:
            return
        if self.is_stale or surround != self._surround:
            self._surround = surround
            screen.clear(surround)
            for index, place in enumerate(self._places):
                within = self._cut(index)
                place.pane.present(screen.fb, place.rect, theme.BEHIND, within)
                if place.is_marked and place.within is not None:
                    place.pane.outline(screen.fb, place.rect, overlap(place.within, within), self.outline_px)
            self.is_stale = False
        screen.show(framebuffer)

    def delete(self) -> None:
        """Free everything."""
        for place in self._places:
            self._drop(place)
        self._places = []
        self.forget()
        if self._screen is not None:
            self._screen.delete()
        self._programs.clear()

    def _state(self, place: _Slot) -> object:
        sight = place.sight
        assert sight is not None
        return sight.key, self._revisions.get(sight.key), sight.shot, place.rect

    def _cut(self, index: int) -> Rect:
        """Return the part of the screen that a pane may draw on."""
        rect = self._places[index].rect
        if not self._is_wipe:
            return rect
        line = round(rect.width * self._wipe)
        if index == 0:
            return replace(rect, width=line)
        return replace(rect, x=rect.x + line, width=rect.width - line)

    def _draft(self, place: _Slot) -> None:
        sight = place.sight
        assert sight is not None
        place.drawn = self._state(place)
        shot = sight.shot
        small = replace(
            shot,
            quality="draft",
            width_px=max(round(shot.width_px * self._share), 16),
            height_px=max(round(shot.height_px * self._share), 16),
        )
        start = time.perf_counter()
        place.pane.draft(self._sessions[sight.key], small)
        self._tune(time.perf_counter() - start, len(self._places))
        place.work, place.is_fine, self.is_stale = None, False, True
        self.drafts += 1

    def _tune(self, seconds: float, panes: int) -> None:
        """Draw moving pictures smaller on a slow machine, larger again where there is time."""
        if DRAFTS in os.environ:
            return
        wanted = self._share * float(np.sqrt(_DRAFT_S / panes / max(seconds, 1e-4)))
        self._share = min(max(0.7 * self._share + 0.3 * wanted, _SMALLEST), 1.0)
        if self._share > 0.93:
            self._share = 1.0

    def _refine(self, place: _Slot) -> None:
        sight = place.sight
        assert sight is not None
        if place.work is None:
            session = self._sessions[sight.key]
            place.work = place.pane.refine(session, sight.shot, lambda: self._bands)
        start = time.perf_counter()
        while time.perf_counter() - start < _PIECE_S / 2:
            before = time.perf_counter()
            is_new = next(place.work, None)
            self._split(time.perf_counter() - before)
            if is_new is None:
                place.work, place.is_fine = None, True
                return
            self.is_stale |= is_new

    def _split(self, seconds: float) -> None:
        """Cut the next picture into smaller pieces where one took too long."""
        if seconds > _PIECE_S and self._bands < _MOST_BANDS:
            self._bands = min(2 * self._bands, _MOST_BANDS)
        elif seconds < _PIECE_S / 8 and self._bands > 1 and seconds > 1e-3:
            self._bands -= 1

    def _mark(self, place: _Slot) -> None:
        """Bring the mask of the part that is outlined up to date."""
        sight = place.sight
        if sight is None:
            return
        session = self._sessions[sight.key]
        meshes = [body.mesh for body in session.scene.bodies if _is_shown(body.part, body.group, sight)]
        pose = None if sight.pose is None else sight.pose.tobytes()
        state = (sight.part, self._state(place), pose, tuple(id(mesh) for mesh in meshes))
        if state == place.marked:
            return
        place.marked = state
        if place.is_marked or meshes:
            self.is_stale = True
        place.is_marked = bool(meshes)
        if not meshes:
            return
        key = tuple(id(mesh) for mesh in meshes)
        if key != place.solid_of:
            if place.solid is not None:
                place.solid.delete()
            place.solid, place.solid_of = outlined(meshes), key
        assert place.solid is not None
        place.pane.mark(sight.shot, session, place.solid, sight.pose)
        place.within = rect_around(meshes, sight.shot, sight.pose, place.rect, round(5 * self.outline_px) + 3)

    def _drop(self, place: _Slot) -> None:
        place.pane.delete()
        if place.solid is not None:
            place.solid.delete()


def _is_shown(part: str | None, group: Group, sight: PaneShot) -> bool:
    if sight.part is None or part != sight.part:
        return False
    is_open = bool({"box", "lid"} & (sight.shot.see_through | sight.shot.hidden))
    return group == "hardware" or (group == "inside" and is_open)
