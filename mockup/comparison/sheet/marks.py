"""Difference marks over a picture: where a part or label came, went, moved or changed.

Shape and number say it, colour only repeats it: a ring round what moved, with a dashed ring where it
was and an arrow between; a ring with a plus for what came; a dashed ring with a cross for what went; a
square for what changed in its place. The number is that of the line in the list of differences.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from scipy.spatial import ConvexHull

from mockup.comparison.differences.change import Change, Inner
from mockup.comparison.differences.items import Item, Spot, pointed
from mockup.comparison.sheet.grid import MOST
from mockup.geometry.poses import turned_over
from mockup.model.design import Design
from mockup.model.enclosure import Face, faces
from mockup.model.finding import Mark
from mockup.model.material import Colour
from mockup.model.mesh import Floats
from mockup.model.shape import Point
from mockup.model.sheet import Circle, Line, Path, Text
from mockup.model.sheet import Mark as Drawn
from mockup.picture import framing
from mockup.picture.finding_sheet import projected
from mockup.picture.shots import Sight
from mockup.scene.cameras import VIEWS

# Dark enough to read white figures on; told apart by lightness too: our taste.
COLOURS: Mapping[str, Colour] = {
    "moved": (0.10, 0.33, 0.66),
    "turned": (0.10, 0.33, 0.66),
    "added": (0.05, 0.42, 0.25),
    "removed": (0.73, 0.13, 0.10),
    "changed": (0.42, 0.22, 0.55),
}
FOUND: Colour = (0.33, 0.35, 0.39)  # of what the checks found, which no picture here points at
_HALO: Colour = (1.0, 1.0, 1.0)
_AROUND_MM = 1.2  # between a part and its ring: our taste
_TURN = np.linspace(0.0, 2 * math.pi, 48, endpoint=False)
_CIRCLE = np.stack([np.cos(_TURN), np.sin(_TURN)], axis=1)
_CORNERS = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
_FIRST = math.radians(-45.0)  # where on its ring a number stands: up to the right
_TRIES = 12  # other places on the ring, where it would cover another number
# In shares of the picture's shorter side: our taste.
_LINE, _DISC, _LEAST_ARROW, _HEAD = 0.0055, 0.026, 0.05, 0.02


def colour_of(item: Item) -> Colour:
    """Return the colour of an item's number in the list of differences."""
    return FOUND if item.is_finding else COLOURS[item.changes[0].how]


def marks(
    items: Sequence[Item], design: Design, sight: Sight, area: tuple[float, float, float, float]
) -> Iterator[Drawn]:
    """Yield marks on a page over the picture of `design` that `sight` took and that lies at `area`.

    `area` is left, top, width and height in mm. Old places are shown on this pedal, at the same distance
    from the left and top edges of their face. With the lid off, parts are pointed at where their bodies are;
    what a view does not show is not pointed at.
    """
    page = _Page(design, sight, area)
    rings: list[Drawn] = []
    discs: list[Drawn] = []
    for item in items:
        for change, old, new in pointed(item, is_open=is_open(sight)):
            shapes, at = page.shapes(change, old, new)
            rings += shapes
            if at is not None:
                discs += page.disc(at, item.number, change.how)
    yield from rings
    yield from discs


def is_open(sight: Sight) -> bool:
    """Return whether a view looks into the box."""
    return "lid" in VIEWS[sight.view].hidden


def is_blind(items: Sequence[Item], design: Design, sight: Sight) -> bool:
    """Return whether a view shows nothing of what other views could point at."""
    is_wanted = any(pointed(item) or pointed(item, is_open=True) for item in items)
    return is_wanted and next(marks(items, design, sight, (0.0, 0.0, 1.0, 1.0)), None) is None


@functools.lru_cache(maxsize=2 * MOST)
def _over(design: Design) -> Floats:
    """Return the pose (4, 4) in which a pedal lies on its knobs; asked for once for each of its pictures."""
    return turned_over(float(framing.extent(design)[:, 2].max()))


class _Page:
    """One picture on a page: what lies where, and where numbers already stand."""

    def __init__(self, design: Design, sight: Sight, area: tuple[float, float, float, float]) -> None:
        self.sight, self.area = sight, area
        self.faces = faces(design.enclosure)
        side = min(area[2], area[3])
        self.line, self.disc_mm, self.least, self.head = (side * each for each in (_LINE, _DISC, _LEAST_ARROW, _HEAD))
        self.taken: list[Point] = []
        box = design.enclosure
        self.walls = {name: box.top_mm if name == "top" else box.wall_mm for name in self.faces}
        self.pose = _over(design) if VIEWS[sight.view].is_flipped else np.eye(4)

    def shapes(self, change: Change, old: Spot | None, new: Spot | None) -> tuple[list[Drawn], Floats | None]:
        """Return what is drawn for a change, and the ring (n, 2) that its number goes to."""
        colour = COLOURS[change.how]
        found: list[Drawn] = []
        before = self._ring(old) if old is not None and change.how in ("moved", "removed") else None
        after = self._ring(new) if new is not None else None
        if before is not None:
            found += self._path(before, colour, is_dashed=True)
        if after is not None:
            found += self._path(self._square(new) if change.how == "changed" and new is not None else after, colour)
        if before is not None and after is not None:
            found += self._arrow(before.mean(axis=0), after.mean(axis=0), colour)
        elif before is not None:
            found += self._cross(before, colour, is_plus=False)
        elif after is not None and change.how == "added":
            found += self._cross(after, colour, is_plus=True)
        return found, after if after is not None else before

    def disc(self, ring: Floats, number: int, how: str) -> list[Drawn]:
        """Return a number on its ring, where it covers no other and stays in the picture."""
        middle = ring.mean(axis=0)
        best: tuple[float, Point] | None = None
        for step in range(_TRIES):
            angle = _FIRST + 2 * math.pi * step / _TRIES
            way = np.array([math.cos(angle), math.sin(angle)])
            reach = float(((ring - middle) @ way).max())
            x, y = (middle + way * reach).tolist()
            x, y = self._inside(x, y)
            near = min((math.dist((x, y), each) for each in self.taken), default=math.inf)
            room = min(near, 2.2 * self.disc_mm) - 0.001 * step * self.disc_mm
            if best is None or room > best[0]:
                best = (room, (x, y))
        x, y = best[1] if best is not None else (0.0, 0.0)
        self.taken.append((x, y))
        size = self.disc_mm * (1.35 if number < 10 else 1.1)
        return [
            Circle(x_mm=x, y_mm=y, radius_mm=self.disc_mm, fill=COLOURS[how], stroke=_HALO, line_mm=self.line * 0.7),
            Text(
                x_mm=x,
                y_mm=y + size * 0.36,
                text=str(number),
                size_mm=size,
                anchor="middle",
                is_bold=True,
                colour=_HALO,
            ),
        ]

    def _inside(self, x: float, y: float) -> Point:
        left, top, wide, tall = self.area
        edge = self.disc_mm * 1.1
        return (
            min(max(x, left + edge), left + wide - edge),
            min(max(y, top + edge), top + tall - edge),
        )

    def _ring(self, spot: Spot) -> Floats | None:
        """Return the line round a place, (n, 2) on the page; None where its face is turned away."""
        if isinstance(spot, Inner):
            seen, around = self._body(spot), _CIRCLE * 2.5 * self.line
            points = (seen[:, None] + around[None]).reshape(-1, 2)
            return np.asarray(points[ConvexHull(points).vertices])
        return self._on_page(spot, _CIRCLE)

    def _square(self, spot: Spot) -> Floats:
        """Return the square round a place that is seen; of a body in the box, upright on the page."""
        if isinstance(spot, Inner):
            seen = self._body(spot)
            low, high = seen.min(axis=0) - 2.5 * self.line, seen.max(axis=0) + 2.5 * self.line
            return np.array([low, (high[0], low[1]), high, (low[0], high[1])])
        shown = self._on_page(spot, _CORNERS)
        return shown if shown is not None else np.zeros((4, 2))

    def _on_page(self, mark: Mark, shape: Floats) -> Floats | None:
        face = self.faces[mark.face]
        if not self._is_seen(face, mark):
            return None
        uv = np.array([mark.u_mm, mark.v_mm]) + shape * (mark.radius_mm + _AROUND_MM)
        return self._projected(face.to_world(uv))

    def _body(self, body: Inner) -> Floats:
        """Return the corners of a body in the box, (8, 2) on the page: with the lid off it is seen all round."""
        uv = np.array([body.u_mm, body.v_mm]) + np.array(body.corners)
        wall = self.walls[body.face]
        ends = [self.faces[body.face].to_world(uv, -(wall + deep)) for deep in (body.near_mm, body.far_mm)]
        return self._projected(np.concatenate(ends))

    def _projected(self, points: Floats) -> Floats:
        """Return places of the standing pedal, (n, 3) in mm, on the page (n, 2)."""
        size = (self.sight.width_px, self.sight.height_px)
        left, top, wide, _ = self.area
        shown = projected(self.sight.camera, size, points @ self.pose[:3, :3].T + self.pose[:3, 3])
        return np.asarray(shown * (wide / size[0]) + (left, top))

    def _is_seen(self, face: Face, mark: Mark) -> bool:
        camera = self.sight.camera
        at = self.pose[:3, :3] @ face.to_world(np.array([mark.u_mm, mark.v_mm])) + self.pose[:3, 3]
        towards = np.subtract(camera.eye, camera.target if camera.ortho_mm is not None else at)
        return bool(towards @ (self.pose[:3, :3] @ face.out) > 0.05 * np.linalg.norm(towards))

    def _path(self, points: Floats, colour: Colour, *, is_dashed: bool = False) -> list[Drawn]:
        at = tuple((float(x), float(y)) for x, y in points)
        dash = (3.0 * self.line, 2.0 * self.line) if is_dashed else None
        return [
            Path(points=at, stroke=_HALO, line_mm=2.2 * self.line),
            Path(points=at, stroke=colour, line_mm=self.line, dash_mm=dash),
        ]

    def _arrow(self, start: Floats, end: Floats, colour: Colour) -> list[Drawn]:
        along = end - start
        far = float(np.linalg.norm(along))
        if far < 1e-6:
            return []
        way = along / far
        tip = start + way * max(far, self.least)  # a short move has to be seen too; the list has its length
        across = np.array([-way[1], way[0]])
        root = tip - way * self.head
        head = tuple(
            (float(x), float(y)) for x, y in (tip, root + across * self.head / 2, root - across * self.head / 2)
        )
        return [
            self._line(start, root, _HALO, 2.6),
            Path(points=head, fill=_HALO, stroke=_HALO, line_mm=1.6 * self.line),
            self._line(start, root, colour, 1.3),
            Path(points=head, fill=colour),
        ]

    def _cross(self, ring: Floats, colour: Colour, *, is_plus: bool) -> list[Drawn]:
        middle = ring.mean(axis=0)
        arm = 0.45 * (np.abs(ring - middle).max(axis=0))
        ends = ((1.0, 0.0), (0.0, 1.0)) if is_plus else ((0.8, 0.8), (0.8, -0.8))
        lines = [(middle - arm * end, middle + arm * end) for end in ends]
        return [
            *(self._line(start, end, _HALO, 2.6) for start, end in lines),
            *(self._line(start, end, colour, 1.3) for start, end in lines),
        ]

    def _line(self, start: Floats, end: Floats, colour: Colour, wide: float) -> Line:
        (x1, y1), (x2, y2) = start.tolist(), end.tolist()
        return Line(x1_mm=x1, y1_mm=y1, x2_mm=x2, y2_mm=y2, line_mm=wide * self.line, colour=colour)
