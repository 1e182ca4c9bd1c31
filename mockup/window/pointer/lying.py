"""What lies flat on a face, such as a decal or a word: its corners, made larger, turned, and where it wants to be.

All of it is in face coordinates, millimetres to the right and down as the face is seen from outside.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from mockup.model.enclosure import Face
from mockup.model.shape import turned
from mockup.window.pointer.snapping import Guide, Uv

LEAST_MM = 1.0  # nothing is dragged smaller: our choice
_CORNERS = ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0))
TURNS = (5.0, 15.0)  # degrees that a turn goes in, and with Shift: the window's design


@dataclass(frozen=True, kw_only=True)
class Lying:
    """A rectangle on a face: its middle, its width and height before it is turned clockwise."""

    u_mm: float
    v_mm: float
    width_mm: float
    height_mm: float
    rotation_deg: float = 0.0

    @property
    def corners(self) -> tuple[Uv, ...]:
        """Its own top left corner, then clockwise."""
        return tuple(self._at(x * self.width_mm / 2, y * self.height_mm / 2) for x, y in _CORNERS)

    @property
    def reach(self) -> Uv:
        """How far it reaches across and down as it lies."""
        return turned(self.width_mm, self.height_mm, self.rotation_deg)

    def holds(self, at: Uv, slack_mm: float = 0.0) -> bool:
        """Return whether a place lies on it, or as near to it as that."""
        across, down = self._own(at)
        return abs(across) <= self.width_mm / 2 + slack_mm and abs(down) <= self.height_mm / 2 + slack_mm

    def grown(self, by_mm: float) -> Lying:
        """Return it with so much more on every side."""
        return replace(self, width_mm=self.width_mm + 2 * by_mm, height_mm=self.height_mm + 2 * by_mm)

    def arc(self, away_mm: float, half_mm: float = 11.0, steps: int = 16) -> tuple[Uv, ...]:
        """Return an arc about its middle, `away_mm` beyond the middle of its own top edge, `half_mm` to either side."""
        radius = self.height_mm / 2 + away_mm
        spread_deg = min(math.degrees(half_mm / radius), 40.0)
        angles = [math.radians(spread_deg * (2 * step / steps - 1)) for step in range(steps + 1)]
        return tuple(self._at(radius * math.sin(angle), -radius * math.cos(angle)) for angle in angles)

    def _at(self, across: float, down: float) -> Uv:
        angle = math.radians(self.rotation_deg)
        cos, sin = math.cos(angle), math.sin(angle)
        return self.u_mm + across * cos - down * sin, self.v_mm + across * sin + down * cos

    def _own(self, at: Uv) -> Uv:
        angle = math.radians(self.rotation_deg)
        cos, sin = math.cos(angle), math.sin(angle)
        right, low = at[0] - self.u_mm, at[1] - self.v_mm
        return right * cos + low * sin, low * cos - right * sin


def scaled(thing: Lying, corner: int, to: Uv, is_centred: tuple[bool, bool] = (False, False)) -> Lying:
    """Return a thing, its proportions kept, one of whose corners was dragged to a place.

    The corner across from it stays; along an axis in which it `is_centred` its middle stays.
    """
    corners = thing.corners
    start, across = corners[corner], corners[(corner + 2) % 4]
    anchor = (thing.u_mm if is_centred[0] else across[0], thing.v_mm if is_centred[1] else across[1])
    was, now = [(place[0] - anchor[0], place[1] - anchor[1]) for place in (start, to)]
    length = was[0] ** 2 + was[1] ** 2
    factor = (was[0] * now[0] + was[1] * now[1]) / length if length else 1.0
    factor = max(factor, LEAST_MM / max(thing.width_mm, thing.height_mm))
    return replace(
        thing,
        width_mm=thing.width_mm * factor,
        height_mm=thing.height_mm * factor,
        u_mm=anchor[0] + (thing.u_mm - anchor[0]) * factor,
        v_mm=anchor[1] + (thing.v_mm - anchor[1]) * factor,
    )


def turned_by(thing: Lying, start: Uv, to: Uv, step_deg: float = 0.0) -> Lying:
    """Return a thing turned about its middle as a place on it went from `start` to another, in whole steps."""
    angles = [math.degrees(math.atan2(place[1] - thing.v_mm, place[0] - thing.u_mm)) for place in (start, to)]
    turn = thing.rotation_deg + angles[1] - angles[0]
    turn = round(turn / step_deg) * step_deg if step_deg else round(turn, 1)
    turn = (turn + 180.0) % 360.0 - 180.0
    return replace(thing, rotation_deg=180.0 if turn == -180.0 else turn + 0.0)


@dataclass(frozen=True, kw_only=True)
class Laid:
    """Where a thing comes to lie; `is_centred` tells for each axis whether it holds on to the middle of the flat."""

    thing: Lying
    is_centred: tuple[bool, bool] = (False, False)
    guides: tuple[Guide, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Neighbour:
    """Something on the same face that a dragged thing may be in line with."""

    name: str
    at: Uv


def laid(
    face: Face, wanted: Lying, others: Iterable[Neighbour] = (), *, grid_mm: float | None = None,
    reach_mm: float = 1.0, is_on: bool = True,
) -> Laid:  # fmt: skip
    """Return where a dragged thing comes to lie: its middle holds on to the flat's middle, or to another thing's.

    Where it holds on to nothing, its left and top edges go onto the grid, counted by ruler from the face's edges. Its
    middle stays on the face.
    """
    at = min(max(wanted.u_mm, 0.0), face.width_mm), min(max(wanted.v_mm, 0.0), face.height_mm)
    if not is_on:
        return Laid(thing=replace(wanted, u_mm=at[0], v_mm=at[1]))
    neighbours = tuple(others)
    left, top, right, bottom = face.flat
    middles = (left + right) / 2, (top + bottom) / 2
    found = [_pull(axis, at, middles, neighbours, reach_mm) for axis in (0, 1)]
    place = [at[axis] if pull is None else pull[0] for axis, pull in enumerate(found)]
    if grid_mm is not None:
        reach = wanted.reach
        edges = (face.left_edge(place[1]), 0.0)
        for axis, pull in enumerate(found):
            if pull is None:
                ruled = place[axis] - reach[axis] / 2 - edges[axis]
                place[axis] = round(ruled / grid_mm) * grid_mm + reach[axis] / 2 + edges[axis]
    u, v = place
    guides = tuple(
        guide for axis, pull in enumerate(found) if pull is not None for guide in _guide(face, axis, pull, u, v)
    )
    return Laid(
        thing=replace(wanted, u_mm=u, v_mm=v),
        is_centred=(_is_middle(found[0]), _is_middle(found[1])),
        guides=guides,
    )


_Pull = tuple[float, str, Neighbour | None]


def _pull(axis: int, at: Uv, middles: Uv, others: tuple[Neighbour, ...], reach_mm: float) -> _Pull | None:
    """Return the place along an axis that draws a thing, why, and whose it is: the nearest, the middle first."""
    words = ("in line with", "level with")[axis]
    pulls: list[_Pull] = [(middles[axis], "centre line", None)]
    pulls += [(other.at[axis], f"{words} {other.name}", other) for other in others]
    near = [pull for pull in pulls if abs(pull[0] - at[axis]) <= reach_mm]
    return min(near, key=lambda pull: (round(abs(pull[0] - at[axis]), 3), pull[2] is not None), default=None)


def _guide(face: Face, axis: int, pull: _Pull, u: float, v: float) -> Iterator[Guide]:
    left, top, right, bottom = face.flat
    value, why, other = pull
    if other is not None:
        yield Guide(start=other.at, end=(u, v), why=why)
    elif axis == 0:
        yield Guide(start=(value, top), end=(value, bottom), why=why)
    else:
        yield Guide(start=(left, value), end=(right, value), why=why)


def _is_middle(pull: _Pull | None) -> bool:
    return pull is not None and pull[2] is None
