"""Where the camera of a view stands, and a frame that holds the whole pedal."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from mockup.model.mesh import Floats
from mockup.model.scene import Camera, Point3
from mockup.scene.projection import turned
from mockup.scene.views import View

STANDING_EYE_MM = 1630.0  # men, 50th percentile, no shoes: Pheasant, Bodyspace, as quoted in teaching notes
TOE_TO_PEDAL_MM = 350.0  # the player stands this far from the pedal's near side: common practice, no source


def frame(
    view: View,
    points: Floats,
    aspect: float,
    *,
    turns_deg: Sequence[float] = (0.0,),
    focus: Floats | None = None,
) -> Camera:
    """Return the camera of a view that just holds all `points` (n, 3), with the view's margin.

    `aspect` is picture width over height. `turns_deg` lists turntable angles that must all fit.
    A view through a lens is sharp at the depth of `focus` (3,), the middle of the points where there is none.
    """
    all_turns = np.concatenate([turned(points, angle) for angle in turns_deg])
    direction = np.asarray(view.direction, dtype=np.float64)
    if view.is_player:
        near = float(points[:, 1].min())
        return _player(all_turns, (0.0, near - TOE_TO_PEDAL_MM, STANDING_EYE_MM), aspect, view.margin)
    aim = Camera(eye=_point(direction / np.linalg.norm(direction)), target=(0, 0, 0), up=view.up)
    basis = aim.basis()[:3, :3]
    local = all_turns @ basis
    room = 1.0 - 2.0 * view.margin
    if view.is_true_size:
        low, high = local.min(axis=0), local.max(axis=0)
        centre = (low + high) / 2
        tall = max(high[1] - low[1], (high[0] - low[0]) / aspect) / room
        eye = np.array([centre[0], centre[1], high[2] + 400.0])
        return Camera(
            eye=_point(basis @ eye), target=_point(basis @ (eye - (0, 0, 400.0))), up=view.up, ortho_mm=float(tall)
        )
    tan_y = math.tan(math.radians(view.fov_deg) / 2) * room
    tan_x = tan_y * aspect
    (x, far_x), (y, far_y) = (_hold(local[:, i], local[:, 2], tan) for i, tan in ((0, tan_x), (1, tan_y)))
    eye = np.array([x, y, max(far_x, far_y)])
    ahead = eye - (0, 0, eye[2] - float(local[:, 2].mean()))
    sharp = local[:, 2].mean() if focus is None else focus @ basis[:, 2]
    return Camera(
        eye=_point(basis @ eye),
        target=_point(basis @ ahead),
        up=view.up,
        fov_deg=view.fov_deg,
        aperture_mm=view.aperture_mm,
        focus_mm=float(eye[2] - sharp) if view.aperture_mm else 0.0,
    )


def _hold(side: Floats, depth: Floats, tan: float) -> tuple[float, float]:
    """Return the camera's place along one axis and its depth, so that both edges just touch.

    A point is inside while |side - x| <= tan (z - depth); each edge is one linear constraint, and
    the two meet where the camera stands closest.
    """
    right, left = float((side + tan * depth).max()), float((-side + tan * depth).max())
    return (right - left) / 2, (right + left) / (2 * tan)


def _player(points: Floats, eye: Point3, aspect: float, margin: float) -> Camera:
    """Return the camera at a fixed eye; only its aim and angle of view follow the pedal."""
    target = (points.min(axis=0) + points.max(axis=0)) / 2
    camera = Camera(eye=eye, target=_point(target))
    room = 1.0 - 2.0 * margin
    for _ in range(4):  # aim at the middle of what is seen; converges at once, the pedal being small
        pose = camera.basis()
        local = (points - pose[:3, 3]) @ pose[:3, :3]
        across, upward = local[:, 0] / -local[:, 2], local[:, 1] / -local[:, 2]
        middle = np.array([(across.min() + across.max()) / 2, (upward.min() + upward.max()) / 2, -1.0])
        distance = float(np.linalg.norm(target - eye))
        camera = Camera(eye=eye, target=_point(np.asarray(eye) + pose[:3, :3] @ middle * distance))
    half = max((upward.max() - upward.min()) / 2, (across.max() - across.min()) / 2 / aspect) / room
    return Camera(eye=eye, target=camera.target, fov_deg=math.degrees(2 * math.atan(half)))


def _point(array: Floats) -> Point3:
    x, y, z = (float(value) for value in array)
    return x, y, z
