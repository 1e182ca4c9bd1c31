"""Photographs of drilled faces with the frame of marks on them, simulated from known places through a known camera."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from scipy.spatial.transform import Rotation

from mockup.measure.camera import Camera
from mockup.measure.frame import BAND_MM, mark_mm, middles_mm

Floats = NDArray[np.float64]
_PER_MM, _ROUND_MM = 12, 30.0


def camera(
    face: tuple[float, float], size_px: tuple[int, int], tilt_deg: float, roll_deg: float, lens: float = 0.05
) -> Camera:
    """Return a camera over the middle of a face, as far off as brings the frame in."""
    turn = Rotation.from_euler("zxz", [40.0, tilt_deg, roll_deg - 40.0], degrees=True).as_matrix()
    focal = 1.05 * size_px[0]
    away = np.array([0.0, 0.0, focal * (max(face) + 2 * BAND_MM + 25.0) / size_px[0]])
    shift = away - turn @ np.array([face[0] / 2, face[1] / 2, 0.0])
    return Camera(size_px=size_px, focal=focal, lens=(lens, 0.02), turn=turn, shift=shift, left_px=np.zeros((1, 2)))


def photograph(
    face: tuple[float, float],
    places: Floats,
    diameters: list[float],
    seen_by: Camera,
    *,
    seed: int = 0,
    paint: float = 0.25,
    blur_px: float = 0.8,
    noise: float = 0.006,
) -> NDArray[np.uint8]:
    """Return a photograph, (h, w, 3) encoded sRGB: light that falls off, blur, noise; without walls in the holes."""
    wide, high = (int((side + 2 * _ROUND_MM) * _PER_MM) for side in face)
    light = np.full((high, wide), 0.35)

    def fill(left: float, top: float, right: float, bottom: float, value: float) -> None:
        ends = [round((each + _ROUND_MM) * _PER_MM) for each in (left, top, right, bottom)]
        light[ends[1] : ends[3], ends[0] : ends[2]] = value

    fill(-BAND_MM, -BAND_MM, face[0] + BAND_MM, face[1] + BAND_MM, 0.8)
    fill(3, 3, face[0] - 3, face[1] - 3, paint)
    half = mark_mm(face) / 2
    for x, y in middles_mm(face):
        fill(x - half, y - half, x, y, 0.04)
        fill(x, y, x + half, y + half, 0.04)
    rows, columns = np.mgrid[:high, :wide]
    u, v = (columns + 0.5) / _PER_MM - _ROUND_MM, (rows + 0.5) / _PER_MM - _ROUND_MM
    for (x, y), diameter in zip(places, diameters, strict=True):
        light += (0.01 - light) * np.clip(0.5 + (diameter / 2 - np.hypot(u - x, v - y)) * _PER_MM, 0, 1)
    width, height = seen_by.size_px
    across, down = np.meshgrid(np.arange(width) + 0.5, np.arange(height) + 0.5)
    at = (seen_by.places(np.stack([across, down], -1)) + _ROUND_MM) * _PER_MM - 0.5
    seen = ndimage.gaussian_filter(ndimage.map_coordinates(light, [at[..., 1], at[..., 0]], order=1, cval=0.3), blur_px)
    seen *= 1 - 0.5 * ((across / width - 0.5) ** 2 + (down / height - 0.5) ** 2)
    seen = np.clip(seen + np.random.default_rng(seed).normal(size=seen.shape) * noise, 0, 1)
    encoded = np.where(seen <= 0.0031308, 12.92 * seen, 1.055 * seen ** (1 / 2.4) - 0.055)
    return np.repeat(np.rint(encoded * 255).astype(np.uint8)[..., None], 3, axis=2)
