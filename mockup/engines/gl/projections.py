"""Projections as (4, 4) matrices: cameras, lamps' views, shadows thrown flat on the ground."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mockup.engines.appearance.samples import disc
from mockup.geometry.poses import turn
from mockup.model.scene import Camera, Point3, Shot

Floats = NDArray[np.float64]

UNIT = np.array([[0.5, 0, 0, 0.5], [0, 0.5, 0, 0.5], [0, 0, 0.5, 0.5], [0, 0, 0, 1]])
"""From clip space (-1 to 1) to texture space (0 to 1)."""


def camera(view: Camera, width: int, height: int, centre: Point3, reach: float) -> Floats:
    """Return world to clip for a camera; near and far hold a sphere about `centre` (mm)."""
    pose = view.basis()
    depth = float(np.dot(pose[:3, 2], pose[:3, 3] - np.array(centre)))
    aspect = width / height
    if view.ortho_mm is not None:
        projection = orthographic(view.ortho_mm / 2 * aspect, view.ortho_mm / 2, depth - reach, depth + reach)
    else:
        near = max(depth - reach, 0.05 * abs(depth), 0.5)
        projection = perspective(math.tan(math.radians(view.fov_deg) / 2), aspect, near, max(depth + reach, 2 * near))
    return projection @ np.linalg.inv(pose)


def eye(shot: Shot) -> tuple[tuple[float, float, float, float], float]:
    """Return the eye as shaders read it, position and 1 or the way back to it and 0, and a pixel's size (mm)."""
    pose = shot.camera.basis()
    flat = shot.camera.ortho_mm
    x, y, z = (float(v) for v in (pose[:3, 3] if flat is None else pose[:3, 2]))
    span = flat or 2.0 * math.tan(math.radians(shot.camera.fov_deg) / 2) * float(np.linalg.norm(pose[:3, 3]))
    return (x, y, z, 1.0 if flat is None else 0.0), span / shot.height_px


def through_lens(view: Camera, index: int, count: int, height: int) -> tuple[Camera, Floats]:
    """Return a camera at one of `count` even places of its lens, and the shift (px) that keeps its focus in place."""
    pose = view.basis()[:3, :3]
    x, y = view.aperture_mm * (disc(count)[index] if count > 1 else np.zeros(2))
    aside = x * pose[:, 0] + y * pose[:, 1]
    eye, target = (_point(np.add(place, aside)) for place in (view.eye, view.target))
    px_per_mm = height / (2.0 * math.tan(math.radians(view.fov_deg) / 2) * view.focus_mm)
    return replace(view, eye=eye, target=target), np.array([x, y]) * px_per_mm


def _point(array: Floats) -> Point3:
    x, y, z = (float(value) for value in array)
    return x, y, z


def jittered(matrix: Floats, offset_px: Floats, width: int, height: int) -> Floats:
    """Return a camera matrix moved by a fraction of a pixel."""
    shift = np.eye(4)
    shift[:2, 3] = 2.0 * offset_px / (width, height)
    return np.asarray(shift @ matrix)


def lamp(point: Point3 | Floats, centre: Floats, radius: float) -> Floats:
    """Return world to clip as seen from a lamp point, framed on a sphere."""
    eye = np.asarray(point, np.float64)
    distance = max(float(np.linalg.norm(eye - centre)), 1.05 * radius)
    half = radius / math.sqrt(distance**2 - radius**2)
    near = max(distance - radius, 0.02 * distance)
    return perspective(half, 1.0, near, distance + radius) @ _looking(eye, centre)


def sky(way: Floats, centre: Floats, radius: float) -> Floats:
    """Return world to clip as seen from a direction infinitely far away."""
    view = _looking(centre + way * 2 * radius, centre)
    return orthographic(radius, radius, radius, 3 * radius) @ view


def flattened(light: Floats, ground_z: float, half: float) -> Floats:
    """Return world to clip of a shadow on the ground: `light` is a point (x, y, z, 1) or a way (x, y, z, 0).

    The classic planar shadow matrix, (plane.light) I - light plane^T, then the ground square
    of +-`half` mm as the whole target, all at one depth.
    """
    plane = np.array([0.0, 0.0, 1.0, -ground_z])
    shadow = (plane @ light) * np.eye(4) - np.outer(light, plane)
    frame = np.diag([1.0 / half, 1.0 / half, 0.0, 1.0])
    return np.asarray(frame @ shadow)


def mirror(plane: Floats) -> Floats:
    """Return the (4, 4) reflection in a plane (4,): unit normal, and offset so that heights over it are products."""
    return np.asarray(np.eye(4) - 2.0 * np.outer((*plane[:3], 0.0), plane))


def mirrored(matrix: Floats, plane: Floats, centre: Floats, radius: float) -> Floats:
    """Return world to clip of what a plane mirrors, in place; what lies behind the plane is cut off.

    The plane becomes the near one (Lengyel 2005, "Oblique View Frustum Depth Projection and Clipping"), the far one
    holds a sphere about `centre` (mm).
    """
    out = np.asarray(matrix @ mirror(plane))
    middle = np.append(centre, 1.0)
    depth = float(out[3] @ middle)
    nearest = max(depth - radius * float(np.linalg.norm(out[3, :3])), 0.05 * abs(depth))
    out[2] = 2.0 * nearest / max(float(plane @ middle) + radius, 1e-3) * plane - out[3]
    return out


def above(degrees: float, half: float, low: float, high: float) -> Floats:
    """Return world to clip straight from above in the body's own frame, whatever its turn."""
    view = np.eye(4)
    view[2, 3] = -(high + 10.0)
    return orthographic(half, half, 5.0, high - low + 20.0) @ view @ turn(-degrees)


def perspective(tangent: float, aspect: float, near: float, far: float) -> Floats:
    """Return a perspective projection; `tangent` of half the vertical angle."""
    return np.array(
        [
            [1 / (tangent * aspect), 0, 0, 0],
            [0, 1 / tangent, 0, 0],
            [0, 0, (far + near) / (near - far), 2 * far * near / (near - far)],
            [0, 0, -1, 0],
        ]
    )


def orthographic(half_width: float, half_height: float, near: float, far: float) -> Floats:
    """Return an orthographic projection."""
    return np.array(
        [
            [1 / half_width, 0, 0, 0],
            [0, 1 / half_height, 0, 0],
            [0, 0, -2 / (far - near), -(far + near) / (far - near)],
            [0, 0, 0, 1],
        ]
    )


def _looking(eye: Floats, target: Floats) -> Floats:
    back = eye - target
    side = (0.0, 1.0, 0.0) if abs(back[2]) > 0.9 * float(np.linalg.norm(back)) else (0.0, 0.0, 1.0)
    pose = Camera(eye=tuple(eye), target=tuple(target), up=side).basis()
    return np.asarray(np.linalg.inv(pose), np.float64)
