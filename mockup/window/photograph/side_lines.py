"""Lines that are dragged onto the edges of the box in a photograph, and its white card, in pixels of the photograph."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, Self

import numpy as np

from mockup.model.enclosure import Enclosure
from mockup.model.mesh import Floats
from mockup.model.scene import Camera
from mockup.scene.projection import projected

if TYPE_CHECKING:
    from mockup.comparison.beside.landmarks import Found

Point = tuple[float, float]
End = Literal["first", "middle", "second"]
CARD = "card"
_FROM = (0.0, -0.8, 1.0)  # where most stand who photograph a pedal: our choice
_FOV_DEG, _SHARE = 30.0, 0.6  # of a telephone held upright; of the photograph that the box then takes: by eye
_INSET = 1 / 6  # of an edge, that handles lie inside of its ends, for corners are round: by eye


@dataclass(frozen=True)
class Handle:
    """What is taken hold of: an end or the middle of an edge's line, or the white card."""

    name: str
    end: End = "middle"


@dataclass(frozen=True, kw_only=True)
class SideLines:
    """Two points along each edge, by its name, the white card, and the handle that the arrow keys move."""

    lines: Mapping[str, tuple[Point, Point]]
    card: Point | None = None
    picked: Handle | None = None

    def handles(self) -> dict[Handle, Point]:
        """Return where each handle is; middles first, so that ends lie over them."""
        found = {Handle(name): _middle(*ends) for name, ends in self.lines.items()}
        for name, (first, second) in self.lines.items():
            found |= {Handle(name, "first"): first, Handle(name, "second"): second}
        if self.card is not None:
            found[Handle(CARD)] = self.card
        return found

    def handle_at(self, place: Point, reach_px: float) -> Handle | None:
        """Return the handle nearest to a place, None where none is within reach."""
        far = {handle: float(np.hypot(at[0] - place[0], at[1] - place[1])) for handle, at in self.handles().items()}
        best = min(far, key=lambda handle: far[handle], default=None)
        return best if best is not None and far[best] <= reach_px else None

    def picking(self, handle: Handle | None) -> Self:
        """Return the lines with a handle picked."""
        return replace(self, picked=handle)

    def shifted(self, handle: Handle, across: float, down: float) -> Self:
        """Return the lines with a handle moved by pixels; a line's middle takes both ends along."""
        if handle.name == CARD:
            return replace(self, card=_moved(self.card, across, down) if self.card is not None else None)
        first, second = self.lines[handle.name]
        if handle.end != "second":
            first = _moved(first, across, down)
        if handle.end != "first":
            second = _moved(second, across, down)
        return replace(self, lines={**self.lines, handle.name: (first, second)})

    def with_edge(self, name: str, ends: Floats) -> Self:
        """Return the lines with one more along two pixels (2, 2), its middle picked."""
        first, second = _inside(ends)
        return replace(self, lines={**self.lines, name: (first, second)}, picked=Handle(name))

    def without_edge(self, name: str) -> Self:
        """Return the lines without that of an edge."""
        kept = {each: ends for each, ends in self.lines.items() if each != name}
        return replace(self, lines=kept, picked=None)

    def with_card(self, at: Point) -> Self:
        """Return the lines with the white card at a pixel."""
        return replace(self, card=at, picked=Handle(CARD))

    def found(self, box: Enclosure, size_px: tuple[int, int], near: Found | None, *, is_quick: bool) -> Found:
        """Return the camera of a photograph that sees the edges along these lines; raises `InputError`.

        It is looked for from one `near` it, where `is_quick` hardly elsewhere.
        """
        from mockup.comparison.beside import landmarks  # solving is no part of what a start waits for

        told = landmarks.Seen(places={}, lines={name: np.array(ends) for name, ends in self.lines.items()})
        return landmarks.solved(box, landmarks.corners(box), told, size_px, near, is_quick=is_quick)

    def options(self) -> tuple[str, ...]:
        """Return the lines as the command `beside` takes them."""
        return tuple(
            f"{name}=" + ",".join(f"{value:.2f}" for end in ends for value in end) for name, ends in self.lines.items()
        )


def first_lines(box: Enclosure, size_px: tuple[int, int]) -> SideLines:
    """Return lines along the four edges of the top as a photograph usually shows them, to be dragged from there."""
    from mockup.comparison.beside import landmarks

    corners = np.array(list(landmarks.corners(box).values()))
    target, way = corners.mean(axis=0), np.array(_FROM) / np.linalg.norm(_FROM)
    far = 10.0 * float(np.ptp(corners, axis=0).max())
    for _ in range(3):  # nearer until it is as large as wanted
        camera = _camera(target, target + far * way)
        far *= float((np.ptp(projected(camera, size_px, corners), axis=0) / size_px).max()) / _SHARE
    ends = landmarks.edges(box)
    lines = {name: _inside(projected(camera, size_px, ends[name])) for name in landmarks.EDGES}
    return SideLines(lines=lines)


def _camera(target: Floats, eye: Floats) -> Camera:
    (x, y, z), (to_x, to_y, to_z) = eye.tolist(), target.tolist()
    return Camera(eye=(x, y, z), target=(to_x, to_y, to_z), up=(0.0, 0.0, 1.0), fov_deg=_FOV_DEG)


def _inside(ends: Floats) -> tuple[Point, Point]:
    low, high = ends[0] + _INSET * (ends[1] - ends[0]), ends[1] - _INSET * (ends[1] - ends[0])
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def _middle(first: Point, second: Point) -> Point:
    return (first[0] + second[0]) / 2, (first[1] + second[1]) / 2


def _moved(at: Point, across: float, down: float) -> Point:
    return at[0] + across, at[1] + down
