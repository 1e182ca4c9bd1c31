"""Where a part wants to be while it is dragged: on the grid, the centre line, in line with its neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from mockup.model.design import Design, Placement
from mockup.model.enclosure import Face
from mockup.model.units import MM_PER_INCH

Across = Literal["left", "right"]
Down = Literal["top", "bottom"]
Uv = tuple[float, float]

GRIDS: dict[str, float | None] = {
    "off": None,
    "0.5 mm": 0.5,
    "1 mm": 1.0,
    "1/16 in": MM_PER_INCH / 16,
}
"""Grids by name, in millimetres."""


@dataclass(frozen=True, kw_only=True)
class Guide:
    """A line on the face, from `start` to `end` in face millimetres, that says in a few words why it is there."""

    start: Uv
    end: Uv
    why: str


@dataclass(frozen=True, kw_only=True)
class Snapped:
    """Where a dragged part comes to lie, and the lines to draw."""

    u_mm: float
    v_mm: float
    guides: tuple[Guide, ...] = ()


@dataclass(frozen=True, kw_only=True)
class _Pull:
    """One value along an axis that attracts, why, and the neighbours it comes from."""

    value: float
    why: str
    rank: int
    of: tuple[Placement, ...] = ()


def neighbours(design: Design, name: str) -> tuple[Placement, ...]:
    """Return the other parts that sit on the same face as the part of that name."""
    face = next((part.face for part in design.parts if part.name == name), None)
    return tuple(part for part in design.parts if part.face == face and part.name != name)


def snapped(
    face: Face,
    wanted: Uv,
    others: Sequence[Placement] = (),
    *,
    grid_mm: float | None = None,
    reach_mm: float = 1.0,
    across: Across = "left",
    down: Down = "top",
    is_on: bool = True,
) -> Snapped:
    """Return where a part that is dragged to `wanted` comes to lie on a face.

    Lines attract from `reach_mm` away: the centre line, then equal gaps, then other parts. Where none
    does, the place goes onto the grid, if there is one, counted by ruler from the edges `across` and
    `down` (those that the layout measures from). The centre always stays on the face's flat.
    """
    u, v = _clamped(face, wanted)
    if not is_on:
        return Snapped(u_mm=u, v_mm=v)
    found_v = _nearest(v, _pulls(face, others, (u, v), reach_mm, axis=1), reach_mm)
    v = _clamped(face, (u, found_v.value if found_v else _on_grid_v(face, v, grid_mm, down)))[1]
    found_u = _nearest(u, _pulls(face, others, (u, v), reach_mm, axis=0), reach_mm)
    u = _clamped(face, (found_u.value if found_u else _on_grid_u(face, (u, v), grid_mm, across), v))[0]
    if found_v is None:  # equal gaps down count only in the column that the part has come to stand in
        late = _nearest(v, _gaps(others, (u, v), reach_mm, axis=1), reach_mm)
        if late is not None:
            found_v, v = late, _clamped(face, (u, late.value))[1]
    guides = [*_guides(face, found_u, (u, v), axis=0), *_guides(face, found_v, (u, v), axis=1)]
    return Snapped(u_mm=u, v_mm=v, guides=tuple(guides))


def _clamped(face: Face, at: Uv) -> Uv:
    left, top, right, bottom = face.flat
    return min(max(at[0], left), right), min(max(at[1], top), bottom)


def _on_grid_v(face: Face, v: float, grid_mm: float | None, down: Down) -> float:
    if grid_mm is None:
        return v
    if down == "bottom":
        return face.height_mm - round((face.height_mm - v) / grid_mm) * grid_mm
    return round(v / grid_mm) * grid_mm


def _on_grid_u(face: Face, at: Uv, grid_mm: float | None, across: Across) -> float:
    u, v = at
    if grid_mm is None:
        return u
    if across == "right":
        edge = face.right_edge(v)
        return edge - round((edge - u) / grid_mm) * grid_mm
    edge = face.left_edge(v)
    return edge + round((u - edge) / grid_mm) * grid_mm


def _pulls(face: Face, others: Sequence[Placement], at: Uv, reach_mm: float, axis: int) -> Iterator[_Pull]:
    yield _Pull(value=(face.width_mm, face.height_mm)[axis] / 2, why="centre line", rank=0)
    yield from _gaps(others, at, reach_mm, axis)
    word = ("in line with", "level with")[axis]
    for other in others:
        yield _Pull(value=_at(other)[axis], why=f"{word} {other.name}", rank=2, of=(other,))


def _gaps(others: Sequence[Placement], at: Uv, reach_mm: float, axis: int) -> Iterator[_Pull]:
    """Yield the middle between the nearest neighbours on both sides, among those in the same row."""
    row = [other for other in others if abs(_at(other)[1 - axis] - at[1 - axis]) <= reach_mm]
    before = [other for other in row if _at(other)[axis] < at[axis]]
    after = [other for other in row if _at(other)[axis] > at[axis]]
    if before and after:
        low = max(before, key=lambda each: _at(each)[axis])
        high = min(after, key=lambda each: _at(each)[axis])
        yield _Pull(value=(_at(low)[axis] + _at(high)[axis]) / 2, why="equal gaps", rank=1, of=(low, high))


def _nearest(value: float, pulls: Iterator[_Pull], reach_mm: float) -> _Pull | None:
    """Return the nearest that reaches; of two that are as good as one, the better reason."""
    near = [pull for pull in pulls if abs(pull.value - value) <= reach_mm]
    return min(near, key=lambda pull: (round(abs(pull.value - value), 3), pull.rank), default=None)


def _guides(face: Face, pull: _Pull | None, at: Uv, axis: int) -> Iterator[Guide]:
    if pull is None or abs(at[axis] - pull.value) > 1e-6:  # the edge of the flat kept it away
        return
    left, top, right, bottom = face.flat
    if not pull.of:
        ends = ((pull.value, top), (pull.value, bottom)) if axis == 0 else ((left, pull.value), (right, pull.value))
        yield Guide(start=ends[0], end=ends[1], why=pull.why)
    for other in pull.of:
        yield Guide(start=_at(other), end=at, why=pull.why)


def _at(other: Placement) -> Uv:
    return other.u_mm, other.v_mm
