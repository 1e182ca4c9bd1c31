"""A drafted skin: the inset family of a rounded rectangle, with a rounded top edge.

At height z the section is a rounded rectangle whose straight sides keep their length 2a, 2b while the
corner radius r shrinks with the draft, then with the tangent arc of the edge. So every normal has a
closed form, and the section's area is 4ab + 4(a + b)r + pi r^2.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from mockup.geometry.extrude import cap
from mockup.geometry.planar import arc_steps, directions
from mockup.model.enclosure import Enclosure, Face, FaceName
from mockup.model.mesh import Floats, Ints, Mesh, joined

WALLS: tuple[FaceName, ...] = ("right", "far", "left", "near")  # counter-clockwise from above, from +x
INNER_EDGE_MM = 1.0  # least rounding of the inside edge in a casting: common practice, no source
INNER_SPARE_MM = 0.5  # corner radius left over at the ceiling inside: common practice, no source


@dataclass(frozen=True, kw_only=True)
class Skin:
    """A drafted skin from z = `low_mm` (where it is largest) up to `high_mm`.

    `width_mm` (x), `length_mm` (y) and `corner_mm` (vertical corner radius) hold at `low_mm`.
    """

    width_mm: float
    length_mm: float
    corner_mm: float
    low_mm: float
    high_mm: float
    draft_deg: float
    edge_mm: float

    @property
    def core(self) -> tuple[float, float]:
        """Half the straight length of the sides along x and y: the corners' centres, at any height."""
        return self.width_mm / 2 - self.corner_mm, self.length_mm / 2 - self.corner_mm

    @property
    def draft(self) -> float:
        """Draft in radians."""
        return math.radians(self.draft_deg)

    @property
    def top_inset_mm(self) -> float:
        """How far the flat of the top lies inside the outline at `low_mm`."""
        drift = (self.high_mm - self.low_mm) * math.tan(self.draft)
        return drift + self.edge_mm * math.tan((math.pi / 2 - self.draft) / 2)

    @property
    def top_corner_mm(self) -> float:
        """Corner radius of the flat of the top; must be above 0 for the skin to exist."""
        return self.corner_mm - self.top_inset_mm

    @property
    def wall_top_mm(self) -> float:
        """Height at which the walls end and the rounding begins."""
        return self.high_mm - self.edge_mm * (1 - math.sin(self.draft))

    def inset_mm(self, z_mm: float) -> float:
        """Return how far the skin at height z lies inside its outline at `low_mm`."""
        if z_mm <= self.wall_top_mm or self.edge_mm == 0:
            return (z_mm - self.low_mm) * math.tan(self.draft)
        up = min(z_mm, self.high_mm) - (self.high_mm - self.edge_mm)
        return self.top_inset_mm - math.sqrt(max(0.0, self.edge_mm**2 - up**2))

    def rails(self, chord_mm: float) -> Floats:
        """Return (n, 4) rows (inset, z, elevation of the normal, arc length to the flat), from low to high."""
        steps = arc_steps(self.edge_mm, math.pi / 2 - self.draft, chord_mm) if self.edge_mm > 0 else 0
        rise = np.linspace(self.draft, math.pi / 2, steps + 1) if steps else np.array([self.draft])
        arc = np.stack(
            [
                self.top_inset_mm - self.edge_mm * np.cos(rise),
                self.high_mm - self.edge_mm * (1 - np.sin(rise)),
                rise,
                self.edge_mm * (math.pi / 2 - rise),
            ],
            axis=1,
        )
        if steps:
            arc[-1] = (self.top_inset_mm, self.high_mm, math.pi / 2, 0.0)
        low = np.array([[0.0, self.low_mm, self.draft, arc[0, 3]]])
        return np.concatenate([low, arc])


def outer_skin(box: Enclosure) -> Skin:
    """Return the outside of a box's body."""
    return Skin(
        width_mm=box.width_mm,
        length_mm=box.length_mm,
        corner_mm=box.corner_mm,
        low_mm=box.lid_mm,
        high_mm=box.height_mm,
        draft_deg=box.draft_deg,
        edge_mm=box.edge_mm,
    )


def inner_skin(box: Enclosure, below_mm: float = 0.0) -> Skin:
    """Return the inside of a box's body, carried on for `below_mm` under the rim.

    It lies `wall_mm` inside the outer skin, measured level. Its edge keeps the wall's thickness round
    the outer rounding, and its corner radius leaves room for draft and rounding.
    """
    slope = math.tan(math.radians(box.draft_deg))
    depth = box.body_mm - box.top_mm
    edge = max(min(INNER_EDGE_MM, depth / 4), box.edge_mm - min(box.wall_mm, box.top_mm))
    needed = depth * slope + edge * math.tan(math.radians((90 - box.draft_deg) / 2)) + INNER_SPARE_MM
    corner = max(box.corner_mm - box.wall_mm, needed)
    more = below_mm * slope
    return Skin(
        width_mm=box.width_mm - 2 * box.wall_mm + 2 * more,
        length_mm=box.length_mm - 2 * box.wall_mm + 2 * more,
        corner_mm=corner + more,
        low_mm=box.lid_mm - below_mm,
        high_mm=box.height_mm - box.top_mm,
        draft_deg=box.draft_deg,
        edge_mm=edge,
    )


def lofted(skin: Skin, chord_mm: float, faces: Mapping[FaceName, Face] | None = None) -> dict[str, Mesh]:
    """Return a skin as regions that close: a flat, an edge, four walls, four corners and the open end.

    Names: ``top|flat``, ``top|edge``, ``NAME|flat`` and ``NAME|corner`` for each wall (each takes the
    halves of the two corners next to it), ``rim|flat``. With `faces`, all but the rim carry face
    coordinates; round an edge or corner they run on by arc length.
    """
    rails = skin.rails(chord_mm)
    wall, edge = rails[:2], rails[1:]
    ring = _Ring(skin, math.ceil(arc_steps(skin.corner_mm, math.pi / 2, chord_mm) / 2))
    regions: dict[str, Mesh] = {}
    for index, name in enumerate(WALLS):
        first, last = ring.wall(index)
        for part, columns in (
            ("flat", (np.array([first, last]),)),
            ("corner", (np.arange(first - ring.half, first + 1), np.arange(last, last + ring.half + 1))),
        ):
            pieces = [_patch(ring, wall, each) for each in columns]
            if faces:
                unrolled = [ring.unrolled_wall(index, wall, each) for each in columns]
                pieces = [_mapped(mesh, faces[name], flat) for mesh, flat in zip(pieces, unrolled, strict=True)]
            regions[f"{name}|{part}"] = joined(pieces)
    top = cap(ring.section(rails[-1]), skin.high_mm, is_top=True)
    regions["top|flat"] = _mapped(top, faces["top"], top.vertices) if faces else top
    if len(edge) > 1:
        columns_all = np.arange(len(ring.centre) + 1)
        rounding = _patch(ring, edge, columns_all)
        flat = ring.unrolled_edge(edge, columns_all)
        regions["top|edge"] = _mapped(rounding, faces["top"], flat) if faces else rounding
    regions["rim|flat"] = cap(ring.section(rails[0]), skin.low_mm, is_top=False)
    return regions


class _Ring:
    """The way round a skin, column by column: corner centres, outward directions and their angles."""

    def __init__(self, skin: Skin, half: int) -> None:
        turned = [directions(0.0, math.pi / 2, 2 * half)]
        for _ in range(3):
            turned.append(np.stack([-turned[-1][:, 1], turned[-1][:, 0]], axis=1) + 0.0)
        a, b = skin.core
        self.skin, self.half, self.size = skin, half, 2 * half + 1
        self.outward = np.concatenate(turned)
        self.centre = np.repeat(np.array([[a, b], [-a, b], [-a, -b], [a, -b]]), self.size, axis=0)
        self.angle = (np.linspace(0.0, math.pi / 2, self.size) + math.pi / 2 * np.arange(4)[:, None]).ravel()

    def wall(self, index: int) -> tuple[int, int]:
        """Return the two columns between which a wall lies."""
        return (index + 3) % 4 * self.size + self.size - 1, index * self.size

    def section(self, rail: Floats) -> Floats:
        """Return the section at a rail as an (n, 2) polygon."""
        return np.asarray(self.centre + (self.skin.corner_mm - rail[0]) * self.outward)

    def unrolled_wall(self, index: int, rails: Floats, columns: Ints) -> Floats:
        """Return (rows, columns, 3) points of a wall and its corners rolled out into the wall's plane."""
        columns = columns % len(self.centre)
        radius = self.skin.corner_mm - rails[:, :1]
        turn = self.angle[columns] - index * math.pi / 2
        turn = (turn + math.pi) % (2 * math.pi) - math.pi
        normal = directions(index * math.pi / 2, 0.0, 0)[0]
        along = np.array([-normal[1], normal[0]])
        level = self.centre[columns] + radius[..., None] * (normal + turn[:, None] * along)
        return _raised(level, rails[:, 1])

    def unrolled_edge(self, rails: Floats, columns: Ints) -> Floats:
        """Return (rows, columns, 3) points of the top edge rolled out into the top's plane."""
        columns = columns % len(self.centre)
        reach = self.skin.top_corner_mm + rails[:, 3]
        level = self.centre[columns] + reach[:, None, None] * self.outward[columns]
        return _raised(level, np.full(len(rails), self.skin.high_mm))


def _patch(ring: _Ring, rails: Floats, columns: Ints) -> Mesh:
    """Return the surface between some rails (rows) and columns, with its own normals."""
    columns = columns % len(ring.centre)
    outward = ring.outward[columns]
    level = ring.centre[columns] + (ring.skin.corner_mm - rails[:, 0])[:, None, None] * outward
    rise = rails[:, 2]
    lean = np.where(rise == math.pi / 2, 0.0, np.cos(rise))
    normals = _raised(lean[:, None, None] * outward, np.sin(rise))
    index = np.arange(len(rails) * len(columns)).reshape(len(rails), len(columns))
    a, b, c, d = (each.ravel() for each in (index[:-1, :-1], index[:-1, 1:], index[1:, 1:], index[1:, :-1]))
    faces = np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)])
    return Mesh(vertices=_raised(level, rails[:, 1]).reshape(-1, 3), normals=normals.reshape(-1, 3), faces=faces)


def _raised(level: Floats, z: Floats) -> Floats:
    """Return (rows, columns, 2) points with one third coordinate per row."""
    return np.concatenate([level, np.broadcast_to(z[:, None, None], (*level.shape[:2], 1))], axis=-1)


def _mapped(mesh: Mesh, face: Face, flat: Floats) -> Mesh:
    return replace(mesh, uv=face.from_world(flat.reshape(-1, 3))[:, :2])
