"""Rigid poses (4, 4) that several drawings and scenes share, and what becomes of an axis under one."""

from __future__ import annotations

import math

import numpy as np

from mockup.model.mesh import Floats
from mockup.model.scene import Point3
from mockup.model.shape import Point

UPWARD: tuple[Point3, Point3] = ((0.0, 0.0, 0.0), (0.0, 0.0, 1.0))  # a part's own axis: a point and a direction


def turn(degrees: float, at: Point = (0.0, 0.0)) -> Floats:
    """Return a turn about the z axis, anticlockwise seen from above, that takes the origin to `at`."""
    angle = math.radians(degrees)
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s, 0.0, at[0]], [s, c, 0.0, at[1]], [0.0, 0.0, 1.0, 0.0], [0.0, 0.0, 0.0, 1.0]])


def turned_over(highest_mm: float) -> Floats:
    """Return the pose that turns a thing over about the y axis, so that what was highest lies on the ground."""
    pose = np.diag([-1.0, 1.0, -1.0, 1.0])
    pose[2, 3] = highest_mm
    return pose


def axis_under(pose: Floats, axis: tuple[Point3, Point3] = UPWARD) -> tuple[Point3, Point3]:
    """Return an axis, a point (mm) and a unit direction, under a pose."""
    point, way = axis
    x, y, z = (float(value) for value in (pose @ (*point, 1.0))[:3])
    i, j, k = (float(value) for value in pose[:3, :3] @ way)
    return (x, y, z), (i, j, k)
