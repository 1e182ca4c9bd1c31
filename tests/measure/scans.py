"""Scans of drilled faces, simulated from known places: rims lit from one side, noise, art, any turn."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

Floats = NDArray[np.float64]


def scan(
    places: Floats,
    diameters: list[float],
    *,
    turn_deg: float = 0.0,
    dpi: float = 200.0,
    paint: float = 0.4,
    art: float = 0.0,
    seed: int = 0,
    face: tuple[float, float] = (60.0, 112.0),
    hidden: tuple[int, ...] = (),
    stretch: tuple[float, float] = (1.0, 1.0),
    shade_mm: float = 0.0,
) -> NDArray[np.uint8]:
    """Return a scan, (h, w, 3) encoded sRGB, of a face in the dark; light comes from below in the picture.

    `hidden` are holes half of whose rim is as dark as they are; `stretch` is by how much the scanner draws longer.
    The edge that lies up in the picture is dark for `shade_mm`, the face being turned by half or not at all.
    """
    chance = np.random.default_rng(seed)
    per_mm = dpi / 25.4
    size = max(face) + 16.0
    rows, columns = np.mgrid[: int(size * per_mm), : int(size * per_mm)] + 0.5
    x, y = columns / per_mm / stretch[0] - size / 2, rows / per_mm / stretch[1] - size / 2
    cos, sin = np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))
    u, v = cos * x + sin * y + face[0] / 2, -sin * x + cos * y + face[1] / 2
    edge = np.minimum.reduce([u, face[0] - u, v - shade_mm * (cos > 0), face[1] - v - shade_mm * (cos < 0)])
    light = 0.02 + np.clip(0.5 + edge * per_mm, 0, 1) * (paint - 0.02)
    if art:
        coarse = ndimage.gaussian_filter(chance.normal(size=tuple(side // 8 + 1 for side in light.shape)), 2)
        light *= 1 + art * np.kron(coarse / np.abs(coarse).max(), np.ones((8, 8)))[: len(rows), : len(rows)]
    for index, ((hole_u, hole_v), wide) in enumerate(zip(places, diameters, strict=True)):
        reach = np.hypot(u - hole_u, v - hole_v)
        down = (sin * (u - hole_u) + cos * (v - hole_v)) / np.maximum(reach, 1e-9)
        lit = 0.3 * paint * np.exp(-(((reach - wide / 2 - 0.1) / 0.1) ** 2)) * (1 + down) / 2
        inside = np.clip(0.5 + (wide / 2 - reach) * per_mm, 0, 1)
        light = (light + lit) * (1 - inside) + 0.03 * inside
        if index in hidden:
            light = np.where((u > hole_u) & (reach < wide / 2 + 3.0), 0.03, light)
    light = ndimage.gaussian_filter(light, 0.7) + chance.normal(size=light.shape) * 0.01
    light = np.clip(light, 0, 1)
    encoded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.repeat(np.rint(encoded * 255).astype(np.uint8)[..., None], 3, axis=2)
