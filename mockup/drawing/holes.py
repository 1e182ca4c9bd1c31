"""The holes of a pedal as the drill press sees them: numbered, sized, with the drills to take in order."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from mockup.drawing.drills import drill, drill_sequence, number
from mockup.enclosure.bores import bores
from mockup.model.bore import Bore
from mockup.model.design import Design
from mockup.model.enclosure import FACES, Face, FaceName
from mockup.model.shape import Outline, Point
from mockup.model.units import Unit

CHAIN_WEB_MM = 0.5  # metal left between two holes of a chain, so that the bit does not run: common practice, no source
_CHAINED, _IN_A_ROW = "between in a chain", "in a row"


@dataclass(frozen=True, kw_only=True)
class Hole:
    """One hole: its number on all pages, its bore, and what is measured to find its centre.

    `name` is its part's where that has no other hole, or else the part's and the hole's use.

    `across_mm` runs from the face's left edge at the hole's own height, `along_mm` from the far edge
    on the top and from the open rim on the sides: edges that a square can be laid against.
    `drills_mm` are the drills in order, the last one to the finished size where it is round; `finish`
    says what is left to do then, empty where nothing is.
    """

    number: int
    name: str
    bore: Bore
    across_mm: float
    along_mm: float
    drills_mm: tuple[float, ...]
    finish: str = ""

    @property
    def pilot_mm(self) -> float:
        """Diameter of the first drill."""
        return self.drills_mm[0]

    @property
    def is_chained(self) -> bool:
        """Whether it is cut out by holes side by side."""
        return _CHAINED in self.finish or _IN_A_ROW in self.finish


def holes(design: Design, faces: dict[FaceName, Face], units: Unit) -> tuple[Hole, ...]:
    """Return every hole of a design, numbered face by face: the one numbering of template, jig, log and drawings."""
    found = sorted(bores(design), key=lambda bore: FACES.index(bore.face))
    counts = Counter(bore.part for bore in found)
    result = []
    for count, bore in enumerate(found, 1):
        face = faces[bore.face]
        round_mm, finish = _round_part(bore.outline, units)
        result.append(
            Hole(
                number=count,
                name=bore.part if counts[bore.part] == 1 else bore.words,
                bore=bore,
                across_mm=bore.u_mm - face.left_edge(bore.v_mm),
                along_mm=bore.v_mm if bore.face == "top" else face.height_mm - bore.v_mm,
                drills_mm=drill_sequence(round_mm, units, design.drills_mm),
                finish=finish,
            )
        )
    return tuple(result)


def guides(outline: Outline) -> tuple[Point, ...]:
    """Return where a pilot hole is drilled for a hole, about its centre in its own frame (y up).

    A round hole, a hexagon and a D take one in the middle of their largest circle, a slot one at each
    end, a rectangle one in each corner.
    """
    width, height = outline.width_mm, outline.height_mm
    if outline.kind == "slot":
        reach = (width - height) / 2
        return ((0.0, 0.0),) if reach < height / 4 else ((-reach, 0.0), (reach, 0.0))
    if outline.kind == "rectangle":
        half = max(1.0, min(width, height) / 4)  # far enough inside for a small drill: common practice, no source
        x, y = max(0.0, width / 2 - half), max(0.0, height / 2 - half)
        return ((-x, -y), (x, -y), (x, y), (-x, y))
    if outline.kind == "d":
        return ((0.0, (outline.height_mm - outline.width_mm) / 2),)
    return ((0.0, 0.0),)


def size_words(outline: Outline, units: Unit) -> str:
    """Return a hole's finished size, as a drawing says it."""
    width, height = number(outline.width_mm, units), number(outline.height_mm, units)
    if outline.kind == "circle":
        return f"Ø {width}"
    if outline.kind == "hexagon":
        return f"hex {width}"
    if outline.kind == "d":
        return f"D {width}, {height} over flat"
    return f"{outline.kind} {width} × {height}"


def drill_words(hole: Hole, units: Unit) -> str:
    """Return the drills of a hole in order, and what is left to do by hand."""
    drills = " > ".join(drill(each, units) for each in hole.drills_mm)
    return drills + (f", {hole.finish}" if hole.finish else "")


def in_order(found: Sequence[Hole], face: FaceName) -> tuple[Hole, ...]:
    """Return the holes of one face."""
    return tuple(hole for hole in found if hole.bore.face == face)


def _round_part(outline: Outline, units: Unit) -> tuple[float, str]:
    """Return the largest drill for a hole, and what is left to do after it, step by step between semicolons."""
    if outline.kind == "circle":
        return outline.width_mm, ""
    if outline.kind == "slot":
        long, wide = outline.width_mm - outline.height_mm, outline.height_mm
        count = math.floor(long / (wide + CHAIN_WEB_MM)) - 1
        if count < 1:
            return wide, "at both ends; file between"
        apart = number(long / (count + 1), units)
        return wide, f"at both ends; {count} more {_CHAINED}, {apart} apart; file to the line"
    if outline.kind == "rectangle":
        return max(1.0, min(outline.width_mm, outline.height_mm) / 2), f"{_IN_A_ROW}; file to the line"
    if outline.kind == "d":
        return outline.height_mm, "below the flat; file to the line"
    return outline.width_mm, "file the corners"
