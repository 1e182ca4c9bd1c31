"""Marks on a view: rings, arrows and crosses where the pedal shows something, and numbers beside them.

Everything is drawn in a colour over a white halo, so that it shows on any paint. Points are (n, 2) on the page.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from mockup.drawing.lettering import WHITE, disc
from mockup.geometry.planar import axes
from mockup.model.enclosure import Face
from mockup.model.finding import Mark as Place
from mockup.model.material import Colour
from mockup.model.mesh import Floats
from mockup.model.scene import Camera
from mockup.model.shape import Point
from mockup.model.sheet import Line, Mark, Path
from mockup.scene.projection import facing, projected

_TURN = np.linspace(0.0, 2 * math.pi, 48, endpoint=False)
CIRCLE: Floats = np.stack([np.cos(_TURN), np.sin(_TURN)], axis=1)
SQUARE: Floats = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
_SIDES: Floats = np.linspace(SQUARE, np.roll(SQUARE, -1, 0), 8, endpoint=False).swapaxes(0, 1).reshape(-1, 2)
_EDGE_ON = 0.05  # cosine below which a face is seen too much from the side to be pointed at: by eye
_AIR_MM = 0.9  # between lettering and the line round it: by eye
_HALO = 2.2  # of a line's width: by eye
# Where a number may stand: ways from its ring's middle, the first up to the right, and how far off the ring (radii).
_WAYS = np.radians(-45.0 + 30.0 * np.arange(12))
_OFF = (0.0, 1.2, 2.4, 4.8)
_APART = 2.15  # radii between two numbers
_PLAIN = 0.25  # share of the picture round the rings that is plain paint, whose own grain is no lettering: by eye
# What a number's place costs, where to lie over lettering costs 1: over another, off its ring, next way on: by eye
_COVERING, _AWAY, _LATER = 10.0, 0.12, 0.01
_EDGE, _FULL = 20.0, 0.25  # an 8-bit step from pixel to pixel that shows; share of such pixels in lettering: by eye


@dataclass(frozen=True, kw_only=True, eq=False)
class PlacedView:
    """A picture of the pedal on a page: the camera that took it and the room it fills (left, top, width, height).

    `pose` (4, 4) is how the pedal lies in it. `pixels` (h, w, 3 or 4) are the picture's, if numbers are to keep off
    what it shows.
    """

    camera: Camera
    area: tuple[float, float, float, float]
    pose: Floats = field(default_factory=lambda: np.eye(4))
    pixels: NDArray[np.uint8] | None = None

    def at(self, points: Floats) -> Floats:
        """Return where points (n, 3) of the standing pedal are on the page."""
        world = points @ self.pose[:3, :3].T + self.pose[:3, 3]
        return projected(self.camera, self.area[2:], world) + self.area[:2]

    def outline(self, face: Face, place: Place, shape_mm: Floats) -> Floats | None:
        """Return a line, (n, 2) mm right and down of a place, on the page; None where its face is turned away."""
        middle = np.array([place.u_mm, place.v_mm])
        world = self.pose[:3, :3] @ face.to_world(middle) + self.pose[:3, 3]
        if facing(self.camera, world, self.pose[:3, :3] @ face.out) <= _EDGE_ON:
            return None
        return self.at(face.to_world(middle + shape_mm))

    def spots(self, rings: Sequence[Floats], radius: float) -> list[Point]:
        """Return where numbers on discs of a radius stand, each on its ring or near it.

        They keep within the picture and off each other; then off what the picture shows, as far as they can.
        """
        if not rings:
            return []
        drawn = self._drawn(radius)
        taken: list[Point] = []

        def cell(at: Floats | Point) -> list[int]:
            down, right = ((np.asarray(at) - self.area[:2]) / self.area[2:])[::-1]
            return [min(max(int(s * n), 0), n - 1) for s, n in zip((down, right), drawn.shape, strict=True)]

        (first, left), (last, right) = (cell(end(np.concatenate(rings), axis=0)) for end in (np.min, np.max))
        grain = np.quantile(drawn[first : last + 1, left : right + 1], _PLAIN)

        def cost(place: tuple[float, Point]) -> float:
            own, at = place
            covered = sum(max(0.0, _APART - math.dist(at, each) / radius) for each in taken)
            return own + _COVERING * covered + max(0.0, float(drawn[*cell(at)] - grain))

        for ring in rings:
            taken += [min(self._candidates(ring, radius), key=cost)[1]]
        return taken

    def _candidates(self, ring: Floats, radius: float) -> Iterator[tuple[float, Point]]:
        """Yield places for a ring's number, within the picture, and what each costs by itself."""
        left, top, wide, tall = self.area
        edge, from_middle = 1.1 * radius, ring - ring.mean(axis=0)
        ways = from_middle / np.linalg.norm(from_middle, axis=1, keepdims=True)
        low, high = (left + edge, top + edge), (left + wide - edge, top + tall - edge)
        for off in _OFF:
            for step, angle in enumerate(_WAYS):
                way = np.array([math.cos(angle), math.sin(angle)])
                on = ring[int(np.argmax(ways @ way))]
                x, y = np.clip(on + way * off * radius, low, high).tolist()
                yield _AWAY * off + _LATER * step, (x, y)

    def _drawn(self, radius: float) -> Floats:
        """Return for each pixel how much there is to see under a disc: 0 for plain paint, about 1 for lettering."""
        if self.pixels is None:
            return np.zeros((1, 1))
        edges = ndimage.gaussian_gradient_magnitude(self.pixels[..., :3].mean(axis=2), 1.0)
        side = max(1, round(2 * radius * self.pixels.shape[1] / self.area[2]))
        return np.asarray(ndimage.uniform_filter(np.minimum(edges / _EDGE, 1.0), side)) / _FULL


def around(place: Place) -> Floats:
    """Return the line round what lies at a place, (n, 2) mm right and down of it: a circle or its box."""
    if place.box_mm is None:
        return CIRCLE * place.radius_mm
    return np.asarray(_SIDES * (np.array(place.box_mm) / 2 + _AIR_MM) @ axes(place.rotation_deg))


def numbers(
    of: Sequence[tuple[int, Colour, Floats]], spots: Sequence[Point], radius: float, line: float
) -> Iterator[Mark]:
    """Yield numbers of rings on their discs, each tied to its ring where it stands off it."""
    for (_, colour, ring), spot in zip(of, spots, strict=True):
        away = np.linalg.norm(ring - spot, axis=1)
        if away.min() > 1.3 * radius:
            yield from straight([(ring[away.argmin()], np.array(spot))], colour, line)
    for (number, colour, _), (x, y) in zip(of, spots, strict=True):
        yield from disc(x, y, radius, str(number), colour, line)


def stroked(points: Floats, colour: Colour, line: float, *, is_dashed: bool = False) -> list[Mark]:
    """Return a closed line."""
    at = tuple((float(x), float(y)) for x, y in points)
    dash = (3.0 * line, 2.0 * line) if is_dashed else None
    return [
        Path(points=at, stroke=WHITE, line_mm=_HALO * line),
        Path(points=at, stroke=colour, line_mm=line, dash_mm=dash),
    ]


def straight(ends: Sequence[tuple[Floats, Floats]], colour: Colour, line: float) -> list[Mark]:
    """Return straight lines, all over the halo of all."""
    return [
        Line(x1_mm=x1, y1_mm=y1, x2_mm=x2, y2_mm=y2, line_mm=wide, colour=ink)
        for ink, wide in ((WHITE, (_HALO - 0.2) * line), (colour, line))
        for (x1, y1), (x2, y2) in ((start.tolist(), end.tolist()) for start, end in ends)
    ]


def arrow(start: Floats, end: Floats, colour: Colour, line: float, *, head: float, least: float) -> list[Mark]:
    """Return an arrow, at least so long that a short way is seen too; none where there is no way at all."""
    along = end - start
    far = float(np.linalg.norm(along))
    if far < 1e-6:
        return []
    way = along / far
    tip = start + way * max(far, least)
    root, half = tip - way * head, np.array([-way[1], way[0]]) * head / 2
    corners = tuple((float(x), float(y)) for x, y in (tip, root + half, root - half))
    halo, shaft = straight([(start, root)], colour, line)
    return [
        halo,
        Path(points=corners, fill=WHITE, stroke=WHITE, line_mm=(_HALO - 1.0) * line),
        shaft,
        Path(points=corners, fill=colour),
    ]


def cross(ring: Floats, colour: Colour, line: float, *, is_plus: bool) -> list[Mark]:
    """Return a cross in a ring, upright or slanted."""
    middle = ring.mean(axis=0)
    arm = 0.45 * np.abs(ring - middle).max(axis=0)
    ways = ((1.0, 0.0), (0.0, 1.0)) if is_plus else ((0.8, 0.8), (0.8, -0.8))
    return straight([(middle - arm * way, middle + arm * way) for way in ways], colour, line)


def crosses(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Return whether two straight lines, each from an end to an end, cross."""

    def side(line: tuple[Point, Point], at: Point) -> float:
        (x, y), (to_x, to_y) = line
        return (to_x - x) * (at[1] - y) - (to_y - y) * (at[0] - x)

    return side(one, other[0]) * side(one, other[1]) < 0 and side(other, one[0]) * side(other, one[1]) < 0
