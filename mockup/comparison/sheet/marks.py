"""Difference marks over a picture: where a part or label came, went, moved or changed.

Shape and number say it, colour only repeats it: a ring round what moved, with a dashed ring where it
was and an arrow between; a ring with a plus for what came; a dashed ring with a cross for what went; a
square for what changed in its place. The number is that of the line in the list of differences.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from mockup.comparison.differences.change import Change, Inner
from mockup.comparison.differences.items import Item, Spot, pointed
from mockup.geometry.poses import turned_over
from mockup.model.design import Design
from mockup.model.enclosure import Face, FaceName, faces
from mockup.model.material import Colour
from mockup.model.mesh import Floats
from mockup.model.sheet import Mark
from mockup.picture import framing
from mockup.picture.marks import CIRCLE, SQUARE, PlacedView, arrow, cross, numbers, stroked
from mockup.picture.shots import Sight
from mockup.scene.views import VIEWS

# Dark enough to read white figures on; told apart by lightness too: our taste.
COLOURS: Mapping[str, Colour] = {
    "moved": (0.10, 0.33, 0.66),
    "turned": (0.10, 0.33, 0.66),
    "added": (0.05, 0.42, 0.25),
    "removed": (0.73, 0.13, 0.10),
    "changed": (0.42, 0.22, 0.55),
}
FOUND: Colour = (0.33, 0.35, 0.39)  # of what the checks found, which no picture here points at
_AROUND_MM = 1.2  # between a part and its ring: our taste
_AROUND_LINES = 2.5  # between a body in the box and the line round it, in lines: our taste
# In shares of the picture's shorter side: our taste.
_LINE, _DISC, _LEAST_ARROW, _HEAD = 0.0055, 0.026, 0.05, 0.02


def colour_of(item: Item) -> Colour:
    """Return the colour of an item's number in the list of differences."""
    return FOUND if item.is_finding else COLOURS[item.changes[0].how]


def marks(
    items: Sequence[Item],
    design: Design,
    sight: Sight,
    area: tuple[float, float, float, float],
    pixels: NDArray[np.uint8] | None = None,
) -> Iterator[Mark]:
    """Yield marks on a page over the picture of `design` that `sight` took and that lies at `area`.

    `area` is left, top, width and height in mm; numbers keep off what the picture's `pixels` show. Old places are
    shown on this pedal, at the same distance from the left and top edges of their face. With the lid off, parts
    are pointed at where their bodies are; what a view does not show is not pointed at.
    """
    box = design.enclosure
    pose = turned_over(float(framing.extent(design)[:, 2].max())) if VIEWS[sight.view].is_flipped else np.eye(4)
    view = _Outlines(
        view=PlacedView(camera=sight.camera, area=area, pose=pose, pixels=pixels),
        faces=faces(box),
        walls={name: box.top_mm if name == "top" else box.wall_mm for name in faces(box)},
        side=min(area[2:]),
    )
    named: list[tuple[int, Colour, Floats]] = []
    for item in items:
        for change, old, new in pointed(item, is_open=is_open(sight)):
            shapes, ring = view.shapes(change, old, new)
            yield from shapes
            if ring is not None:
                named.append((item.number, COLOURS[change.how], ring))
    radius = _DISC * view.side
    spots = view.view.spots([ring for _, _, ring in named], radius)
    yield from numbers(named, spots, radius, 0.7 * _LINE * view.side)


def is_open(sight: Sight) -> bool:
    """Return whether a view looks into the box."""
    return "lid" in VIEWS[sight.view].hidden


def is_blind(items: Sequence[Item], design: Design, sight: Sight) -> bool:
    """Return whether a view shows nothing of what other views could point at."""
    is_wanted = any(pointed(item) or pointed(item, is_open=True) for item in items)
    return is_wanted and next(marks(items, design, sight, (0.0, 0.0, 1.0, 1.0)), None) is None


@dataclass(frozen=True, kw_only=True, eq=False)
class _Outlines:
    """The lines round places of one pedal in one view; `side` (mm) is the picture's shorter side."""

    view: PlacedView
    faces: Mapping[FaceName, Face]
    walls: Mapping[FaceName, float]
    side: float

    def shapes(self, change: Change, old: Spot | None, new: Spot | None) -> tuple[list[Mark], Floats | None]:
        """Return what is drawn for a change, and the ring (n, 2) that its number goes to."""
        colour, line = COLOURS[change.how], _LINE * self.side
        found: list[Mark] = []
        before = self._ring(old) if old is not None and change.how in ("moved", "removed") else None
        after = self._ring(new) if new is not None else None
        if before is not None:
            found += stroked(before, colour, line, is_dashed=True)
        if after is not None and new is not None:
            found += stroked(self._square(new) if change.how == "changed" else after, colour, line)
        if before is not None and after is not None:
            ends, (least, head) = (before.mean(axis=0), after.mean(axis=0)), (_LEAST_ARROW, _HEAD)
            found += arrow(*ends, colour, 1.3 * line, least=least * self.side, head=head * self.side)
        elif before is not None:
            found += cross(before, colour, 1.3 * line, is_plus=False)
        elif after is not None and change.how == "added":
            found += cross(after, colour, 1.3 * line, is_plus=True)
        return found, after if after is not None else before

    def _ring(self, spot: Spot) -> Floats | None:
        """Return the line round a place, (n, 2) on the page; None where its face is turned away."""
        if not isinstance(spot, Inner):
            return self.view.outline(self.faces[spot.face], spot, CIRCLE * (spot.radius_mm + _AROUND_MM))
        around = CIRCLE * _AROUND_LINES * _LINE * self.side
        points = (self._body(spot)[:, None] + around[None]).reshape(-1, 2)
        return np.asarray(points[ConvexHull(points).vertices])

    def _square(self, spot: Spot) -> Floats:
        """Return the square round a place that is seen; of a body in the box, upright on the page."""
        if not isinstance(spot, Inner):
            shown = self.view.outline(self.faces[spot.face], spot, SQUARE * (spot.radius_mm + _AROUND_MM))
            return shown if shown is not None else np.zeros((4, 2))
        seen, around = self._body(spot), _AROUND_LINES * _LINE * self.side
        low, high = seen.min(axis=0) - around, seen.max(axis=0) + around
        return np.array([low, (high[0], low[1]), high, (low[0], high[1])])

    def _body(self, body: Inner) -> Floats:
        """Return the corners of a body in the box, (8, 2) on the page: with the lid off it is seen all round."""
        uv = np.array([body.u_mm, body.v_mm]) + np.array(body.corners)
        wall = self.walls[body.face]
        ends = [self.faces[body.face].to_world(uv, -(wall + deep)) for deep in (body.near_mm, body.far_mm)]
        return self.view.at(np.concatenate(ends))
