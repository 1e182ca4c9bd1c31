"""Lettering in its place: labels for the checks, and what is drawn of them into the decals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mockup.layout import beside
from mockup.layout.fields import Loc, Problem
from mockup.layout.lettering import LabelTable, LetteringTable
from mockup.layout.ruler import decal_centre, turned
from mockup.layout.variants import Version
from mockup.model.design import Placement
from mockup.model.enclosure import Face, FaceName
from mockup.model.label import Label
from mockup.model.shape import Point
from mockup.model.units import Unit, format_length

# Defaults: our taste, common practice, no source.
GAP_MM = 1.2
WIDTH_PER_CAP = 0.9  # of a letter, in heights of a capital: mean of the capitals of plain sans faces is 0.84 to 0.92


@dataclass(frozen=True, kw_only=True)
class Legends:
    """What became of the lettering: every label, and every mistake with its place."""

    labels: tuple[Label, ...] = ()
    found: list[tuple[Loc, Problem]] = field(default_factory=list)


def legends(chosen: Version, parts: Sequence[Placement], sides: Mapping[FaceName, Face], units: Unit) -> Legends:
    """Return the labels of one version of the pedal in their places.

    The box of a label without a width is estimated: `WIDTH_PER_CAP` heights of a capital for every
    character.
    """
    by_name = {part.name: part for part in parts}
    shared = chosen.lettering[1] or LetteringTable.model_construct()
    labels: list[Label] = []
    found: list[tuple[Loc, Problem]] = []
    for loc, table in chosen.labels:
        part = by_name[table.part] if table.part is not None else None
        face = sides[part.face if part is not None else table.face or "top"]
        text = table.text or table.part or ""
        height = table.height or _cap_mm(table, shared)
        width = table.width or WIDTH_PER_CAP * height * len(text)
        lying = turned(width, height, table.rotation or 0.0)
        if part is not None:
            u, v = _beside(table, shared, part, lying)
        else:
            u, v = decal_centre(face, lying, left=table.left, right=table.right, top=table.top, bottom=table.bottom)
        found += [(loc, each) for each in _off_face(face, u, v, units)]
        labels.append(
            Label(
                text=text,
                face=face.name,
                u_mm=u,
                v_mm=v,
                width_mm=width,
                height_mm=height,
                rotation_deg=table.rotation or 0.0,
                part=table.part,
            )
        )
    return Legends(labels=tuple(labels), found=found)


def _cap_mm(table: LabelTable, shared: LetteringTable) -> float:
    letters = table.size or shared.size
    return letters.cap_mm if letters is not None and letters.cap_mm is not None else 0.0


def _beside(table: LabelTable, shared: LetteringTable, part: Placement, lying: Point) -> Point:
    """Return the middle of a part's label."""
    side = table.side or "below"
    gap = next((each for each in (table.gap, shared.gap) if each is not None), GAP_MM)
    return beside.centre(part, side, beside.reach(part, side) + gap, lying)


def _off_face(face: Face, u: float, v: float, units: Unit) -> list[Problem]:
    if 0 <= v <= face.height_mm and face.left_edge(v) <= u <= face.right_edge(v):
        return []
    where = (
        f"{format_length(u, units)} from the left and {format_length(v, units)} from the top of the {face.name} face"
    )
    return [Problem((), f"the label's middle lies off its face: {where}", "check its place")]
