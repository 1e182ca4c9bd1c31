"""The exact gap between two convex pieces, and the direction it lies in.

The least vector from one convex set to another is found from their supports alone, by the method of P. Wolfe,
"Finding the nearest point in a polytope", Mathematical Programming 11 (1976), applied to their difference.
"""

from __future__ import annotations

import numpy as np

from mockup.clearance.pieces import Pieces
from mockup.model.mesh import Floats

CLOSE_MM = 1e-4  # a gap is known to this: far below what anybody measures
STEPS = 60  # of the search, at most; it needs 4 to 20


def gap(first: Pieces, second: Pieces, way: Floats) -> tuple[float, Floats]:
    """Return a gap between two single pieces that is never too large, and its unit direction from first to second.

    `way` (3,) is where the search starts. A gap below 0 is how far they overlap along the best direction met.
    """
    best, kept = -np.inf, way
    corners = np.empty((0, 3))
    weights = np.empty(0)
    point = way
    for _ in range(STEPS):
        length = float(np.linalg.norm(point))
        if length < CLOSE_MM:
            break  # they touch or overlap
        here = point / length
        corner = _farthest(second, -here) - _farthest(first, here)
        reached = float(corner @ here)
        if reached > best:
            best, kept = reached, here
        if len(corners) and length - best < CLOSE_MM:
            break
        corners, weights = _nearer(np.vstack([corners, corner]), np.append(weights, 0.0))
        point = weights @ corners
    return best, kept


def _farthest(piece: Pieces, way: Floats) -> Floats:
    """Return the point (3,) of a piece that lies farthest in a direction."""
    along = piece.axes @ way
    across = way - along[:, None] * piece.axes
    length = np.linalg.norm(across, axis=1)
    index = int(np.argmax(piece.middles @ way + piece.radii * length))
    found: Floats = piece.middles[index]
    if length[index] > 1e-12:
        found = found + piece.radii[index] / length[index] * across[index]
    return found


def _nearer(corners: Floats, weights: Floats) -> tuple[Floats, Floats]:
    """Return the corners, and their weights, of the point of a simplex that is nearest to the origin."""
    if len(corners) == 1:
        return corners, np.ones(1)
    while True:
        count = len(corners)
        table = np.ones((count + 1, count + 1))
        table[0, 0] = 0.0
        table[1:, 1:] = corners @ corners.T
        wanted = np.linalg.lstsq(table, np.eye(count + 1)[0], rcond=None)[0][1:]
        if (wanted > -1e-12).all() or count == 1:
            wanted = np.maximum(wanted, 0.0)
            return corners, wanted / wanted.sum()
        falling = wanted < weights
        shares = weights[falling] / (weights[falling] - wanted[falling])
        weights = weights + min(1.0, float(shares[wanted[falling] < 0].min(initial=1.0))) * (wanted - weights)
        is_kept = weights > 1e-12
        if is_kept.all():
            is_kept[int(np.argmin(weights))] = False
        corners, weights = corners[is_kept], weights[is_kept]
