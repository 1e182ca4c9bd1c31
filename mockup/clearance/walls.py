"""The inside of a box as convex pieces of metal: walls, roundings, ceiling, screw posts, lid and its lip.

Every piece is what lies beyond a few corner points, seen along a fan of directions from the hollow towards the metal:
a body is clear of it by the greatest of ``min over corners n.p - h(n)``. Walls are straight; a rounding becomes strips
and sectors whose chords lie a hair in front of the metal, so that no room is invented.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from mockup.enclosure.lid import lip_bars, lip_edge, screw_places
from mockup.enclosure.skin import Skin, inner_skin
from mockup.memo import memoize
from mockup.model.enclosure import Enclosure, FaceName, faces
from mockup.model.mesh import Floats, Ints

OWN_PANEL_MM = 0.1  # a part touches the panel it hangs from; metal that rises less than this is that panel
LID, LIP = "the lid", "the lid's lip"
LEAST_SECTORS = 4  # of a quarter of a round corner
SAGITTA_MM = 0.02  # how far a sector's chord lies in front of the metal
STRIPS = 4  # of the rounding under the ceiling
FAN_DEG, COARSE_FAN_DEG = 6.0, 15.0  # between two directions of a fan
WALL_FAN_DEG = 30.0  # the same before a wall, which is met squarely
RING_DEG = 1.0  # between two directions round a screw post: parts are turned by whole degrees
_WALLS: dict[FaceName, Floats] = {
    "right": np.array([1.0, 0.0]),
    "far": np.array([0.0, 1.0]),
    "left": np.array([-1.0, 0.0]),
    "near": np.array([0.0, -1.0]),
}
Fan = tuple[str, Floats, Floats]
"""A piece of metal: the name of what it belongs to, directions (d, 3), and how near it comes in each (d,)."""
Seen = tuple[Floats, Floats]
"""Directions (d, 3) to a piece of metal and how near it comes in each (d,)."""
Chord = tuple[tuple[float, float], tuple[float, float]]
"""A straight bit of the inside's profile: (inset, height) of its lower and its upper end."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Metal:
    """What stands in the way inside a box: `ways` (d, 3) with `bounds` (d,), a row of them for each piece.

    `starts` (m,) is where each piece's row begins, `names` (m,) what the piece belongs to: ``the left wall``.
    """

    ways: Floats
    bounds: Floats
    starts: Ints
    names: tuple[str, ...]


@memoize
def metal(box: Enclosure, panel: FaceName | None) -> Metal:
    """Return what stands in the way inside a box, leaving out the panel that a part hangs from, None for none."""
    fans = list(_fans(box, panel))
    return Metal(
        ways=np.concatenate([ways for _, ways, _ in fans]),
        bounds=np.concatenate([bounds for _, _, bounds in fans]),
        starts=np.cumsum([0, *(len(bounds) for _, _, bounds in fans[:-1])]),
        names=tuple(name for name, _, _ in fans),
    )


def _fans(box: Enclosure, panel: FaceName | None) -> Iterator[Fan]:
    inner = inner_skin(box)
    yield LID, np.array([[0.0, 0.0, -1.0]]), np.array([-box.lid_mm])
    if panel != "top":
        yield "the top", np.array([[0.0, 0.0, 1.0]]), np.array([inner.high_mm])
    ring = np.radians(np.arange(0.0, 360.0, RING_DEG))
    level, lean = np.stack([np.cos(ring), np.sin(ring), np.zeros(len(ring))], axis=1), math.radians(box.draft_deg)
    for x, y in screw_places(box):  # a cone that widens upward is met at right angles to its side
        near = math.cos(lean) * (level @ (x, y, 0.0) - box.post_mm / 2) + math.sin(lean) * box.lid_mm
        yield "a screw post", math.cos(lean) * level + (0.0, 0.0, math.sin(lean)), near
    yield from _lip(box)
    inside = _Inside(box, inner, panel)
    for name, way in _WALLS.items():
        yield from inside.strips(name, way, 0.0)
    sectors = max(
        LEAST_SECTORS, math.ceil(math.pi / 4 / math.acos(1.0 - SAGITTA_MM / max(inner.corner_mm, SAGITTA_MM)))
    )
    for sector in range(4 * sectors):
        angle = math.pi / 2 * (sector + 0.5) / sectors
        way = np.array([math.cos(angle), math.sin(angle)])
        yield from inside.strips(max(_WALLS, key=lambda each: float(_WALLS[each] @ way)), way, math.pi / 4 / sectors)


def _lip(box: Enclosure) -> Iterator[Fan]:
    """Yield the bars of the lid's lip, seen from above, from the middle of the hollow and past their ends."""
    edge, top = lip_edge(box), box.lid_mm + box.lip_mm
    for wall, (low, high) in lip_bars(box).items():
        way, along = _WALLS[wall], _WALLS[wall][::-1]
        corners = [
            (x, y, z)
            for inset, z in ((0.0, top - edge), (edge, top))
            for x in (low[0] + inset, high[0] - inset)
            for y in (low[1] + inset, high[1] - inset)
        ]
        ways = []
        for aside in np.radians(np.arange(-90.0, 91.0, COARSE_FAN_DEG)).tolist():
            level = math.cos(aside) * way + math.sin(aside) * along
            down = np.radians(np.arange(-90.0, 1.0, COARSE_FAN_DEG if aside else FAN_DEG))
            ways.append(np.column_stack([np.cos(down)[:, None] * level, np.sin(down)]))
        yield LIP, *_seen(np.array(corners), np.concatenate(ways))


class _Inside:
    """The hollow of a box, and the panel that a part hangs from; `own` is that panel's level direction, if a side."""

    def __init__(self, box: Enclosure, inner: Skin, panel: FaceName | None) -> None:
        self.inner = inner
        self.chords = list(pairwise(_rails(inner, is_under_panel=panel == "top")))
        self.own = _WALLS.get(panel) if panel is not None else None
        if panel is not None and self.own is not None:
            face = faces(box)[panel]
            self.plane = float(face.origin @ face.out) - box.wall_mm - OWN_PANEL_MM, face.out

    def strips(self, wall: FaceName, way: Floats, half: float) -> Iterator[Fan]:
        """Yield the metal beyond a straight wall or a sector of a corner, from the rim up.

        `way` (2,) is the level direction to it; `half` half the angle of a sector, whose chord lies that much nearer.
        """
        facing = 0.0 if self.own is None else float(self.own @ way)
        core = float(np.abs(way) @ self.inner.core)
        for index, chord in enumerate(self.chords):
            out = [core + (self.inner.corner_mm - inset) * math.cos(half) for inset, _ in chord]
            ends = [(out[0], chord[0][1]), (out[1], chord[1][1])]
            found: Seen | None
            if facing < 0.01:
                found = self._plain(way, chord, ends, is_wall=index == 0)
            elif facing > 0.999:
                found = self._over_panel(way, chord, ends) if index else None
            else:
                found = self._beside_panel(way, chord, ends, is_wall=index == 0)
            if found is not None:
                yield f"the {wall} wall", *found

    def _plain(self, way: Floats, chord: Chord, ends: list[tuple[float, float]], *, is_wall: bool) -> Seen:
        return _seen(
            np.array([[*(mm * way), z] for mm, z in ends]), _fan(way, chord, 90.0, WALL_FAN_DEG if is_wall else FAN_DEG)
        )

    def _over_panel(self, way: Floats, chord: Chord, ends: list[tuple[float, float]]) -> Seen | None:
        """Return the rounding over the panel that a part hangs from, as far as it stands out of that panel."""
        cut = [self._own_mm(z) for _, z in ends]
        (first, low), (last, high) = ends
        if last >= cut[1]:
            return None
        if first > cut[0]:  # the chord rises out of the panel on its way
            share = (first - cut[0]) / ((first - cut[0]) + (cut[1] - last))
            first, low = first + share * (last - first), low + share * (high - low)
            cut[0] = first
        corners = ((first, low), (last, high), (cut[0], low), (cut[1], high))
        return _seen(np.array([[*(mm * way), z] for mm, z in corners]), _fan(way, chord, 180.0, FAN_DEG))

    def _beside_panel(self, way: Floats, chord: Chord, ends: list[tuple[float, float]], *, is_wall: bool) -> Seen:
        """Return a sector of a corner beside the panel that a part hangs from, without what is as good as that panel.

        What is left has an upright edge, seen along `way` and everything from there to away from the panel.
        """
        own = self.own
        assert own is not None
        side = np.array([-own[1], own[0]]) * math.copysign(1.0, float(np.array([-own[1], own[0]]) @ way))
        corners, ways = [], []
        for mm, z in ends:
            cut = self._own_mm(z)
            corners.append([*(cut * own + (mm - cut * float(own @ way)) / float(side @ way) * side), z])
        facing = float(own @ way)
        across = math.sqrt(1.0 - facing**2)
        aside = (facing * way - own) / across
        step = FAN_DEG if is_wall else COARSE_FAN_DEG
        for away in np.radians(np.arange(0.0, 180.0 - math.degrees(math.acos(facing)), step)).tolist():
            level = way * math.cos(away) + aside * math.sin(away)
            ways.append(_fan(level, chord, 90.0, WALL_FAN_DEG if is_wall else COARSE_FAN_DEG))
            lean = math.tan(self.inner.draft) * (math.cos(away) - (1.0 - facing) / across * math.sin(away))
            ways.append(np.array([[*level, lean]]) / math.hypot(1.0, lean))
        return _seen(np.array(corners), np.concatenate(ways))

    def _own_mm(self, z: float) -> float:
        """Return how far out, at a height, the own panel begins: metal beyond belongs to it."""
        distance, out = self.plane
        assert self.own is not None
        return (distance - z * float(out[2])) / float(out[:2] @ self.own)


def _rails(inner: Skin, *, is_under_panel: bool) -> list[tuple[float, float]]:
    """Return (inset, height) up the inside: wall, then the rounding as chords; cut off under a panel on top."""
    rails = [(0.0, inner.low_mm), ((inner.wall_top_mm - inner.low_mm) * math.tan(inner.draft), inner.wall_top_mm)]
    highest = inner.high_mm - (OWN_PANEL_MM if is_under_panel else 0.0)
    if inner.edge_mm <= 0 or highest <= inner.wall_top_mm:
        return rails
    last = math.asin((highest - inner.high_mm + inner.edge_mm) / inner.edge_mm)
    for angle in np.linspace(inner.draft, last, STRIPS + 1)[1:].tolist():
        inset = inner.top_inset_mm - inner.edge_mm * math.cos(angle)
        rails.append((inset, inner.high_mm - inner.edge_mm * (1 - math.sin(angle))))
    return rails


def _seen(corners: Floats, ways: Floats) -> Seen:
    return ways, (ways @ corners.T).min(axis=1)


def _fan(way: Floats, chord: Chord, most_deg: float, step_deg: float) -> Floats:
    """Return directions that turn from straight down by way of a level one to `most_deg` over it."""
    (inset, low), (further, high) = chord
    square = math.degrees(math.atan2(further - inset, high - low))
    angles = np.radians(np.append(np.arange(-90.0, most_deg + 0.1, step_deg), square))
    return np.column_stack([np.cos(angles)[:, None] * way, np.sin(angles)])
