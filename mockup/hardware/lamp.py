"""Lamps: light-emitting diodes of 3 and 5 mm, in a chromed bezel or bare in their hole."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mockup.hardware._fixings import hung
from mockup.model.material import CHROME, SOLDER, Material
from mockup.model.part import MEMORY, PRACTICE, STATED_PANEL_MM, Cutout, Fitting, Kind, Mounting
from mockup.model.shape import Outline, Point, Solid, Turned, block, rod
from mockup.model.units import MM_PER_INCH

LENS = Material(name="lens", base_color=(0.8, 0.8, 0.8), roughness=0.12, transmission=0.5)  # common practice, no source
BARREL_DEPTH_MM = 9.0  # of the bezel behind the panel: common practice, no source
DEPTH_MM = 16.0  # with the leads trimmed: common practice, no source
LEADS_MM = 7.0  # of a lamp without a bezel, trimmed: common practice, no source
NUT_MM = 2.0  # thickness of the bezel's nut: common practice, no source


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
    return (*(_kind(size) for size in _LAMPS), *(_bare(each) for each in _BARE))


def _kind(size: _Lamp) -> Kind:
    return Kind(
        name=size.name,
        family="lamp",
        about=size.about,
        cutouts=(Cutout(outline=Outline(kind="circle", width_mm=size.drill_mm), purpose="lens"),),
        above=(_bezel(size), _dome(size)),
        below=_body(size),
        lens=(1,),
        mounting=_mounting(size),
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
    ball = _ball(radius, size.rise_mm - radius / 3)
    return Turned(profile=((0.0, -1.4), (radius, -1.4), *ball), material=LENS)


def _ball(radius: float, shoulder: float) -> list[Point]:
    """Return the profile of half a ball from its equator, at a height, to its crown."""
    angles = (math.radians(90.0 * step / 12) for step in range(12))
    rising = [(radius * math.cos(angle), shoulder + radius * math.sin(angle)) for angle in angles]
    return [*rising, (0.0, shoulder + radius)]


def _body(size: _Lamp) -> tuple[Solid, ...]:
    radius = size.drill_mm / 2 - 0.3
    barrel = rod(radius, (-BARREL_DEPTH_MM, 0.0), CHROME)
    # leads 0.5 mm square, 2.54 mm apart: common practice, no source
    leads = (block((0.5, 0.5), (-DEPTH_MM, -BARREL_DEPTH_MM), SOLDER, at=(side * 1.27, 0.0)) for side in (-1, 1))
    return (barrel, *hung(leads, _mounting(size), 2 * radius))


def _mounting(size: _Lamp) -> Mounting:
    """Return the nut inside, the bezel's brow being its shoulder."""
    return Mounting(inside=(Fitting(name="nut", across_mm=size.flats_mm, thickness_mm=NUT_MM),))


@dataclass(frozen=True, kw_only=True)
class _Diode:
    name: str
    about: str
    lens_mm: float  # diameter
    drill_mm: float
    rim_mm: tuple[float, float]  # diameter and height of the rim at its foot
    long_mm: float  # foot to crown


# A lamp without a bezel is pushed through from inside until its rim meets the panel, and glued there. Rims and
# lengths: from memory; holes hardly wider than the lens, so that it is held: common practice, no source.
_BARE = (
    _Diode(
        name="lamp-3-bare",
        about="3 mm lamp without a bezel, its rim inside",
        lens_mm=3.0,
        drill_mm=1 / 8 * MM_PER_INCH,
        rim_mm=(3.8, 1.0),
        long_mm=5.3,
    ),
    _Diode(
        name="lamp-5-bare",
        about="5 mm lamp without a bezel, its rim inside",
        lens_mm=5.0,
        drill_mm=13 / 64 * MM_PER_INCH,
        rim_mm=(5.8, 1.0),
        long_mm=8.6,
    ),
)


def _bare(each: _Diode) -> Kind:
    wide, high = each.rim_mm
    radius, crown = each.lens_mm / 2, each.long_mm - high - STATED_PANEL_MM
    dome = Turned(profile=((0.0, -1.4), (radius, -1.4), *_ball(radius, crown - radius)), material=LENS)
    rim = rod(wide / 2, (-high, 0.0), LENS)
    # leads trimmed, 0.5 mm square, 2.54 mm apart: common practice, no source
    leads = (block((0.5, 0.5), (-high - LEADS_MM, -high), SOLDER, at=(side * 1.27, 0.0)) for side in (-1, 1))
    return Kind(
        name=each.name,
        family="lamp",
        about=each.about,
        cutouts=(Cutout(outline=Outline(kind="circle", width_mm=each.drill_mm), purpose="lens"),),
        above=(dome,),
        below=(rim, *leads),
        lens=(0,),
        sources={
            "drill": PRACTICE,
            "lens": f"T number = eighths of an inch (forum.allaboutcircuits.com, thread 84529); length: {MEMORY}",
            "rim": MEMORY,
            "body": MEMORY,
            "terminals": PRACTICE,
        },
    )
