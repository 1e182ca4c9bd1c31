"""The shift and turn that lay one pattern of points best on another."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mockup.model.mesh import Floats


@dataclass(frozen=True, kw_only=True, eq=False)
class RigidMove:
    """A turn clockwise as seen with y down, about `middle`, and then a shift, millimetres and degrees.

    `left` (n, 2) is what remains of each point's own way after it.
    """

    middle: tuple[float, float]
    shift: tuple[float, float]
    turn_deg: float
    left: Floats

    def of(self, points: Floats) -> Floats:
        """Return points (..., 2) moved."""
        angle = math.radians(self.turn_deg)
        turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
        return np.asarray((np.asarray(points) - self.middle) @ turn.T + self.middle + self.shift)

    def back(self, points: Floats) -> Floats:
        """Return where points (..., 2) lay before the move."""
        angle = math.radians(self.turn_deg)
        turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
        return np.asarray((np.asarray(points) - self.middle - self.shift) @ turn + self.middle)


def best_move(points: Floats, onto: Floats, *, can_turn: bool = True) -> RigidMove:
    """Return the move of points (n, 2), n >= 1, that leaves the least squares of the ways to `onto`.

    Kabsch, Acta Crystallographica A32, 1976, in the plane; the turn is about the points' own middle. One point, or
    several in one place, only shift.
    """
    points, onto = np.asarray(points, np.float64), np.asarray(onto, np.float64)
    middle, aim = points.mean(axis=0), onto.mean(axis=0)
    own, seen = points - middle, onto - aim
    turn = 0.0
    if can_turn and float((own**2).sum()) > 1e-6:
        turn = math.degrees(
            math.atan2(float((own[:, 0] * seen[:, 1] - own[:, 1] * seen[:, 0]).sum()), float((own * seen).sum()))
        )
    move = RigidMove(
        middle=(float(middle[0]), float(middle[1])),
        shift=(float(aim[0] - middle[0]), float(aim[1] - middle[1])),
        turn_deg=turn,
        left=np.zeros_like(points),
    )
    return RigidMove(middle=move.middle, shift=move.shift, turn_deg=turn, left=onto - move.of(points))
