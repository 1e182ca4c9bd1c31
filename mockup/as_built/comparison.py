"""Measured holes against the design: how far each is off, what the pattern does, how each decal is best laid."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from mockup.enclosure.bores import bores
from mockup.geometry.rigid import RigidMove, best_move
from mockup.layout_source import built_box, find_layout, layout_source
from mockup.model.bore import Bore
from mockup.model.built import BuiltHole
from mockup.model.design import Design
from mockup.model.enclosure import FACES, FaceName
from mockup.model.finish import Decal
from mockup.model.shape import Point

NOT_PLACED = ", place on the box not measured"
"""How the words end by which a hole was measured of which only the place among the others is known."""


_MOVED_MM = 0.01  # a hole that the layout moved by less is where it was: the file keeps a hundredth of that


@dataclass(frozen=True, kw_only=True)
class HoleOff:
    """One measured hole: the designed bore, the measured one, and how far off it is, right and down."""

    bore: Bore
    built: BuiltHole
    right_mm: float
    down_mm: float

    @property
    def distance_mm(self) -> float:
        """How far off in a straight line."""
        return float(np.hypot(self.right_mm, self.down_mm))

    @property
    def is_placed(self) -> bool:
        """Whether its place on the box is known, not only its place among the other holes."""
        return not self.built.by.endswith(NOT_PLACED)

    @property
    def aim_mm(self) -> Point:
        """Where the layout had it when it was measured, as far as that is kept; else where it has it today."""
        return self.built.drawn_mm or (self.bore.u_mm, self.bore.v_mm)

    @property
    def is_moved(self) -> bool:
        """Whether the layout has moved it since it was measured."""
        u, v = self.aim_mm
        return math.hypot(self.bore.u_mm - u, self.bore.v_mm - v) > _MOVED_MM


@dataclass(frozen=True, kw_only=True, eq=False)
class FaceOff:
    """The measured holes of one face as a pattern.

    `move` lays the designed pattern best on the measured one: what it shifts and turns is the pattern's place on the
    box, what it leaves is how the holes lie among themselves.
    """

    face: FaceName
    holes: tuple[HoleOff, ...]
    move: RigidMove

    @property
    def is_placed(self) -> bool:
        """Whether the pattern's place on the box is known."""
        return all(each.is_placed for each in self.holes)

    @property
    def worst_left_mm(self) -> float:
        """The farthest that a hole is off among the others."""
        return float(np.hypot(*self.move.left.T).max())


@dataclass(frozen=True, kw_only=True, eq=False)
class DecalOff:
    """One decal over measured holes: how it is best laid, and how far each hole then is off its ring of art."""

    decal: Decal
    holes: tuple[HoleOff, ...]
    move: RigidMove

    @property
    def shift_mm(self) -> tuple[float, float]:
        """How far right and down its middle is best laid off its place."""
        middle = np.array([self.decal.u_mm, self.decal.v_mm])
        right, down = (self.move.of(middle) - middle).tolist()
        return right, down

    @property
    def left_mm(self) -> tuple[float, ...]:
        """How far each hole is off its art then."""
        return tuple(float(each) for each in np.hypot(*self.move.left.T))


@dataclass(frozen=True, kw_only=True, eq=False)
class AsBuilt:
    """What was measured of a box, against its design; `unmeasured` are the holes that nothing is known of."""

    design: Design
    holes: tuple[HoleOff, ...]
    faces: tuple[FaceOff, ...]
    decals: tuple[DecalOff, ...]
    unmeasured: tuple[Bore, ...]

    @property
    def moved(self) -> tuple[HoleOff, ...]:
        """The measured holes that the layout has moved since."""
        return tuple(each for each in self.holes if each.is_moved)


def as_built(layout: str | Path, variant: str | None = None) -> AsBuilt:
    """Return what the file of holes as built says against a layout; raises `InputError` where there is none."""
    place = find_layout(layout)
    design = layout_source(place, variant).drawn
    return compared(design, built_box(place, design).holes)


def compared(design: Design, built: tuple[BuiltHole, ...]) -> AsBuilt:
    """Return measured holes against a design."""
    known = {each.bore: each for each in built}
    found = tuple(
        HoleOff(
            bore=bore,
            built=known[bore.name],
            right_mm=known[bore.name].u_mm - bore.u_mm,
            down_mm=known[bore.name].v_mm - bore.v_mm,
        )
        for bore in bores(design)
        if bore.name in known
    )
    by_face = {face: tuple(each for each in found if each.bore.face == face) for face in FACES}
    return AsBuilt(
        design=design,
        holes=found,
        faces=tuple(FaceOff(face=face, holes=own, move=_move(own)) for face, own in by_face.items() if own),
        decals=tuple(
            DecalOff(decal=decal, holes=by_face[decal.face], move=_move(by_face[decal.face]))
            for decal in design.decals
            if by_face[decal.face]
        ),
        unmeasured=tuple(bore for bore in bores(design) if bore.name not in known),
    )


def _move(holes: tuple[HoleOff, ...]) -> RigidMove:
    return best_move(
        np.array([[each.bore.u_mm, each.bore.v_mm] for each in holes]),
        np.array([[each.built.u_mm, each.built.v_mm] for each in holes]),
    )
