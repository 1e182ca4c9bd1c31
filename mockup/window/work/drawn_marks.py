"""Scales and borders as they lie on the faces: what they are seen as, and which one a place belongs to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from mockup.decal.scale_marks import Scale, directions
from mockup.layout.lettering.borders import INSET_MM
from mockup.layout.lettering.scales import gauge, knob_of_each
from mockup.layout.lettering.tables import BorderTable, ScaleTable
from mockup.layout.schema import context
from mockup.model.design import Design
from mockup.model.enclosure import FACES, FaceName, faces
from mockup.window.pointer.face_things import face_things
from mockup.window.pointer.snapping import Uv

ROW_MM = 5.0  # things so close to one height stand in one row: by eye
_FINE = 61  # points of a scale's outline: by eye
SLACK_MM = 0.8  # beside a line that is meant: by eye


@dataclass(frozen=True, kw_only=True)
class DrawnMark:
    """A scale round one part, or a border: its table, its face, and its outline in millimetres of the face.

    `ring` is the middle, the inner and the outer radius of a scale, None for a border.
    """

    way: tuple[str | int, ...]
    face: FaceName
    outline: tuple[Uv, ...]
    ring: tuple[Uv, float, float] | None = None

    def holds(self, at: Uv) -> bool:
        """Return whether a place lies on its line or its marks, or close beside."""
        if self.ring is not None:
            (u, v), inner, outer = self.ring
            return inner - SLACK_MM <= math.hypot(at[0] - u, at[1] - v) <= outer + SLACK_MM
        (left, top), (right, bottom) = self.outline[0], self.outline[2]
        across, down = max(left - at[0], at[0] - right), max(top - at[1], at[1] - bottom)
        return abs(max(across, down)) <= SLACK_MM


def drawn_marks(design: Design, tables: Mapping[str, Sequence[Mapping[str, Any]]]) -> Iterator[DrawnMark]:
    """Yield the scales and borders of a design, from the tables that its layout shows; those with mistakes are left
    out."""
    known = context(design.units)
    scales = [ScaleTable.model_validate(each, context=known) for each in tables.get("scale", ())]
    placed = tuple((("scale", number), table) for number, table in enumerate(scales))
    for way, table, part in knob_of_each(placed, design.parts):
        scale = gauge(table, part)
        outer = scale.inner_mm + max(scale.major_mm, scale.minor_mm)
        yield DrawnMark(
            way=way, face=part.face, outline=_arc(scale, outer), ring=((part.u_mm, part.v_mm), scale.inner_mm, outer)
        )
    sides = faces(design.enclosure)
    for number, each in enumerate(tables.get("border", ())):
        border = BorderTable.model_validate(each, context=known)
        left, top, right, bottom = sides[border.face].flat
        off = INSET_MM if border.inset is None else border.inset
        corners = ((left + off, top + off), (right - off, top + off), (right - off, bottom - off))
        yield DrawnMark(
            way=("border", number), face=border.face, outline=(*corners, (left + off, bottom - off), corners[0])
        )


def things_in_order(design: Design, marks: Iterable[DrawnMark]) -> tuple[tuple[str | int, ...], ...]:
    """Return all that is on the faces of a design, face by face, row by row from the far left to the near right."""
    found: dict[tuple[str | int, ...], tuple[int, int, float]] = {}

    def put(way: tuple[str | int, ...], face: FaceName, u: float, v: float) -> None:
        found.setdefault(way, (FACES.index(face), round(v / ROW_MM), u))

    for part in design.parts:
        put(("part", part.name), part.face, part.u_mm, part.v_mm)
    for thing in face_things(design):
        put(thing.way, thing.face, thing.lying.u_mm, thing.lying.v_mm)
    for mark in marks:
        put(mark.way, mark.face, *(mark.ring[0] if mark.ring is not None else mark.outline[0]))
    return tuple(sorted(found, key=lambda way: found[way]))


def _arc(scale: Scale, radius_mm: float) -> tuple[Uv, ...]:
    ways = directions(replace(scale, marks=_FINE)).tolist()
    return tuple((scale.u_mm + radius_mm * u, scale.v_mm + radius_mm * v) for u, v in ways)
