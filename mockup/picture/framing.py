"""One camera for many pedals: the same scale and crop for all, so that a smaller box looks smaller."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from scipy.spatial import ConvexHull

from mockup.memo import memoize
from mockup.model.design import Design
from mockup.model.mesh import Floats
from mockup.model.scene import Group
from mockup.picture.options import PictureRequest
from mockup.picture.shots import Sight
from mockup.scene.assemble import assemble
from mockup.scene.cameras import frame
from mockup.scene.projection import projected, turned
from mockup.scene.views import VIEWS, View

NARROWEST, WIDEST = 0.5, 2.4  # width over height of a crop: what still stands well beside others, our taste
TURN_STEP_DEG = 15.0  # how finely a turn is tried for room: as the turntable of one pedal does
_EVEN = 2  # sides are even, so that a video takes them


def extent(design: Design, *, is_flipped: bool = False, hidden: frozenset[Group] = frozenset()) -> Floats:
    """Return the corners (n, 3) of the convex hull of what shows of a pedal: all that a camera's frame depends on.

    No art is touched for it.
    """
    bare = Design(name="", source="", enclosure=design.enclosure, finish=design.finish, parts=design.parts)
    return _hull(bare, is_flipped, hidden)


@memoize
def _hull(bare: Design, is_flipped: bool, hidden: frozenset[Group]) -> Floats:
    scene = assemble(bare, PictureRequest().lighting, is_flipped=is_flipped)
    points = np.concatenate([body.mesh.vertices for body in scene.bodies if body.group not in hidden])
    return np.asarray(points[ConvexHull(points).vertices])


def extents(designs: Iterable[Design], views: Sequence[str]) -> dict[str, Floats]:
    """Return for each view the points (n, 3) that a camera must hold to show every one of `designs` in it."""
    found: dict[str, list[Floats]] = {name: [] for name in views}
    known: dict[tuple[bool, frozenset[Group]], list[str]] = {}
    for name in views:
        view = VIEWS[name]
        known.setdefault((view.is_flipped, view.hidden), []).append(name)
    for design in designs:
        for (is_flipped, hidden), names in known.items():
            points = extent(design, is_flipped=is_flipped, hidden=hidden)
            for name in names:
                found[name].append(points)
    return {name: np.concatenate(points) for name, points in found.items()}


def aspect(view: View, points: Floats, turns_deg: Sequence[float] = (0.0,)) -> float:
    """Return the width over height of the crop that fits `points` in a view, within what stands well."""
    square = (1000, 1000)  # of no matter how many pixels
    camera = frame(view, points, 1.0, turns_deg=turns_deg)
    seen = np.concatenate([projected(camera, square, turned(points, angle)) for angle in turns_deg])
    wide, tall = (seen.max(axis=0) - seen.min(axis=0)).tolist()
    return float(np.clip(wide / tall, NARROWEST, WIDEST))


def size_of(ratio: float, longest_px: int) -> tuple[int, int]:
    """Return the (width, height) in even pixels of a crop whose longer side is `longest_px`."""
    wide, tall = (longest_px, longest_px / ratio) if ratio >= 1 else (longest_px * ratio, longest_px)
    return max(_EVEN, round(wide / _EVEN) * _EVEN), max(_EVEN, round(tall / _EVEN) * _EVEN)


def size_at(ratio: float, wide_px: int) -> tuple[int, int]:
    """Return the (width, height) in even pixels of a crop that is `wide_px` wide, which is even."""
    return wide_px, max(_EVEN, round(wide_px / ratio / _EVEN) * _EVEN)


def sight(name: str, points: Floats, size: tuple[int, int], turns_deg: Sequence[float] = (0.0,)) -> Sight:
    """Return the picture to take of every pedal in a view: one camera that holds all their `points`."""
    camera = frame(VIEWS[name], points, size[0] / size[1], turns_deg=turns_deg)
    return Sight(view=name, camera=camera, width_px=size[0], height_px=size[1])


def whole_turn() -> tuple[float, ...]:
    """Return the angles that stand for one whole turn."""
    return tuple(TURN_STEP_DEG * index for index in range(round(360.0 / TURN_STEP_DEG)))
