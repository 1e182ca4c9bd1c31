"""Soft boxes, and the light that they and the room give a surface: closed forms."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from mockup.model.material import Colour
from mockup.model.scene import DarkCard, Lighting, Point3, SoftBox

_AIM: Final[Point3] = (0.0, 0.0, 20.0)  # mm; the middle of the usual pedal: common practice
_STRIPS: Final = 8  # that a fading box is cut into: the step between them is not seen, our choice
_CLIP: Final = 1e-9  # below this a polygon corner counts as behind the surface: numerical guard


def irradiance(lighting: Lighting, point: Point3, normal: Point3) -> Colour:
    """Return the unshadowed irradiance at a point without exposure, linear sRGB.

    `point` in mm, `normal` of unit length. Soft boxes by Lambert's sum over the corners of the
    polygon above the surface; they hide nothing of the room, which adds its closed form
    (`sky_irradiance`).
    """
    at, up = np.array(point, np.float64), np.array(normal, np.float64)
    total = np.array(sky_irradiance(lighting, float(up[2])))
    for box in lighting.boxes:
        for strip in strips(box):
            total += np.array(strip.radiance) * math.pi * form_factor(strip, at, up)
    return tuple(float(v) for v in total)  # type: ignore[return-value]


def from_ground(lighting: Lighting, point: Point3, normal: Point3) -> Colour:
    """Return the irradiance that the ground sends to a surface over it, without exposure, linear sRGB.

    It is as bright all over as twice as far from the middle as the point (mm) is, but for what a dark card covers.
    """
    if lighting.ground is None:
        return 0.0, 0.0, 0.0
    below = _on_ground(lighting, point)
    seen, laid, dark = 0.5 * (1.0 - normal[2]), lighting.dark_card, 0.0  # an upright one has half of its view full
    if laid is not None:
        covered = form_factor(sheet(laid, 0.0), np.array(point), np.array(normal))
        seen, dark = seen - covered, covered * laid.reflectance
    red, green, blue = ((seen * own + dark) * here for own, here in zip(lighting.ground, below, strict=True))
    return red, green, blue


def _on_ground(lighting: Lighting, point: Point3 | np.ndarray) -> Colour:
    """Return the irradiance on the ground twice as far from the middle as a point is."""
    return irradiance(lighting, (2.0 * point[0], 2.0 * point[1], 0.0), (0.0, 0.0, 1.0))


def radiance(lighting: Lighting, point: Point3 | np.ndarray, ways: np.ndarray) -> np.ndarray:
    """Return what is seen from a point (mm) along unit directions (n, 3), unshadowed: linear sRGB, (n, 3).

    The ground is as bright all over as twice as far from the middle as the point is.
    """
    low, high = np.array(lighting.horizon), np.array(lighting.surround)
    out = low + (high - low) * np.maximum(ways[:, 2:], 0.0)
    if lighting.ground is not None:
        ground = np.array(_on_ground(lighting, point)) / math.pi
        out = np.where(ways[:, 2:] < 0.0, ground * lighting.ground, out)
    for box in lighting.boxes:
        centre, right, up = (np.array(v, np.float64) for v in (box.centre, box.right, box.up))
        facing = np.cross(up, right)
        towards = ways @ facing
        away = np.where(towards < 0.0, (centre - point) @ facing / np.minimum(towards, -1e-9), -1.0)
        hit = point + ways * away[:, None] - centre
        across, high_up = hit @ right / (right @ right), hit @ up / (up @ up)
        on = (away > 0.0) & (np.abs(across) < 1.0) & (np.abs(high_up) < 1.0)
        share = on * (1.0 - 0.5 * box.fade * (1.0 + high_up))
        out = out + share[:, None] * np.array(box.radiance)
    return np.asarray(out)


def sky_irradiance(lighting: Lighting, up: float) -> Colour:
    """Return the room's irradiance on a surface whose normal has the height `up` (-1 to 1).

    The room's radiance is horizon + (surround - horizon) max(z, 0) over all directions; with a
    ground, only its upper half counts, and the light that the ground sends back is left out.
    """
    slant = math.sqrt(max(0.0, 1.0 - up * up))
    # integral of max(n.w, 0) max(w.z, 0) over the sphere: see the docstring of _both_cosines
    rising = _both_cosines(up, slant)
    flat = math.pi * (1.0 + up) / 2.0 if lighting.ground is not None else math.pi
    return tuple(  # type: ignore[return-value]
        low * flat + (high - low) * rising for low, high in zip(lighting.horizon, lighting.surround, strict=True)
    )


def _both_cosines(up: float, slant: float) -> float:
    """Integrate max(n.w, 0) max(z.w, 0) over all directions, n at angle a to z.

    2/3 ((pi - a) cos a + sin a): by hand; 2 pi / 3 for a = 0, 2/3 for a = 90 degrees, 0 for 180.
    """
    return 2.0 / 3.0 * ((math.pi - math.acos(max(-1.0, min(1.0, up)))) * up + slant)


def form_factor(box: SoftBox, at: np.ndarray, normal: np.ndarray) -> float:
    """Return the form factor from a surface element to a soft box, 0 to 1.

    Lambert (1760): 1 / (2 pi) times the sum of edge angle times the edge plane's normal.normal,
    over the part of the rectangle that lies above the surface. 0 from behind the box.
    """
    centre, right, up = (np.array(v, np.float64) for v in (box.centre, box.right, box.up))
    if np.dot(np.cross(up, right), at - centre) <= 0.0:
        return 0.0
    corners = [centre + a * right + b * up - at for a, b in ((-1, -1), (-1, 1), (1, 1), (1, -1))]
    kept: list[np.ndarray] = []
    for here, after in zip(corners, corners[1:] + corners[:1], strict=True):
        low, high = float(here @ normal), float(after @ normal)
        if low > _CLIP:
            kept.append(here)
        if (low > _CLIP) != (high > _CLIP):
            kept.append(here + (after - here) * (low - _CLIP) / (low - high))
    total = 0.0
    for here, after in zip(kept, kept[1:] + kept[:1], strict=True):
        across = np.cross(here, after)
        size = float(np.linalg.norm(across))
        if size > 0.0:
            total += math.atan2(size, float(here @ after)) * float(across @ normal) / size
    return abs(total) / (2.0 * math.pi)


def sheet(card: DarkCard, z: float) -> SoftBox:
    """Return a card that lies at a height (mm) as a rectangle that faces up and does not shine."""
    (x, y), (across, along) = card.middle, card.half
    return SoftBox(centre=(x, y, z), right=(-across, 0.0, 0.0), up=(0.0, along, 0.0), radiance=(0.0, 0.0, 0.0))


def strips(box: SoftBox) -> tuple[SoftBox, ...]:
    """Return a soft box as even ones: itself, or level strips of one that fades."""
    if box.fade == 0.0:
        return (box,)
    centre, up = np.array(box.centre), np.array(box.up)
    found = []
    for index in range(_STRIPS):
        high = (2 * index + 1) / _STRIPS - 1.0  # its middle, -1 to 1
        share = 1.0 - box.fade * 0.5 * (1.0 + high)
        red, green, blue = (share * part for part in box.radiance)
        at, half = _point(centre + high * up), _point(up / _STRIPS)
        found.append(SoftBox(centre=at, right=box.right, up=half, radiance=(red, green, blue)))
    return tuple(found)


def soft_box(
    centre: Point3,
    half_width: float,
    half_height: float,
    radiance: Colour,
    aim: Point3 = _AIM,
    fade: float = 0.0,
) -> SoftBox:
    """Return a soft box at `centre` that faces `aim`, its width level; all lengths in mm."""
    forward = np.subtract(aim, centre).astype(np.float64)
    forward /= np.linalg.norm(forward)
    side = np.cross(forward, (0.0, 0.0, 1.0))
    if np.linalg.norm(side) < 1e-6:
        side = np.array((1.0, 0.0, 0.0))
    side /= np.linalg.norm(side)
    above = np.cross(side, forward)
    right, up = side * half_width, above * half_height
    return SoftBox(centre=centre, right=_point(right), up=_point(up), radiance=radiance, fade=fade)


def _point(v: np.ndarray) -> Point3:
    return float(v[0]), float(v[1]), float(v[2])
