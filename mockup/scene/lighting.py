"""Light and ground presets, as data.

Each preset is a studio around the origin for things of about 150 mm: soft boxes, the room's
own light, the ground. Exposure is set so that a level mid-tone paint on the box comes out near
its own colour. Positions and strengths: common practice in table-top photography, no source.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

import numpy as np

from mockup.model.material import Colour
from mockup.model.scene import Lighting, Point3, SoftBox

_LUMA: Final = (0.2126, 0.7152, 0.0722)  # luminance of linear sRGB: IEC 61966-2-1:1999, matrix row Y
_TOP: Final[Point3] = (0.0, 0.0, 35.0)  # mm; the usual height of a panel over the ground: common practice
_AIM: Final[Point3] = (0.0, 0.0, 20.0)  # mm; the middle of the usual pedal: common practice
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
        total += np.array(box.radiance) * math.pi * form_factor(box, at, up)
    return tuple(float(v) for v in total)  # type: ignore[return-value]


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


def soft_box(centre: Point3, half_width: float, half_height: float, radiance: Colour, aim: Point3 = _AIM) -> SoftBox:
    """Return a soft box at `centre` that faces `aim`, its width level; all lengths in mm."""
    forward = np.subtract(aim, centre).astype(np.float64)
    forward /= np.linalg.norm(forward)
    side = np.cross(forward, (0.0, 0.0, 1.0))
    if np.linalg.norm(side) < 1e-6:
        side = np.array((1.0, 0.0, 0.0))
    side /= np.linalg.norm(side)
    above = np.cross(side, forward)
    right, up = side * half_width, above * half_height
    return SoftBox(centre=centre, right=_point(right), up=_point(up), radiance=radiance)


def exposed(lighting: Lighting, key: float = 1.0) -> Lighting:
    """Return a preset with its exposure set: white paint, level on the box, gives luminance `key`."""
    light = irradiance(lighting, _TOP, (0.0, 0.0, 1.0))
    luminance = sum(part * weight for part, weight in zip(light, _LUMA, strict=True))
    return replace(lighting, exposure=key * math.pi / luminance)


def _point(v: np.ndarray) -> Point3:
    return float(v[0]), float(v[1]), float(v[2])


def _grey(value: float) -> Colour:
    return value, value, value


_BENCH = Lighting(
    name="bench",
    about="soft light from the upper left over a seamless warm grey table",
    boxes=(
        soft_box((-330.0, 170.0, 430.0), 210.0, 150.0, (5.0, 4.85, 4.6)),
        soft_box((430.0, -260.0, 280.0), 200.0, 170.0, (1.05, 1.12, 1.25)),
        soft_box((190.0, 460.0, 250.0), 230.0, 60.0, (3.6, 3.6, 3.7)),
    ),
    surround=(0.42, 0.43, 0.45),
    horizon=(0.20, 0.195, 0.19),
    ground=(0.46, 0.43, 0.40),
    backdrop=(0.33, 0.315, 0.30),
)
_WINDOW = Lighting(
    name="window",
    about="one tall window on the left, a wooden-warm table, the room behind in shade",
    boxes=(
        soft_box((-420.0, 60.0, 300.0), 190.0, 260.0, (5.0, 5.1, 5.4)),
        soft_box((500.0, -120.0, 320.0), 260.0, 220.0, (0.45, 0.42, 0.38)),
    ),
    surround=(0.30, 0.30, 0.31),
    horizon=(0.17, 0.165, 0.16),
    ground=(0.40, 0.33, 0.27),
    backdrop=(0.20, 0.175, 0.155),
)
_STAGE = Lighting(
    name="stage",
    about="dark polished ground, a strong key and a bright edge from behind",
    boxes=(
        soft_box((-260.0, 120.0, 460.0), 150.0, 110.0, (8.2, 7.8, 7.2)),
        soft_box((-420.0, -60.0, 160.0), 60.0, 220.0, (3.4, 3.5, 3.9)),
        soft_box((240.0, 430.0, 240.0), 260.0, 50.0, (6.5, 6.7, 7.2)),
    ),
    surround=(0.16, 0.165, 0.18),
    horizon=(0.07, 0.07, 0.075),
    ground=(0.035, 0.035, 0.038),
    backdrop=(0.012, 0.012, 0.014),
    ground_roughness=0.35,
)
_WHITE = Lighting(
    name="white",
    about="plain white all round, for a catalogue or a web page",
    boxes=(
        soft_box((-300.0, 150.0, 460.0), 240.0, 190.0, (3.1, 3.1, 3.1)),
        soft_box((400.0, -200.0, 330.0), 220.0, 200.0, (1.2, 1.2, 1.2)),
        soft_box((120.0, 460.0, 300.0), 260.0, 80.0, (2.4, 2.4, 2.4)),
    ),
    surround=_grey(0.75),
    horizon=_grey(0.60),
    ground=_grey(0.93),
    backdrop=_grey(0.955),
)
_CUTOUT = replace(
    _WHITE,
    name="cutout",
    about="transparent background with the soft shadow kept, to lay over any page",
    surround=_grey(0.60),
    horizon=_grey(0.45),
    ground=None,
    backdrop=_grey(0.0),
)

PRESETS: Final[dict[str, Lighting]] = {each.name: exposed(each) for each in (_BENCH, _WINDOW, _STAGE, _WHITE, _CUTOUT)}
"""Every preset by name; "bench" is the default."""
