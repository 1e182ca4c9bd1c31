"""Several parts of one face set in order: lined up, spread evenly, mirrored, centred as one, so far apart."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Literal

from mockup.arrange.room import place_on
from mockup.checks.panel.built import Built
from mockup.checks.panel.clearance import is_within
from mockup.model.design import Design, Placement
from mockup.model.enclosure import Face, faces

Line = Literal["left", "middle", "right", "far", "centre", "near"]
"""Where parts are lined up: along a column at their left, middle or right, or a row at their far, centre or near."""
Places = dict[str, tuple[float, float]]
"""Where parts come to stand, (u, v) by name."""
_ENDS: dict[Line, Callable[[Sequence[float]], float]] = {
    "left": min, "far": min, "right": max, "near": max,
    "middle": lambda each: (min(each) + max(each)) / 2, "centre": lambda each: (min(each) + max(each)) / 2,
}  # fmt: skip
_COLUMNS: tuple[Line, ...] = ("left", "middle", "right")


def lined_up(parts: Sequence[Placement], line: Line) -> Places:
    """Return parts with their middles on one line."""
    if line in _COLUMNS:
        u = _ENDS[line]([part.u_mm for part in parts])
        return {part.name: (u, part.v_mm) for part in parts}
    v = _ENDS[line]([part.v_mm for part in parts])
    return {part.name: (part.u_mm, v) for part in parts}


def spread(parts: Sequence[Placement]) -> Places:
    """Return parts with equal distances between their middles, the outermost where they are."""
    row = _row(parts)
    if len(row) < 3:
        return {}
    first, last = _along(row[0], parts), _along(row[-1], parts)
    step = (last - first) / (len(row) - 1)
    return {part.name: _put(part, parts, first + index * step) for index, part in enumerate(row)}


def spaced(parts: Sequence[Placement], apart_mm: float) -> Places:
    """Return parts with their middles so far apart along their row, about the middle of the row."""
    row = _row(parts)
    middle = (_along(row[0], parts) + _along(row[-1], parts)) / 2
    start = middle - apart_mm * (len(row) - 1) / 2
    return {part.name: _put(part, parts, start + index * apart_mm) for index, part in enumerate(row)}


def gaps(parts: Sequence[Placement]) -> tuple[tuple[Placement, Placement, float], ...]:
    """Return the neighbours along the row that parts make, and how far apart their middles are along it."""
    return tuple(
        (one, two, _along(two, parts) - _along(one, parts)) for one, two in pairwise(_row(parts))
    )  # fmt: skip


def is_across(parts: Sequence[Placement]) -> bool:
    """True where parts stand in a row from left to right rather than in a column."""
    us, vs = [part.u_mm for part in parts], [part.v_mm for part in parts]
    return max(us) - min(us) >= max(vs) - min(vs)


def mirrored(parts: Sequence[Placement], face: Face) -> Places:
    """Return parts mirrored about the centre line of their face."""
    return {part.name: (face.width_mm - part.u_mm, part.v_mm) for part in parts}


def centred(parts: Sequence[Placement], face: Face) -> Places:
    """Return parts moved sideways as one, so that the group stands on the centre line."""
    us = [part.u_mm for part in parts]
    shift = face.width_mm / 2 - (min(us) + max(us)) / 2
    return {part.name: (part.u_mm + shift, part.v_mm) for part in parts}


def shifted(parts: Sequence[Placement], across_mm: float, down_mm: float) -> Places:
    """Return parts moved as one; on another face each moves along its own."""
    return {part.name: (part.u_mm + across_mm, part.v_mm + down_mm) for part in parts}


def twin(design: Design, part: Placement, name: str) -> Placement:
    """Return a second part: mirrored about the centre line where there is room, else beside the first."""
    face = faces(design.enclosure)[part.face]
    there = replace(part, name=name, u_mm=face.width_mm - part.u_mm)
    is_off_centre = abs(there.u_mm - part.u_mm) > 1.0
    if is_off_centre and is_within(Built(design), there, "stop"):
        return there
    return place_on(design, there, part.face, (part.u_mm, part.v_mm))


def _row(parts: Sequence[Placement]) -> list[Placement]:
    return sorted(parts, key=lambda part: (_along(part, parts), part.name))


def _along(part: Placement, parts: Sequence[Placement]) -> float:
    return part.u_mm if is_across(parts) else part.v_mm


def _put(part: Placement, parts: Sequence[Placement], along: float) -> tuple[float, float]:
    return (along, part.v_mm) if is_across(parts) else (part.u_mm, along)
