"""Lamps: light-emitting diodes of 3 and 5 mm in a chromed bezel."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mockup.hardware._fixings import nut
from mockup.model.material import CHROME, NICKEL, SOLDER, Material
from mockup.model.part import PRACTICE, Cutout, Kind
from mockup.model.shape import Outline, Point, Solid, Turned, block, rod

LENS = Material(name="lens", base_color=(0.8, 0.8, 0.8), roughness=0.12, transmission=0.5)  # common practice, no source
BARREL_DEPTH_MM = 9.0  # of the bezel behind the panel: common practice, no source
DEPTH_MM = 16.0  # with the leads trimmed: common practice, no source


@dataclass(frozen=True, kw_only=True)
class _Lamp:
    name: str
    about: str
    lens_mm: float  # diameter of the dome
    drill_mm: float
    flange_mm: float  # diameter of the bezel
    rise_mm: float  # height of the bezel
    flats_mm: float  # of the nut inside


# T number = diameter in eighths of an inch (forum.allaboutcircuits.com, thread 84529): T-1 is 3.175 mm,
# made as 3.0; T-1 3/4 is 5.556 mm, made as 5.0. Holes, bezels and nuts: common practice, no source.
_LAMPS = (
    _Lamp(
        name="lamp-3",
        about="3 mm lamp in a 6 mm bezel",
        lens_mm=3.0,
        drill_mm=6.0,
        flange_mm=7.8,
        rise_mm=1.8,
        flats_mm=8.0,
    ),
    _Lamp(
        name="lamp-5",
        about="5 mm lamp in an 8 mm bezel",
        lens_mm=5.0,
        drill_mm=8.0,
        flange_mm=10.4,
        rise_mm=2.4,
        flats_mm=10.0,
    ),
)


def kinds() -> tuple[Kind, ...]:
    """Return the lamps."""
    return tuple(_kind(size) for size in _LAMPS)


def _kind(size: _Lamp) -> Kind:
    return Kind(
        name=size.name,
        family="lamp",
        about=size.about,
        cutouts=(Cutout(outline=Outline(kind="circle", width_mm=size.drill_mm), purpose="lens"),),
        above=(_bezel(size), _dome(size)),
        below=_body(size),
        lens=(1,),
        sources={
            "drill": PRACTICE,
            "lens": f"T number = eighths of an inch (forum.allaboutcircuits.com, thread 84529); made size: {PRACTICE}",
            "bezel": PRACTICE,
            "nut": PRACTICE,
            "body": PRACTICE,
            "terminals": PRACTICE,
        },
    )


def _bezel(size: _Lamp) -> Turned:
    """Return a ring with a rounded brow and a cone inside that throws the light forward."""
    outer, brow = size.flange_mm / 2, size.rise_mm * 0.7
    lens = size.lens_mm / 2
    lip = lens + (outer - lens) * 0.45
    rounded: list[Point] = []
    for step in range(9):
        angle = math.radians(90.0 * step / 8)
        rounded.append((outer - brow + brow * math.cos(angle), size.rise_mm - brow + brow * math.sin(angle)))
    crest = max(lip, lens + 0.5)
    profile = (
        (lens + 0.05, -1.5),
        (size.drill_mm / 2 - 0.1, -1.5),
        (size.drill_mm / 2 - 0.1, 0.0),
        (outer, 0.0),
        *(point for point in rounded if point[0] > crest + 0.05),
        (crest, size.rise_mm),
        (lens + 0.05, 0.3),
    )
    return Turned(profile=profile, material=CHROME)


def _dome(size: _Lamp) -> Turned:
    """Return the lens: a straight stem and half a ball, proud of the bezel by two thirds of its radius."""
    radius = size.lens_mm / 2
    shoulder = size.rise_mm - radius / 3
    ball = [
        (radius * math.cos(angle), shoulder + radius * math.sin(angle))
        for angle in (math.radians(90.0 * step / 12) for step in range(12))
    ]
    return Turned(profile=((0.0, -1.4), (radius, -1.4), *ball, (0.0, shoulder + radius)), material=LENS)


def _body(size: _Lamp) -> tuple[Solid, ...]:
    radius = size.drill_mm / 2 - 0.3
    barrel = rod(radius, (-BARREL_DEPTH_MM, 0.0), CHROME)
    # leads 0.5 mm square, 2.54 mm apart: common practice, no source
    leads = (block((0.5, 0.5), (-DEPTH_MM, -BARREL_DEPTH_MM), SOLDER, at=(side * 1.27, 0.0)) for side in (-1, 1))
    return (barrel, nut(size.flats_mm, 2 * radius, -2.0, 2.0, NICKEL), *leads)
