"""Where camera rays go when no body is in the way: on the ground, or into the room."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mockup.engines.appearance.content import FADE, Extent
from mockup.geometry.irradiance import irradiance
from mockup.model.scene import Lighting, Shot

Floats = NDArray[np.float64]
_GRID = 33  # points each way at which the open ground's light is worked out exactly; between them, bilinear


def rays(shot: Shot) -> tuple[Floats, Floats]:
    """Return origins and unit directions (h, w, 3) of the rays through the pixel centres."""
    camera = shot.camera
    pose = camera.basis()
    width, height = shot.width_px, shot.height_px
    half = camera.ortho_mm / 2.0 if camera.ortho_mm is not None else math.tan(math.radians(camera.fov_deg) / 2.0)
    x = ((np.arange(width) + 0.5) / width * 2.0 - 1.0) * half * width / height
    y = (1.0 - (np.arange(height) + 0.5) / height * 2.0) * half
    plane = x[None, :, None] * pose[:3, 0] + y[:, None, None] * pose[:3, 1]
    if camera.ortho_mm is not None:
        return pose[:3, 3] + plane, np.broadcast_to(-pose[:3, 2], plane.shape)
    ways = plane - pose[:3, 2]
    ways = ways / np.linalg.norm(ways, axis=2, keepdims=True)
    return np.broadcast_to(pose[:3, 3], ways.shape), ways


def ground_hits(shot: Shot) -> NDArray[np.bool_]:
    """Return for each pixel whether its ray would fall below the horizon, (h, w)."""
    return np.asarray(rays(shot)[1][..., 2] < 0.0)


def room_radiance(shot: Shot, lighting: Lighting) -> Floats:
    """Return the empty room's radiance behind every pixel, (h, w, 3)."""
    up = np.maximum(rays(shot)[1][..., 2:], 0.0)
    low, high = np.array(lighting.horizon), np.array(lighting.surround)
    return np.asarray(low + (high - low) * up)


def open_ground(shot: Shot, lighting: Lighting, extent: Extent, reflectance: float) -> tuple[Floats, Floats]:
    """Return mean radiance of unshadowed ground of one reflectance behind every pixel, and its presence.

    Both (h, w); presence is 1 near the pedal and fades to 0 with distance, 0 above the horizon.
    """
    start, way = rays(shot)
    falls = way[..., 2] < -1e-6
    t = np.where(falls, (extent.low - start[..., 2]) / np.where(falls, way[..., 2], -1.0), 0.0)
    hit = start[..., :2] + way[..., :2] * t[..., None]
    half = FADE[1] * extent.reach
    axis = np.linspace(-half, half, _GRID)
    up = (0.0, 0.0, 1.0)
    table = np.array([[np.mean(irradiance(lighting, (x, y, extent.low), up)) for x in axis] for y in axis])
    cell = np.clip((hit + half) / (2.0 * half) * (_GRID - 1), 0.0, _GRID - 1.001)
    low = cell.astype(int)
    fx, fy = cell[..., 0] - low[..., 0], cell[..., 1] - low[..., 1]
    i, j = low[..., 0], low[..., 1]
    light = (table[j, i] * (1 - fx) + table[j, i + 1] * fx) * (1 - fy) + (
        table[j + 1, i] * (1 - fx) + table[j + 1, i + 1] * fx
    ) * fy
    far = np.clip((np.hypot(hit[..., 0], hit[..., 1]) / extent.reach - FADE[0]) / (FADE[1] - FADE[0]), 0.0, 1.0)
    return light * reflectance / math.pi, (1.0 - far * far * (3.0 - 2.0 * far)) * falls
