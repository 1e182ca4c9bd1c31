"""Rectangles of the screen, pixels from the lower left corner: where the panes are, and what they show of a part."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np

from mockup.engines.gl.progressive import Rect
from mockup.model.mesh import Floats, Mesh
from mockup.model.scene import Shot
from mockup.scene.projection import projected, turned
from mockup.window.saves.pane_pictures import columns

_CORNERS = tuple(product((0, 1), repeat=3))


def shared_area(area: Rect, count: int, is_wipe: bool, *, gap: int = 0, strip: int = 0) -> list[Rect]:
    """Return rectangles for panes: side by side for two and three, two by two for four.

    A `gap` parts them, and over each of several a `strip` is kept free.
    """
    if is_wipe or not count:
        return [area, area][: 2 * is_wipe]
    across = columns(count)
    rows = -(-count // across)
    strip = strip if count > 1 else 0
    width, height = (area.width - (across - 1) * gap) // across, (area.height - (rows - 1) * gap) // rows
    return [
        Rect(
            x=area.x + (index % across) * (width + gap),
            y=area.y + (rows - 1 - index // across) * (height + gap),
            width=max(width, 16),
            height=max(height - strip, 16),
        )
        for index in range(count)
    ]


def rect_around(meshes: Sequence[Mesh], shot: Shot, pose: Floats | None, rect: Rect, room: int) -> Rect:
    """Return the rectangle of the screen that meshes are seen in, with some room."""
    size = (float(shot.width_px), float(shot.height_px))
    boxes = [np.stack(mesh.bounds()) for mesh in meshes]
    corners = np.array([[box[i, 0], box[j, 1], box[k, 2]] for box in boxes for i, j, k in _CORNERS])
    if pose is not None:
        corners = corners @ pose[:3, :3].T + pose[:3, 3]
    x, y = projected(shot.camera, size, turned(corners, shot.turn_deg)).T
    if np.isnan(x).any():
        return rect
    y = size[1] - y
    left, low_y = max(int(x.min()) - room, 0), max(int(y.min()) - room, 0)
    right, high_y = min(int(x.max()) + room, rect.width), min(int(y.max()) + room, rect.height)
    return Rect(x=rect.x + left, y=rect.y + low_y, width=max(right - left, 0), height=max(high_y - low_y, 0))


def overlap(one: Rect, two: Rect) -> Rect:
    """Return the rectangle that two share."""
    x, y = max(one.x, two.x), max(one.y, two.y)
    right, high = min(one.x + one.width, two.x + two.width), min(one.y + one.height, two.y + two.height)
    return Rect(x=x, y=y, width=max(right - x, 0), height=max(high - y, 0))
