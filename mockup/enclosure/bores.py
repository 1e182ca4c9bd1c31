"""Which holes a design asks for, and what becomes of it where they are drilled off."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from mockup.geometry.planar import on_face
from mockup.memo import memoize
from mockup.model.bore import Bore
from mockup.model.built import BuiltHole
from mockup.model.design import Design, Placement
from mockup.model.shape import Point


def bores(design: Design) -> tuple[Bore, ...]:
    """Return every hole of a design in face coordinates.

    A part's cutouts are given in its own frame (x right, y up); its rotation is clockwise as seen
    from outside.
    """
    return tuple(bore for part in design.parts for bore in bores_of(part))


@memoize
def bores_of(part: Placement) -> tuple[Bore, ...]:
    """Return the holes of one part, as `bores` does."""
    found = []
    count: Counter[str] = Counter()
    for cutout in part.kind.cutouts:
        count[cutout.purpose] += 1
        u, v = on_face(cutout.at, (part.u_mm, part.v_mm), part.rotation_deg).tolist()
        found.append(
            Bore(
                part=part.name,
                purpose=cutout.purpose,
                number=count[cutout.purpose],
                face=part.face,
                u_mm=u,
                v_mm=v,
                outline=cutout.outline,
                rotation_deg=part.rotation_deg + cutout.rotation_deg,
            )
        )
    return tuple(found)


def off(design: Design, by: Mapping[str, Sequence[float]]) -> Design:
    """Return a design with parts' holes drilled off, right and down in mm, and the parts with them; art stays."""
    return replace(design, parts=tuple(moved(part, by) for part in design.parts))


def moved(part: Placement, by: Mapping[str, Sequence[float]]) -> Placement:
    """Return a part with its holes drilled off, right and down in mm; one that needs no hole stays."""
    if part.name not in by or not part.kind.cutouts:
        return part
    return replace(part, u_mm=part.u_mm + by[part.name][0], v_mm=part.v_mm + by[part.name][1])


def built_off(design: Design, built: Iterable[BuiltHole]) -> dict[str, Point]:
    """Return by how much each part sits off its designed place, right and down: the mean of its measured holes."""
    designed = {bore.name: bore for bore in bores(design)}
    found: dict[str, list[Point]] = {}
    for each in built:
        bore = designed[each.bore]
        found.setdefault(bore.part, []).append((each.u_mm - bore.u_mm, each.v_mm - bore.v_mm))
    return {
        part: (sum(x for x, _ in ways) / len(ways), sum(y for _, y in ways) / len(ways)) for part, ways in found.items()
    }
