"""Solids of hardware as convex pieces, each the hull of a few discs about one axis, with their support.

The support of a piece in a direction is how far it reaches that way. A disc of radius r about the unit axis a,
its middle at p, reaches ``n.p + r |n - (n.a) a|``, exactly; a point is a disc of radius 0.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from mockup.clearance.figures import core
from mockup.geometry.planar import axes, inset
from mockup.model.material import SOLDER
from mockup.model.mesh import Floats, Ints
from mockup.model.shape import Extruded, Point, Solid

SPARE_MM = 0.03  # how far a piece may stand out of a solid that is not quite convex: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class Pieces:
    """Convex pieces: the discs of all of them in a row, `starts` (m,) where each piece begins.

    `middles` (k, 3), `radii` (k,) and the unit `axes` (k, 3) of the discs; `are_terminals` (m,) says which pieces
    wires are soldered to.
    """

    middles: Floats
    radii: Floats
    axes: Floats
    starts: Ints
    are_terminals: Ints

    def __len__(self) -> int:
        """Return how many pieces there are."""
        return len(self.starts)

    def support(self, ways: Floats) -> Floats:
        """Return (m, d): how far each piece reaches in each unit direction (d, 3)."""
        along = self.axes @ ways.T
        reach = self.middles @ ways.T + self.radii[:, None] * np.sqrt(np.maximum(0.0, 1.0 - along**2))
        found: Floats = np.maximum.reduceat(reach, self.starts, axis=0)
        return found

    @property
    def bounds(self) -> tuple[Floats, Floats]:
        """The least and the greatest x, y and z (3,) that any piece reaches."""
        ways = np.eye(3)
        return -self.support(-ways).max(axis=0), self.support(ways).max(axis=0)

    def moved(self, pose: Floats) -> Pieces:
        """Return the pieces under a rigid pose (4, 4)."""
        turn = pose[:3, :3]
        return Pieces(
            middles=self.middles @ turn.T + pose[:3, 3],
            radii=self.radii,
            axes=self.axes @ turn.T,
            starts=self.starts,
            are_terminals=self.are_terminals,
        )

    def one(self, index: int) -> Pieces:
        """Return one piece alone."""
        ends = np.append(self.starts[1:], len(self.middles))
        own = slice(int(self.starts[index]), int(ends[index]))
        return Pieces(
            middles=self.middles[own],
            radii=self.radii[own],
            axes=self.axes[own],
            starts=np.zeros(1, np.int64),
            are_terminals=self.are_terminals[index : index + 1],
        )


def pieces_of(solids: Iterable[Solid]) -> Pieces:
    """Return the convex pieces of solids in their part frame; bores and flutes count as filled."""
    middles: list[Floats] = []
    radii: list[Floats] = []
    axes: list[Floats] = []
    starts, terminals, count = [], [], 0
    for solid in solids:
        for points, reach, axis in _discs(solid):
            starts.append(count)
            terminals.append(solid.material.name == SOLDER.name)
            middles.append(points)
            radii.append(reach)
            axes.append(np.tile(axis, (len(points), 1)))
            count += len(points)
    return Pieces(
        middles=np.concatenate(middles) if middles else np.empty((0, 3)),
        radii=np.concatenate(radii) if radii else np.empty(0),
        axes=np.concatenate(axes) if axes else np.empty((0, 3)),
        starts=np.array(starts, np.int64),
        are_terminals=np.array(terminals, np.int64),
    )


def _discs(solid: Solid) -> Iterator[tuple[Floats, Floats, Floats]]:
    """Yield each convex piece of a solid: middles (k, 3), radii (k,) and the axis (3,) of its discs."""
    if isinstance(solid, Extruded):
        yield _drawn_out(solid)
        return
    lean = math.radians(solid.tilt_deg)
    axis = np.array([0.0, math.sin(lean), math.cos(lean)])
    pivot = np.array([*solid.at, solid.pivot_z_mm])
    for chain in slabs(solid.profile):
        heights = np.array([z for _, z in chain]) - solid.pivot_z_mm
        yield pivot + heights[:, None] * axis, np.array([r for r, _ in chain]), axis


def _drawn_out(solid: Extruded) -> tuple[Floats, Floats, Floats]:
    rotate = axes(solid.rotation_deg).T
    levels = [(solid.outline, solid.bottom_mm), (solid.outline, solid.top_mm - solid.bevel_mm)]
    if solid.bevel_mm:
        levels.append((inset(solid.outline, solid.bevel_mm), solid.top_mm))
    middles, radii = [], []
    for outline, z in levels:
        flat, radius = core(outline)
        middles.append(np.column_stack([flat @ rotate + solid.at, np.full(len(flat), z)]))
        radii.append(np.full(len(flat), radius))
    return np.concatenate(middles), np.concatenate(radii), np.array([0.0, 0.0, 1.0])


def slabs(profile: Sequence[Point]) -> list[list[Point]]:
    """Return the outside of a turned profile as convex pieces, each a chain of (radius, height) from low to high.

    Neighbouring slabs are one piece as long as their hull stands out of the profile by no more than `SPARE_MM`.
    """
    found: list[list[Point]] = []
    chain: list[Point] = []
    for slab in _frusta(profile):
        longer = [*chain, *slab]
        if chain and _spare(longer) > SPARE_MM:
            found.append(_hull(chain))
            longer = list(slab)
        chain = longer
    return [*found, _hull(chain)]


def _frusta(profile: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Yield the outermost radius of a profile between each two of its heights, at the lower and the upper one."""
    edges = [(one, other) for one, other in pairwise([*profile, profile[0]]) if abs(one[1] - other[1]) > 1e-9]
    for low, high in pairwise(sorted({z for _, z in profile})):
        ends = [
            (_radius(edge, low), _radius(edge, high))
            for edge in edges
            if min(edge[0][1], edge[1][1]) <= low + 1e-9 and max(edge[0][1], edge[1][1]) >= high - 1e-9
        ]
        if ends and high - low > 1e-9:
            yield (max(first for first, _ in ends), low), (max(last for _, last in ends), high)


def _radius(edge: tuple[Point, Point], z: float) -> float:
    (r0, z0), (r1, z1) = edge
    return r0 + (r1 - r0) * (z - z0) / (z1 - z0)


def _spare(chain: Sequence[Point]) -> float:
    """Return how far the hull of a chain stands out of it at most, measured along the radius."""
    hull = _hull(chain)
    heights = np.array([z for _, z in chain])
    outer = np.interp(heights, [z for _, z in hull], [r for r, _ in hull])
    lowest, highest = heights[0], heights[-1]
    inside = (heights > lowest + 1e-9) & (heights < highest - 1e-9)
    return float((outer - [r for r, _ in chain])[inside].max(initial=0.0))


def _hull(chain: Sequence[Point]) -> list[Point]:
    """Return the corners of the outer hull of a chain, from low to high; two at one height become the wider."""
    widest: dict[float, float] = {}
    for r, z in chain:
        widest[z] = max(r, widest.get(z, 0.0))
    hull: list[Point] = []
    for z in sorted(widest):
        here = widest[z], z
        while len(hull) > 1 and _turns_out(hull[-2], hull[-1], here):
            hull.pop()
        hull.append(here)
    return hull


def _turns_out(first: Point, middle: Point, last: Point) -> bool:
    """Return whether the middle one lies on or inside the line from first to last."""
    (r0, z0), (r1, z1), (r2, z2) = first, middle, last
    return (r1 - r0) * (z2 - z0) <= (r2 - r0) * (z1 - z0) + 1e-12
