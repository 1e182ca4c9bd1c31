"""Where a point is seen: from the camera to the picture, whether a face is turned to the eye, and a turned pedal."""

from __future__ import annotations

import math

import numpy as np

from mockup.geometry.poses import turn
from mockup.model.mesh import Floats
from mockup.model.scene import Camera


def projected(camera: Camera, size: tuple[float, float], points: Floats) -> Floats:
    """Return where points (n, 3) in mm are seen in a picture of (width, height): (n, 2), x right and y down.

    The result counts what `size` counts: pixels, or millimetres of a page. Not a number for points that are not
    before the eye.
    """
    pose = camera.basis()
    local = (points - pose[:3, 3]) @ pose[:3, :3]
    if camera.ortho_mm is not None:
        seen = local[:, :2] / camera.ortho_mm
    else:
        ahead = np.where(local[:, 2:] < -1e-9, -local[:, 2:], np.nan)
        seen = local[:, :2] / (2.0 * math.tan(math.radians(camera.fov_deg) / 2) * ahead)
    return np.asarray(np.array(size) / 2 + seen * (size[1], -size[1]))


def facing(camera: Camera, point: Floats, out: Floats) -> float:
    """Return the cosine of the angle between a surface's unit normal `out` and the way to the eye; below 0 it hides."""
    towards = np.subtract(camera.eye, camera.target if camera.ortho_mm is not None else point)
    return float(out @ towards / np.linalg.norm(towards))


def turned(points: Floats, angle_deg: float) -> Floats:
    """Return points (n, 3) turned about the world's z axis, anticlockwise seen from above."""
    return np.asarray(points @ turn(angle_deg)[:3, :3].T)
