"""How far something has moved over a face, also where the two faces differ in size."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from mockup.comparison.differences.change import Inner
from mockup.model.design import Design
from mockup.model.enclosure import Face, FaceName, faces
from mockup.model.finding import Mark
from mockup.model.shape import Point

Place = TypeVar("Place", Mark, Inner)
_SAME_MM = 1e-6  # faces nearer in size than this are equal


class Shifts:
    """Moves from the faces of one pedal to those of another.

    On faces of one size a move is counted from the left and top edges. Where the sizes differ, it is
    counted along each axis from the edge, or the middle, from which the thing has moved least: what stays
    16 mm from the right edge, or in the middle, has not moved.
    """

    def __init__(self, first: Design, other: Design) -> None:
        self._old, self._new = faces(first.enclosure), faces(other.enclosure)

    def of(self, face: FaceName, old: Point, new: Point) -> Point:
        """Return (right, down) in mm from one place (u, v) on a face to another."""
        was, now = self._old[face], self._new[face]
        across = _least(_across(was, *old), _across(now, *new))
        down = _least((old[1], was.height_mm), (new[1], now.height_mm))
        return across, down

    def old_mark(self, old: Place | None, new: Place | None) -> Place | None:
        """Return the old place of something as a mark on the new pedal's face; None where it lacks either."""
        if old is None or new is None:
            return None
        right, down = self.of(new.face, (old.u_mm, old.v_mm), (new.u_mm, new.v_mm))
        return replace(old, u_mm=new.u_mm - right, v_mm=new.v_mm - down)


def _across(face: Face, u_mm: float, v_mm: float) -> tuple[float, float]:
    """Return how far from the left edge a place is, and how wide the face is there."""
    left = face.left_edge(v_mm)
    return u_mm - left, face.right_edge(v_mm) - left


def _least(old: tuple[float, float], new: tuple[float, float]) -> float:
    """Return the move from (place, length) to (place, length): from the start, or from where it is least."""
    grown = new[1] - old[1]
    moved = new[0] - old[0]
    if abs(grown) < _SAME_MM:
        return moved
    return min((moved - share * grown for share in (0.0, 0.5, 1.0)), key=abs)
