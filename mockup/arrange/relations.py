"""What is in order on a pedal: rows, columns, mirrored pairs and what stands in the middle of its face."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, groupby, pairwise

from mockup.arrange.problem import Places, Relation
from mockup.model.design import Placement
from mockup.model.enclosure import Enclosure, Face, FaceName, faces

SAME_MM = 0.05  # what lies this close to a line lies on it: half a step of a rule
AXES = ((1, "row"), (0, "column"))


def relations(box: Enclosure, parts: Places) -> tuple[Relation, ...]:
    """Return everything that is in order among parts on a panel, as what has to stay true of their places."""
    on_panel = [part for part in parts if part.kind.mount == "panel"]
    return (*_middles(box, on_panel), *_pairs(box, on_panel), *_lines(on_panel))


def _middles(box: Enclosure, parts: Sequence[Placement]) -> Iterator[Relation]:
    for part in parts:
        middle = faces(box)[part.face].width_mm / 2
        if abs(part.u_mm - middle) < SAME_MM:
            yield in_middle(part.name, middle)


def _pairs(box: Enclosure, parts: Sequence[Placement]) -> Iterator[Relation]:
    """Yield pairs that mirror each other across the middle of their face, or from the left side to the right."""
    for first, second in combinations(parts, 2):
        is_pair = first.face == second.face or {first.face, second.face} == {"left", "right"}
        if not is_pair or first.kind.name != second.kind.name or abs(first.v_mm - second.v_mm) >= SAME_MM:
            continue
        width = faces(box)[first.face].width_mm
        if abs(first.u_mm + second.u_mm - width) < SAME_MM and (
            first.face != second.face or abs(first.u_mm - width / 2) >= SAME_MM
        ):
            yield across_middle(first.name, second.name, width)
            yield on_line("pair", first.name, second.name, 1)


def _lines(parts: Sequence[Placement]) -> Iterator[Relation]:
    for axis, kind in AXES:
        for _, on_face in groupby(sorted(parts, key=lambda part: part.face), key=lambda part: part.face):
            line: list[Placement] = []
            for part in sorted(on_face, key=lambda part: (_along(part, axis), part.name)):
                if line and _along(part, axis) - _along(line[-1], axis) >= SAME_MM:
                    line = []
                if line:
                    yield on_line(kind, line[0].name, part.name, axis)
                line.append(part)


def _along(part: Placement, axis: int) -> float:
    return part.v_mm if axis else part.u_mm


def in_middle(part: str, middle_mm: float) -> Relation:
    """Return that a part stands in the middle of its face."""
    return Relation(kind="middle", parts=(part,), terms=((part, 0, 1.0),), value=middle_mm)


def across_middle(first: str, second: str, width_mm: float) -> Relation:
    """Return that two parts are equally far from the middle of their face, or of the left side and the right."""
    return Relation(kind="pair", parts=(first, second), terms=((first, 0, 1.0), (second, 0, 1.0)), value=width_mm)


def on_line(kind: str, first: str, second: str, axis: int) -> Relation:
    """Return that two parts have the same u (`axis` 0) or v (1)."""
    return Relation(kind=kind, parts=(first, second), terms=((first, axis, 1.0), (second, axis, -1.0)), value=0.0)


def side_order(parts: Sequence[Placement], frames: dict[FaceName, Face]) -> Iterator[Relation]:
    """Yield that sockets on one side stand at one height, and that left and right mirror each other."""
    on_sides = [part for part in parts if part.face != "top"]
    for name in ("near", "far"):
        here = sorted((part for part in on_sides if part.face == name), key=lambda part: part.u_mm)
        for first, second in pairwise(here):
            yield on_line("row", first.name, second.name, 1)
        for one, other in zip(here, reversed(here), strict=True):
            if one.u_mm < other.u_mm:
                yield across_middle(one.name, other.name, frames[here[0].face].width_mm)
        if len(here) % 2:
            yield in_middle(here[len(here) // 2].name, frames[here[0].face].width_mm / 2)
    left, right = ([part for part in on_sides if part.face == name] for name in ("left", "right"))
    for first, second in zip(left, right, strict=False):
        width = frames["left"].width_mm
        is_pair = first.kind.name == second.kind.name and abs(first.u_mm + second.u_mm - width) < 0.1
        if is_pair and abs(first.v_mm - second.v_mm) < 0.1:
            yield across_middle(first.name, second.name, width)
            yield on_line("pair", first.name, second.name, 1)
