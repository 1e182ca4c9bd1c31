"""A part where it stands: the groups of convex pieces and the flat figures that take room."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from mockup import knobs
from mockup.clearance.directions import ways_of
from mockup.clearance.figures import Figure, disc, nuts, of_bore, seat, stack, tall
from mockup.clearance.knob_travel import swept
from mockup.clearance.pieces import Pieces, pieces_of
from mockup.clearance.plugs import FAMILIES, Plug, plug_of
from mockup.clearance.walls import metal
from mockup.enclosure.bores import bores_of
from mockup.geometry.planar import on_face
from mockup.limits import Limits, limits
from mockup.memo import memoize
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face, FaceName, faces
from mockup.model.material import BLACK_PLASTIC
from mockup.model.mesh import Floats
from mockup.model.part import Kind, Knob, Shaft
from mockup.model.shape import Extruded, Solid, Turned, block

TOGGLE = "toggle"  # the family of parts with a lever that leans both ways
FOOTSWITCHES = "footswitch"
"""The family of parts that a foot works."""
BATTERIES = "battery"
"""The family of parts that lie in the box as they come."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Shape:
    """Pieces turned as they stand, about their part's own point, with their support.

    `reach` (m, d) is every piece's in the box's directions, `hull` (d,) that of all together.
    """

    pieces: Pieces
    reach: Floats
    hull: Floats


@dataclass(frozen=True, kw_only=True, eq=False)
class Group:
    """A group of pieces in its place: a body inside, hardware above the panel, a knob's travel, a plug, its tip.

    `at` (3,) is where the shape's own point stands in the world.
    """

    shape: Shape
    at: Floats

    @property
    def is_there(self) -> bool:
        """Whether there is anything in it."""
        return len(self.shape.pieces) > 0

    def piece(self, index: int) -> Pieces:
        """Return one piece where it stands."""
        pose = np.eye(4)
        pose[:3, 3] = self.at
        return self.shape.pieces.one(index).moved(pose)


@dataclass(frozen=True, eq=False)
class PlacedPart:
    """A part in its place in a box, and all of it that takes room; `own` are the layout's own limits.

    Make one with `placed`, which gives the same for the same part again.
    """

    box: Enclosure
    part: Placement
    own: Mapping[str, float]

    @cached_property
    def limits(self) -> Limits:
        """Every limit; they also say how large plugs are."""
        return _limits(self.own)

    @cached_property
    def face(self) -> Face:
        """The face that it stands on."""
        return _faces(self.box)[self.part.face]

    @property
    def panel(self) -> FaceName | None:
        """The panel that it hangs from and so touches; None for what lies inside."""
        return self.part.face if self.part.kind.mount == "panel" else None

    @cached_property
    def body(self) -> Group:
        """What it has inside the box, terminals included."""
        wall = self.box.top_mm if self.part.face == "top" else self.box.wall_mm
        return self._group(self.part.kind.below, -wall - self.part.depth_mm)

    @cached_property
    def hardware(self) -> Group:
        """What it has above the panel, its knob left out; a toggle's lever both ways, a fader's cap all along."""
        return self._group(self.part.kind.used or self.part.kind.above, is_both_ways=self.part.kind.family == TOGGLE)

    @cached_property
    def knob(self) -> Group:
        """The room that its knob takes at any turn."""
        travel = swept_knob(self.part)
        return self._group(() if travel is None else (travel,))

    @cached_property
    def plug(self) -> Plug | None:
        """The plug that goes into it, where it is a socket."""
        return plug_of(self.part.kind, self.limits) if self.part.kind.family in FAMILIES else None

    @cached_property
    def plug_body(self) -> Group:
        """What of its plug stands outside."""
        return self._group(() if self.plug is None else (self.plug.body,))

    @cached_property
    def plug_tip(self) -> Group:
        """What of its plug goes inside."""
        return self._group(() if self.plug is None or self.plug.tip is None else (self.plug.tip,))

    @cached_property
    def lever(self) -> Group:
        """A toggle's lever, thrown both ways."""
        is_toggle = self.part.kind.family == TOGGLE
        return self._group([each for each in self.part.kind.above if is_toggle and is_lever(each)], is_both_ways=True)

    @cached_property
    def clip(self) -> Group:
        """The clip on a battery's terminals, with the bend of its wires."""
        solids = clip_of(self.part.kind, self.limits["battery_clip_mm"].value) if self.lies_loose else ()
        wall = self.box.top_mm if self.part.face == "top" else self.box.wall_mm
        return self._group(solids, -wall - self.part.depth_mm)

    @cached_property
    def nuts(self) -> tuple[Figure, ...]:
        """The circles round the corners of its nuts on the panel, where no tool may meet anything."""
        return nuts(self.part)

    @cached_property
    def tall(self) -> tuple[Figure, ...]:
        """What of it rises over washers, its knob left out: it is put on last."""
        return tall(self.part)

    @cached_property
    def metal_reach(self) -> Floats:
        """How far each piece of its body reaches (m, d) towards the metal round it."""
        return self._reach(self.part.kind.below)

    @cached_property
    def tip_metal_reach(self) -> Floats:
        """How far its plug's tip reaches (m, d) towards the metal round it."""
        return self._reach(() if self.plug is None or self.plug.tip is None else (self.plug.tip,))

    @cached_property
    def holes(self) -> tuple[tuple[str, Figure], ...]:
        """Its holes on the face, by name."""
        return tuple((bore.name, of_bore(bore)) for bore in bores_of(self.part))

    @cached_property
    def seat(self) -> tuple[Figure, ...]:
        """What of it bears on the panel."""
        return seat(self.part)

    @cached_property
    def stack(self) -> tuple[Figure, ...]:
        """What of it lies low on the panel."""
        return stack(self.part)

    @cached_property
    def lenses(self) -> tuple[Figure, ...]:
        """The lenses of a lamp as circles on its face."""
        found = []
        for index in self.part.kind.lens:
            solid = self.part.kind.above[index]
            wide = solid.radius_mm if isinstance(solid, Turned) else solid.outline.width_mm / 2
            u, v = on_face(solid.at, (self.part.u_mm, self.part.v_mm), self.part.rotation_deg).tolist()
            found.append(disc(u, v, wide))
        return tuple(found)

    @cached_property
    def knob_figure(self) -> Figure | None:
        """The circle that its knob covers at any turn, seen from above; None without a knob."""
        return knob_figure(self.part)

    @property
    def is_worked(self) -> bool:
        """Whether a hand sets it: a knob, a bare shaft, a lever or a cap, which a shoe should leave alone."""
        kind = self.part.kind
        return self.part.knob is not None or kind.shaft is not None or kind.family == TOGGLE or bool(kind.used)

    @property
    def is_footswitch(self) -> bool:
        """Whether a foot works it."""
        return self.part.kind.family == FOOTSWITCHES

    @property
    def lies_loose(self) -> bool:
        """Whether it lies on the lid or against a wall, as a battery does."""
        return self.part.kind.family == BATTERIES

    @cached_property
    def height_mm(self) -> float:
        """How far it stands out of its face, its knob included."""
        groups = [each for each in (self.hardware, self.knob) if each.is_there]
        return max((float(each.shape.pieces.support(self.face.out[None]).max()) for each in groups), default=0.0)

    @cached_property
    def shoe(self) -> Figure:
        """The figure that room for the shoe on a footswitch is measured from; the shoe comes from the near side.

        It is the switch's axis, and to both sides and towards the player as much farther as the shoe is wide there.
        """
        u, v, side = self.part.u_mm, self.part.v_mm, self.limits["shoe_side_mm"].value
        if self.part.face != "top" or side <= 0.0:
            return disc(u, v, 0.0)
        return Figure(
            core=np.array([[u - side, v], [u + side, v], [u + side, v + side], [u - side, v + side]]), radius_mm=0.0
        )

    def _group(self, solids: Sequence[Solid], out_mm: float = 0.0, *, is_both_ways: bool = False) -> Group:
        shape = _shape(self.box, tuple(solids), self.part.face, self.part.rotation_deg % 360.0, is_both_ways)
        return Group(shape=shape, at=self.face.to_world(np.array([self.part.u_mm, self.part.v_mm]), out_mm))

    def _reach(self, solids: tuple[Solid, ...]) -> Floats:
        return _metal_reach(self.box, tuple(solids), self.part.face, self.part.rotation_deg % 360.0, self.panel)


def is_lever(solid: Solid) -> bool:
    """Return whether a solid of a toggle is its lever, which leans."""
    return isinstance(solid, Turned) and solid.tilt_deg != 0.0


def clip_of(kind: Kind, long_mm: float) -> tuple[Solid, ...]:
    """Return the room of a clip at a battery's far end (+y), where its terminals are, as wide and thick as it."""
    cans = [each for each in kind.below if isinstance(each, Extruded)]
    if not cans or long_mm <= 0.0:
        return ()
    end = max(each.at[1] + each.outline.height_mm / 2 for each in cans)
    wide, low = max(each.outline.width_mm for each in cans), min(each.bottom_mm for each in cans)
    return (
        block((wide, long_mm), (low, max(each.top_mm for each in cans)), BLACK_PLASTIC, at=(0.0, end + long_mm / 2)),
    )


@memoize
def placed(box: Enclosure, part: Placement, own: Mapping[str, float]) -> PlacedPart:
    """Return a part in its place in a box, under a layout's own limits."""
    return PlacedPart(box, part, own)


def swept_knob(part: Placement) -> Turned | None:
    """Return the room that a part's knob takes at any turn, in the part's frame; None without a knob."""
    return None if part.knob is None or part.kind.shaft is None else _swept(part.knob, part.kind.shaft)


def knob_figure(part: Placement) -> Figure | None:
    """Return the circle that a part's knob covers at any turn, seen from above; None without a knob."""
    travel = swept_knob(part)
    return None if travel is None else disc(part.u_mm, part.v_mm, travel.radius_mm)


@memoize
def _swept(knob: Knob, shaft: Shaft) -> Turned:
    return swept(knobs.solids(replace(knob, pointer=0.5), shaft))


_faces = memoize(faces)
_limits = memoize(limits)


@memoize
def _pieces(solids: tuple[Solid, ...]) -> Pieces:
    return pieces_of(solids)


@memoize
def _turned(
    box: Enclosure, solids: tuple[Solid, ...], face: FaceName, rotation_deg: float, is_both_ways: bool
) -> Pieces:
    frame, found = _faces(box)[face], _pieces(solids)
    turns = []
    for way in (0.0, 180.0) if is_both_ways else (0.0,):
        pose = frame.pose(0.0, 0.0, rotation_deg + way)
        pose[:3, 3] = 0.0
        turns.append(found.moved(pose))
    if len(turns) == 1:
        return turns[0]
    return Pieces(
        middles=np.concatenate([each.middles for each in turns]),
        radii=np.concatenate([each.radii for each in turns]),
        axes=np.concatenate([each.axes for each in turns]),
        starts=np.concatenate([found.starts, found.starts + len(found.middles)]),
        are_terminals=np.tile(found.are_terminals, 2),
    )


@memoize
def _shape(box: Enclosure, solids: tuple[Solid, ...], face: FaceName, rotation_deg: float, is_both_ways: bool) -> Shape:
    pieces, ways = _turned(box, solids, face, rotation_deg, is_both_ways), ways_of(box).ways
    reach = pieces.support(ways) if len(pieces) else np.empty((0, len(ways)))
    return Shape(pieces=pieces, reach=reach, hull=reach.max(axis=0, initial=-math.inf))


@memoize
def _metal_reach(
    box: Enclosure, solids: tuple[Solid, ...], face: FaceName, rotation_deg: float, panel: FaceName | None
) -> Floats:
    pieces, ways = _turned(box, solids, face, rotation_deg, False), metal(box, panel).ways
    return pieces.support(ways) if len(pieces) else np.empty((0, len(ways)))
