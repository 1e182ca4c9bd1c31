"""The directions in which pieces are looked at: fine rings round every face's axis, and a few all round.

Hardware is made of prisms and turned solids that stand on a face, so the direction that parts two of them lies, nearly
always, along a face's axis or at right angles to it. There rings of whole degrees meet it; elsewhere `closest` does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mockup.geometry.planar import directions
from mockup.memo import memoize
from mockup.model.enclosure import FACES, Enclosure, faces
from mockup.model.mesh import Floats, Ints

RING = 360  # steps of a ring: parts are turned by whole degrees
ROUND = 120  # directions all round, in opposite pairs
COARSE_DEG = 45  # of the few directions that tell what is far apart


@dataclass(frozen=True, kw_only=True, eq=False)
class Directions:
    """Unit directions `ways` (d, 3) in the world; `opposite` (d,) is the number of each one's opposite.

    `coarse` are the numbers of a few that tell what is far apart.
    """

    ways: Floats
    opposite: Ints
    coarse: Ints


@memoize
def ways_of(box: Enclosure) -> Directions:
    """Return the directions in which a box's hardware is looked at."""
    ways: list[Floats] = []
    opposite: list[Ints] = []
    coarse: list[Ints] = []
    count = 0
    sides = faces(box)
    for face in (sides[name] for name in FACES):
        ring = directions(0.0, 2 * math.pi, RING)[:-1]
        ways += [ring[:, :1] * face.right + ring[:, 1:] * face.down, np.stack([face.out, -face.out])]
        opposite += [count + (np.arange(RING) + RING // 2) % RING, count + RING + np.array([1, 0])]
        coarse += [count + np.arange(0, RING, COARSE_DEG), count + RING + np.arange(2)]
        count += RING + 2
    half = _spread(ROUND // 2)
    ways += [half, -half]
    opposite.append(count + np.roll(np.arange(ROUND), ROUND // 2))
    return Directions(ways=np.concatenate(ways), opposite=np.concatenate(opposite), coarse=np.concatenate(coarse))


def _spread(count: int) -> Floats:
    """Return unit directions (count, 3) spread evenly over the upper half, along a spiral of the golden angle."""
    index = np.arange(count)
    z = (index + 0.5) / count
    turn = math.pi * (3.0 - math.sqrt(5.0)) * index
    level = np.sqrt(1 - z**2)
    return np.stack([level * np.cos(turn), level * np.sin(turn), z], axis=1)
