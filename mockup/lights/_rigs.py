"""Where the lamps of a product photograph stand, one set for each way to look at a pedal.

None is mirrored by a level or upright gloss face into the camera, so that paint keeps its own colour; the one that is
meant to be, a graded panel in the three-quarter view, lies in the far edge of the top. Found by trial against the
path tracer (patches of twelve paints on a blank box); the ways are common practice in table-top photography, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final, Literal, get_args

from mockup.geometry.irradiance import soft_box
from mockup.model.material import Colour
from mockup.model.scene import DarkCard, Point3, Rig, SoftBox, Surface

_ALL: Final[frozenset[Surface]] = frozenset(get_args(Surface))
_MIRROR: Final[frozenset[Surface]] = frozenset({"mirror", "flake"})
_METAL: Final[frozenset[Surface]] = frozenset({"metal"})
_DENTED: Final[frozenset[Surface]] = frozenset({"dented"})

Role = Literal["key", "fill", "edge", "cue"]


@dataclass(frozen=True, kw_only=True)
class Kit:
    """What each lamp of a rig shines with: a colour and strength for every role, 1 as the rig has it.

    The `key` is the strongest, the `fill` opens what it leaves dark, the `edge` draws outlines, and the `cue` is the
    graded panel that a gloss top mirrors.
    """

    key: Colour = (1.0, 1.0, 1.0)
    fill: Colour = (1.0, 1.0, 1.0)
    edge: Colour = (1.0, 1.0, 1.0)
    cue: Colour = (1.0, 1.0, 1.0)


@dataclass(frozen=True)
class _Lamp:
    """One soft box: azimuth (0 away, 90 right) and elevation in degrees, distance and half sizes in mm, radiance."""

    role: Role
    azimuth: float
    elevation: float
    distance: float
    half: tuple[float, float]
    radiance: float
    fade: float = 0.0
    surfaces: frozenset[Surface] = _ALL

    def box(self, kit: Kit, turn_deg: float = 0.0) -> SoftBox:
        a, e = math.radians(self.azimuth + turn_deg), math.radians(self.elevation)
        x, y, z = math.sin(a) * math.cos(e), math.cos(a) * math.cos(e), math.sin(e)
        centre = (_AIM[0] + self.distance * x, _AIM[1] + self.distance * y, _AIM[2] + self.distance * z)
        red, green, blue = (self.radiance * part for part in getattr(kit, self.role))
        box = soft_box(centre, *self.half, (red, green, blue), aim=_AIM, fade=self.fade)
        return replace(box, surfaces=self.surfaces)


_AIM: Final[Point3] = (0.0, 0.0, 20.0)
_CARD_HALF_MM: Final = 750.0  # half the width of the dark card: our choice
_CARD_MM: Final = 1500.0  # how far it comes forward from the middle, to the camera: our choice
_CARD_GREY: Final = 0.2  # of light that dark grey card sends back: our choice
HERO_AZIMUTH: Final = 26.6  # of the wall behind a pedal that is seen from the hero's camera, straight across
_FACES: Final[dict[Rig, float]] = {"near": 180.0, "far": 0.0, "left": -90.0, "right": 90.0}  # azimuth of what is seen
_CAMERAS: Final[dict[Rig, Point3]] = {  # about those of the views: a lamp is wider than what they differ by
    "three-quarter": (-0.5, -0.9, 0.9),
    "hero": (-0.5, -1.0, 0.6),
    "underside": (0.25, -0.75, 1.2),
}
_FACE: Final = (
    _Lamp("key", -48, 28, 560, (150, 170), 5.0),
    _Lamp("fill", 48, 28, 560, (150, 170), 3.4),
    _Lamp("edge", 0, 62, 560, (200, 90), 3.0),
    # of small lamps few flakes glint, brighter than a picture holds, and pale paint goes dark between them
    _Lamp("key", 0, 28, 700, (450, 180), 1.5, surfaces=frozenset({"flake"})),
)
_RIGS: Final[dict[Rig, tuple[_Lamp, ...]]] = {
    "above": (
        _Lamp("key", -62, 40, 620, (150, 190), 6.0),
        _Lamp("fill", 118, 40, 620, (150, 190), 4.0),
        _Lamp("edge", 20, 36, 640, (190, 110), 2.0),
        _Lamp("edge", 200, 36, 640, (190, 110), 1.5),
        _Lamp("cue", 0, 89, 700, (300, 300), 1.0, surfaces=_METAL),
    ),
    "three-quarter": (
        _Lamp("key", -95, 70, 560, (200, 150), 6.0),
        _Lamp("cue", 29.5, 28.0, 900, (430, 95), 5.6, fade=1.0, surfaces=_MIRROR),
        _Lamp("cue", 29.5, 22.0, 900, (430, 95), 4.5, fade=1.0, surfaces=_DENTED),  # in the far dents alone
        _Lamp("cue", 14, 38, 700, (330, 230), 1.3, surfaces=_METAL),
        _Lamp("edge", 120, 22, 640, (90, 160), 2.2),
        _Lamp("fill", -130, 20, 700, (190, 120), 0.9),
    ),
    "hero": (
        _Lamp("key", -95, 62, 560, (200, 150), 5.0),
        _Lamp("cue", 26.6, 26, 640, (420, 90), 4.0, fade=1.0, surfaces=_MIRROR | _DENTED | _METAL),
        _Lamp("edge", 105, 14, 620, (45, 170), 5.0),
        _Lamp("fill", -130, 20, 700, (190, 120), 0.5),
    ),
    "underside": (
        _Lamp("key", -95, 40, 600, (150, 170), 6.0),
        _Lamp("fill", 95, 40, 600, (150, 170), 3.5),
        _Lamp("edge", 180, 25, 650, (150, 100), 1.2),
    ),
}


def boxes(rig: Rig, kit: Kit) -> tuple[SoftBox, ...]:
    """Return the soft boxes of a rig."""
    if rig in _FACES:
        return tuple(lamp.box(kit, _FACES[rig]) for lamp in _FACE)
    if rig == "hero":
        return (*(lamp.box(kit) for lamp in _RIGS[rig]), _on_the_wall(kit))
    return tuple(lamp.box(kit) for lamp in _RIGS[rig])


def _on_the_wall(kit: Kit) -> SoftBox:
    """Return the lamp that stands hidden behind the pedal and lights the wall of the sweep from below."""
    a = math.radians(HERO_AZIMUTH)
    centre = (240.0 * math.sin(a), 240.0 * math.cos(a), 130.0)
    wall = (520.0 * math.sin(a), 520.0 * math.cos(a), 60.0)
    red, green, blue = (3.0 * part for part in kit.edge)
    return soft_box(centre, 170.0, 30.0, (red, green, blue), aim=wall)


def dark_card(rig: Rig) -> DarkCard | None:
    """Return the card that lies before the face which a rig is set for; None where the ground there is in the picture.

    It begins under the pedal's middle, so that a box of any size has its face over it.
    """
    if rig not in _FACES:
        return None
    x, y, _ = card(rig)[1]
    deep, wide = 0.5 * _CARD_MM, _CARD_HALF_MM
    half = (deep * abs(x) + wide * abs(y), deep * abs(y) + wide * abs(x))
    return DarkCard(middle=(deep * x, deep * y), half=half, reflectance=_CARD_GREY)


def seen_from(rig: Rig) -> Point3:
    """Return the direction, of any length, from a pedal to the camera that a rig is set for."""
    if rig in _FACES:
        return card(rig)[1]
    return _CAMERAS.get(rig, (0.0, 0.0, 1.0))


def card(rig: Rig) -> tuple[Point3, Point3]:
    """Return place (mm) and normal of the white card that a rig is exposed for: where the face lies that is seen."""
    if rig not in _FACES:
        return (0.0, 0.0, 35.0), (0.0, 0.0, 1.0)
    a = math.radians(_FACES[rig])
    normal = (math.sin(a), math.cos(a), 0.0)
    return (50.0 * normal[0], 50.0 * normal[1], 20.0), normal
