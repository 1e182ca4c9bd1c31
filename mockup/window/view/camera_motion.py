"""The camera on its way: from where it stands to a named view, eased at both ends."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mockup.window.pointer.orbit import Orbit

MOTION_S = 0.26  # from view to view: by eye
_FLAT_FOV_DEG = 2.0  # what a picture without perspective is on its way: as good as flat, and still a camera


@dataclass(frozen=True, kw_only=True)
class CameraMotion:
    """A move of the camera that began at a time of `time.perf_counter` and takes so many seconds."""

    start: Orbit
    end: Orbit
    began: float
    seconds: float = MOTION_S

    def at(self, now: float) -> Orbit:
        """Return where the camera stands at a time: exactly at the end once it is over."""
        share = (now - self.began) / self.seconds if self.seconds > 0 else 1.0
        if share >= 1.0:
            return self.end
        return between(self.start, self.end, eased(max(share, 0.0)))

    def is_over(self, now: float) -> bool:
        """Return whether it has arrived."""
        return now - self.began >= self.seconds


def eased(share: float) -> float:
    """Return a share of a way, 0 to 1, slow at both ends: 3 s^2 - 2 s^3."""
    return share * share * (3.0 - 2.0 * share)


def between(start: Orbit, end: Orbit, share: float) -> Orbit:
    """Return an eye part of the way from one to another, the short way round; what is seen grows evenly."""
    azimuth = (end.azimuth_deg - start.azimuth_deg + 180.0) % 360.0 - 180.0
    fov = _mixed(_fov(start), _fov(end), share)
    span = math.exp(_mixed(math.log(start.mm_per_px(1.0)), math.log(end.mm_per_px(1.0)), share))
    x, y, z = (_mixed(a, b, share) for a, b in zip(start.target, end.target, strict=True))
    return replace(
        end,
        target=(x, y, z),
        azimuth_deg=start.azimuth_deg + azimuth * share,
        elevation_deg=_mixed(start.elevation_deg, end.elevation_deg, share),
        distance_mm=span / 2 / math.tan(math.radians(fov) / 2),
        fov_deg=fov,
        ortho_mm=None,
    )


def _fov(orbit: Orbit) -> float:
    return orbit.fov_deg if orbit.ortho_mm is None else _FLAT_FOV_DEG


def _mixed(one: float, two: float, share: float) -> float:
    return one + (two - one) * share
