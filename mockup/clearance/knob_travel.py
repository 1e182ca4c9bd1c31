"""The room that a knob takes at any turn: its outermost reach at every height, turned about the shaft."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from mockup.geometry.planar import CHORD_MM
from mockup.geometry.tessellate import tessellate
from mockup.memo import memoize
from mockup.model.material import BLACK_PLASTIC
from mockup.model.mesh import Floats
from mockup.model.shape import Solid, Turned

LEVELS = 64  # heights at which the reach is read: about a quarter of a millimetre apart


@memoize
def swept(solids: Sequence[Solid]) -> Turned:
    """Return one solid of revolution that holds all of `solids` turned about the z axis by any angle.

    Hollows below count as filled. Between two heights of a triangle's edge the distance from the axis
    is convex, so the straight line between its ends never falls short of it; at each of `LEVELS` steps
    the widest reach within the step is taken, so that the solid is never too small by more than a chord
    error, and that only where the widest place lies between two corners of an outline.
    """
    radius, height = _edges(solids)
    low, high = float(height.min()), float(height.max())
    levels = np.linspace(low, high, LEVELS + 1)
    lower, upper = np.minimum(*height.T), np.maximum(*height.T)
    reach = np.array(
        [
            _widest(radius[crosses], height[crosses], bottom, top)
            for bottom, top in pairwise(levels)
            for crosses in [(lower <= top) & (upper >= bottom)]
        ]
    )
    outside: list[tuple[float, float]] = []
    for step, (bottom, top) in enumerate(pairwise(levels)):
        if not outside or abs(outside[-1][0] - reach[step]) > 1e-6:
            outside.append((float(reach[step]), float(bottom)))
        else:
            outside.pop()
        outside.append((float(reach[step]), float(top)))
    return Turned(profile=((0.0, low), *outside, (0.0, high)), material=BLACK_PLASTIC)


def _edges(solids: Sequence[Solid]) -> tuple[Floats, Floats]:
    """Return the distance from the axis and the height of both ends of every edge, each (n, 2)."""
    radii, heights = [], []
    for each in solids:
        mesh = tessellate(each, CHORD_MM)
        ends = mesh.vertices[mesh.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)]
        radii.append(np.hypot(ends[..., 0], ends[..., 1]))
        heights.append(ends[..., 2])
    return np.concatenate(radii), np.concatenate(heights)


def _widest(r: Floats, z: Floats, bottom: float, top: float) -> float:
    """Return the greatest distance from the axis that any of these edges has between two heights, which all cross."""
    rise = z[:, 1] - z[:, 0]
    flat = np.abs(rise) < 1e-9
    share = (np.clip([bottom, top], z.min(axis=1)[:, None], z.max(axis=1)[:, None]) - z[:, :1]) / np.where(
        flat, 1.0, rise
    )[:, None]
    at = r[:, :1] + np.clip(share, 0.0, 1.0) * (r[:, 1:] - r[:, :1])
    return float(np.where(flat, r.max(axis=1), at.max(axis=1)).max())
