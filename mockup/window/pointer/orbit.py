"""Where the eye stands: a camera that goes round a point, exact to the pixel and never rolled.

Pixels are counted from the picture's top-left corner, x right and y down; they may be fractions.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from mockup.model.enclosure import Face
from mockup.model.mesh import Floats
from mockup.model.scene import Camera, Point3
from mockup.scene.cameras import frame
from mockup.scene.views import View

Pixel = tuple[float, float]

FOV_DEG = 20.0  # vertical angle of view, as in the named views
NEAREST_MM, FARTHEST_MM = 30.0, 6000.0  # from a screw head to across the room: our choice
SMALLEST_MM, LARGEST_MM = 2.0, 2000.0  # span of an orthographic picture: our choice
MARGIN = 0.08  # free room round what is fitted, as in the named views


@dataclass(frozen=True, kw_only=True)
class Orbit:
    """An eye that looks at `target` (mm, world) from `distance_mm` away.

    `azimuth_deg` goes anticlockwise seen from above, 0 standing at the near side; `elevation_deg` is 90
    straight above and -90 straight below. Where `ortho_mm` is set the picture is orthographic and shows
    that many millimetres from top to bottom; else `fov_deg` is its vertical angle of view.
    """

    target: Point3 = (0.0, 0.0, 0.0)
    azimuth_deg: float = 0.0
    elevation_deg: float = 45.0
    distance_mm: float = 500.0
    fov_deg: float = FOV_DEG
    ortho_mm: float | None = None

    @classmethod
    def from_view(cls, view: View, points: Floats, aspect: float) -> Orbit:
        """Return the eye of a named view that holds all `points` (n, 3); `aspect` is width over height.

        What it turns about lies in the middle of the points' depth.
        """
        camera = frame(view, points, aspect)
        back = np.subtract(camera.eye, camera.target)
        back /= np.linalg.norm(back)
        depth = float(np.mean(points @ back))
        distance = max(float(np.dot(camera.eye, back)) - depth, NEAREST_MM)
        x, y, z = (float(value) for value in back)
        level = math.hypot(x, y)
        up = np.asarray(camera.up, dtype=np.float64)
        if level > 1e-9:  # straight up and down only the picture's own up tells where the eye stands
            azimuth = math.atan2(x, -y)
        else:
            azimuth = math.atan2(-up[0], up[1]) if z > 0 else math.atan2(up[0], -up[1])
        return cls(
            target=_point(np.asarray(camera.eye) - back * distance),
            azimuth_deg=math.degrees(azimuth),
            elevation_deg=math.degrees(math.atan2(z, level)),
            distance_mm=distance,
            fov_deg=camera.fov_deg,
            ortho_mm=camera.ortho_mm,
        )

    @classmethod
    def true_size(cls, face: Face, px_per_mm: float, size_px: Pixel) -> Orbit:
        """Return the eye that looks straight at the middle of a face, one millimetre `px_per_mm` pixels long."""
        middle = face.to_world(np.array([face.width_mm / 2, face.height_mm / 2]))
        x, y, z = (float(value) for value in face.out)
        level = math.hypot(x, y)
        return cls(
            target=_point(middle),
            azimuth_deg=math.degrees(math.atan2(x, -y)) if level > 1e-9 else 0.0,
            elevation_deg=math.degrees(math.atan2(z, level)),
            ortho_mm=size_px[1] / px_per_mm,
        )

    def camera(self) -> Camera:
        """Return the camera that stands here."""
        _, up, back = self._axes()
        eye = np.asarray(self.target) + back * self.distance_mm
        return Camera(eye=_point(eye), target=self.target, up=_point(up), fov_deg=self.fov_deg, ortho_mm=self.ortho_mm)

    def mm_per_px(self, height_px: float) -> float:
        """Return how many millimetres a pixel is wide at the target's depth."""
        return self._span_mm() / height_px

    def orbited(self, across_deg: float, up_deg: float) -> Self:
        """Return the eye gone round the target: to the right, and up as far as straight above or below."""
        elevation = min(90.0, max(-90.0, self.elevation_deg + up_deg))
        azimuth = (self.azimuth_deg + across_deg + 180.0) % 360.0 - 180.0
        return replace(self, azimuth_deg=azimuth, elevation_deg=elevation)

    def panned(self, dx_px: float, dy_px: float, size_px: Pixel) -> Self:
        """Return the eye moved sideways, so that what is at the target's depth moves by (dx, dy) pixels."""
        mm = self.mm_per_px(size_px[1])
        right, up, _ = self._axes()
        return replace(self, target=_point(np.asarray(self.target) + (-dx_px * right + dy_px * up) * mm))

    def zoomed(self, factor: float, at_px: Pixel, size_px: Pixel) -> Self:
        """Return the eye `factor` times nearer; what is under the pixel at the target's depth stays there."""
        now = self._size_mm()
        low, high = (SMALLEST_MM, LARGEST_MM) if self.ortho_mm is not None else (NEAREST_MM, FARTHEST_MM)
        wanted = min(max(now / factor, min(low, now)), max(high, now))
        share = 1.0 - wanted / now
        x, y = at_px[0] - size_px[0] / 2, at_px[1] - size_px[1] / 2
        mm = self.mm_per_px(size_px[1])
        right, up, _ = self._axes()
        target = _point(np.asarray(self.target) + (x * right - y * up) * mm * share)
        if self.ortho_mm is not None:
            return replace(self, target=target, ortho_mm=wanted)
        return replace(self, target=target, distance_mm=wanted)

    def fitted(self, points: Floats, aspect: float) -> Orbit:
        """Return the eye that looks the same way and just holds all `points` (n, 3)."""
        _, up, back = self._axes()
        view = View(
            name="fitted",
            about="",
            direction=_point(back),
            up=_point(up),
            is_true_size=self.ortho_mm is not None,
            margin=MARGIN,
        )
        found = Orbit.from_view(view, points, aspect)
        return replace(found, azimuth_deg=self.azimuth_deg, elevation_deg=self.elevation_deg, fov_deg=FOV_DEG)

    def orthographic(self) -> Self:
        """Return the same view without perspective; what is at the target's depth keeps its size."""
        return self if self.ortho_mm is not None else replace(self, ortho_mm=self._span_mm())

    def perspective(self, fov_deg: float = FOV_DEG) -> Self:
        """Return the same view with perspective; what is at the target's depth keeps its size."""
        if self.ortho_mm is None:
            return self
        distance = self.ortho_mm / 2 / math.tan(math.radians(fov_deg) / 2)
        distance = min(max(distance, NEAREST_MM), FARTHEST_MM)
        return replace(self, ortho_mm=None, fov_deg=fov_deg, distance_mm=distance)

    def _size_mm(self) -> float:
        return self.ortho_mm if self.ortho_mm is not None else self.distance_mm

    def _span_mm(self) -> float:
        """Return how many millimetres the picture shows from top to bottom at the target's depth."""
        if self.ortho_mm is not None:
            return self.ortho_mm
        return 2.0 * self.distance_mm * math.tan(math.radians(self.fov_deg) / 2)

    def _axes(self) -> tuple[Floats, Floats, Floats]:
        """Return right, up and back (towards the eye), unit vectors (3,); defined even straight up and down."""
        a, e = math.radians(self.azimuth_deg), math.radians(self.elevation_deg)
        right = np.array([math.cos(a), math.sin(a), 0.0])
        up = np.array([-math.sin(a) * math.sin(e), math.cos(a) * math.sin(e), math.cos(e)])
        back = np.array([math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e)])
        return right, up, back


def _point(array: Floats) -> Point3:
    x, y, z = (float(value) for value in array)
    return x, y, z
