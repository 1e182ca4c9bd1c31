"""Shapes as data: flat outlines, and the solids that hardware is made of.

The part frame looks straight at the face the part sits on: x right, y up, z out of the panel
towards the eye (right-handed). Lengths in millimetres, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from mockup.model.material import Material

Point = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class Outline:
    """A closed flat outline about its own centre.

    kind        width_mm          height_mm        corner_mm
    circle      diameter          -                -
    hexagon     across flats      -                -
    rectangle   width             height           corner radius
    slot        overall length    overall width    -               (rounded ends, along x)
    d           diameter          height over the flat (flat at the top, y > 0)

    A d is centred on its circle; a height below half the diameter leaves less than a half disc
    (one half of a slotted screw head, one leaf of a split shaft).
    """

    kind: Literal["circle", "hexagon", "rectangle", "slot", "d"]
    width_mm: float
    height_mm: float = 0.0
    corner_mm: float = 0.0


@dataclass(frozen=True, kw_only=True, eq=False)
class Turned:
    """A solid of revolution about an axis parallel to z through `at`.

    `profile` lists (radius, z) counter-clockwise in the (radius, z) plane, radii >= 0, without
    crossing itself. Where its first and its last point both lie on the axis, it goes from the axis
    along the underside, up the outside and back to the axis: a solid (an underside or a top may be
    hollowed). Otherwise it closes from its last to its first point and never touches the axis: a
    ring with a bore. Corners between two segments are crisp when they turn by more than 30 degrees
    and smooth otherwise. `flutes` cuts that many grooves of `flute_depth_mm` along z into radii
    above `flute_from_mm`. `tilt_deg` leans the solid away from z towards +y about a pivot at
    (`at`, `pivot_z_mm`), as a toggle's lever leans; 90 lays it along y.
    """

    profile: tuple[Point, ...]
    material: Material
    at: Point = (0.0, 0.0)
    flutes: int = 0
    flute_depth_mm: float = 0.0
    flute_from_mm: float = 0.0
    tilt_deg: float = 0.0
    pivot_z_mm: float = 0.0

    @property
    def radius_mm(self) -> float:
        """How far it reaches from its axis."""
        return max(r for r, _ in self.profile)

    @property
    def bottom_mm(self) -> float:
        """Its lowest z, before it leans."""
        return min(z for _, z in self.profile)

    @property
    def top_mm(self) -> float:
        """Its highest z, before it leans."""
        return max(z for _, z in self.profile)


@dataclass(frozen=True, kw_only=True, eq=False)
class Extruded:
    """An outline drawn out along z from `bottom_mm` to `top_mm`, about `at`.

    `bevel_mm` breaks the outer top edge at 45 degrees; `bore_mm` is the diameter of a round hole
    along the axis through `at`, 0 for none (nuts and flanges that something is looked into
    through); `rotation_deg` turns the outline clockwise as seen from outside.
    """

    outline: Outline
    bottom_mm: float
    top_mm: float
    material: Material
    at: Point = (0.0, 0.0)
    rotation_deg: float = 0.0
    bevel_mm: float = 0.0
    bore_mm: float = 0.0


Solid = Turned | Extruded


def block(
    size_mm: Point,
    heights_mm: Point,
    material: Material,
    *,
    at: Point = (0.0, 0.0),
    corner_mm: float = 0.0,
    bevel_mm: float = 0.0,
    bore_mm: float = 0.0,
    rotation_deg: float = 0.0,
) -> Extruded:
    """Return a rectangle of `size_mm` (along x, along y) drawn out between two `heights_mm`, the lower first."""
    width, height = size_mm
    bottom, top = heights_mm
    return Extruded(
        outline=Outline(kind="rectangle", width_mm=width, height_mm=height, corner_mm=corner_mm),
        bottom_mm=bottom,
        top_mm=top,
        material=material,
        at=at,
        bevel_mm=bevel_mm,
        bore_mm=bore_mm,
        rotation_deg=rotation_deg,
    )


def rod(
    radius_mm: float, heights_mm: Point, material: Material, *, at: Point = (0.0, 0.0), bore_radius_mm: float = 0.0
) -> Turned:
    """Return an upright rod, or a ring with a bore, between two `heights_mm`, the lower first."""
    bottom, top = heights_mm
    profile = ((bore_radius_mm, bottom), (radius_mm, bottom), (radius_mm, top), (bore_radius_mm, top))
    return Turned(profile=profile, material=material, at=at)


def lowered(solids: Iterable[Solid], by_mm: float) -> tuple[Solid, ...]:
    """Return solids that much farther down."""
    return tuple(
        replace(each, bottom_mm=each.bottom_mm - by_mm, top_mm=each.top_mm - by_mm)
        if isinstance(each, Extruded)
        else replace(each, profile=tuple((r, z - by_mm) for r, z in each.profile), pivot_z_mm=each.pivot_z_mm - by_mm)
        for each in solids
    )


def turned(width_mm: float, height_mm: float, rotation_deg: float) -> tuple[float, float]:
    """Return how far a rectangle reaches across and down once it is turned."""
    angle = math.radians(rotation_deg)
    cos, sin = abs(math.cos(angle)), abs(math.sin(angle))
    return width_mm * cos + height_mm * sin, width_mm * sin + height_mm * cos
