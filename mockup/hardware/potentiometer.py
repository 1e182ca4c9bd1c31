"""Potentiometers: 9, 16 and 24 mm bodies on a threaded bushing, with a shaft for a knob.

The anti-turn tab is taken to be snapped off, as most builders do, so no hole is drilled for it; who
keeps it drills 3 mm, 6 to 8 mm from the axis (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from mockup.hardware._fixings import M7, THREE_EIGHTHS, Fixing, blade, flatted, halves, hung, knob_shaft, lug, stack
from mockup.model.material import BLACK_PLASTIC, BRASS, PHENOLIC, STEEL, TURNED_ALUMINIUM
from mockup.model.part import PRACTICE, Kind
from mockup.model.shape import Solid, Turned, block, rod
from mockup.model.units import MM_PER_INCH


@dataclass(frozen=True, kw_only=True)
class _Potentiometer:
    name: str
    about: str
    fixing: Fixing
    bushing_mm: float  # top of the bushing above the panel
    shaft_mm: float  # diameter
    end: Literal["flat", "split", "round"]
    shaft_top_mm: float  # its end above the panel
    body_mm: float  # diameter, or width of a square body
    depth_mm: float
    pitch_mm: float  # of the terminals


# Bodies, bushings and shafts' ends: common practice, no source. Shaft diameters 6 mm and 1/4 in are
# those of IEC 60915 (from memory).
_POTENTIOMETERS = (
    _Potentiometer(
        name="pot-9",
        about="9 mm potentiometer, 6 mm flatted shaft, M7 bushing",
        fixing=M7,
        bushing_mm=4.0,
        shaft_mm=6.0,
        end="flat",
        shaft_top_mm=13.0,
        body_mm=9.8,
        depth_mm=6.8,
        pitch_mm=2.5,
    ),
    _Potentiometer(
        name="pot-16",
        about="16 mm potentiometer, 6 mm split shaft, M7 bushing",
        fixing=M7,
        bushing_mm=4.6,
        shaft_mm=6.0,
        end="split",
        shaft_top_mm=13.0,
        body_mm=16.5,
        depth_mm=9.0,
        pitch_mm=5.0,
    ),
    _Potentiometer(
        name="pot-24",
        about="24 mm potentiometer, 1/4 in round shaft, 3/8 in bushing",
        fixing=THREE_EIGHTHS,
        bushing_mm=6.0,
        shaft_mm=MM_PER_INCH / 4,
        end="round",
        shaft_top_mm=15.0,
        body_mm=24.0,
        depth_mm=11.5,
        pitch_mm=7.5,
    ),
)


def kinds() -> tuple[Kind, ...]:
    """Return the potentiometers."""
    return tuple(_kind(size) for size in _POTENTIOMETERS)


def _kind(size: _Potentiometer) -> Kind:
    top, mounting = size.shaft_top_mm, size.fixing.mounting(size.bushing_mm)
    body = _square_body(size) if size.end == "flat" else _round_body(size)
    return Kind(
        name=size.name,
        family="potentiometer",
        about=size.about,
        cutouts=(size.fixing.cutout,),
        above=(*stack(size.fixing, size.bushing_mm), *_shaft(size, top)),
        below=hung(body, mounting, size.fixing.thread.major_mm),
        thread=size.fixing.thread,
        shaft=knob_shaft(size.fixing, size.shaft_mm, top),
        mounting=mounting,
        sources={
            **size.fixing.sources,
            "shaft": "diameter: IEC 60915, from memory; length: " + PRACTICE,
            "body": PRACTICE,
            "terminals": PRACTICE,
        },
    )


def _shaft(size: _Potentiometer, top: float) -> tuple[Solid, ...]:
    radius, start = size.shaft_mm / 2, size.bushing_mm - 1.0
    if size.end == "round":
        profile = ((0.0, start), (radius, start), (radius, top - 0.5), (radius - 0.5, top), (0.0, top))
        return (Turned(profile=profile, material=TURNED_ALUMINIUM),)
    shoulder = top - 7.0  # length of the flat or of the split: common practice, no source
    stem = rod(radius, (start, shoulder), TURNED_ALUMINIUM)
    if size.end == "flat":
        return stem, flatted(size.shaft_mm, shoulder, top)
    return stem, *halves(size.shaft_mm, 1.0, (shoulder, top), TURNED_ALUMINIUM, bevel_mm=0.4)  # slot 1 mm: practice


def _square_body(size: _Potentiometer) -> tuple[Solid, ...]:
    side, depth = size.body_mm, size.depth_mm
    plate = block((side, side + 1.2), (-1.0, 0.0), STEEL, corner_mm=0.6)
    case = block((side - 0.4, side + 0.6), (-depth, -1.0), BLACK_PLASTIC, corner_mm=0.5)
    pins = (
        blade((x * size.pitch_mm, -side / 2 - 1.3), width_mm=0.9, thickness_mm=0.4, top_mm=-3.0, length_mm=depth + 0.5)
        for x in (-1, 0, 1)
    )
    return (plate, case, *pins)


def _round_body(size: _Potentiometer) -> tuple[Solid, ...]:
    radius, depth = size.body_mm / 2, size.depth_mm
    seat = rod(radius * 0.55, (-1.2, 0.0), BRASS)
    wafer = rod(radius, (-2.8, -1.2), PHENOLIC)
    can = Turned(
        profile=(
            (0.0, -depth),
            (radius - 1.3, -depth),
            (radius - 0.65, -depth + 0.17),
            (radius - 0.2, -depth + 0.6),
            (radius - 0.05, -depth + 1.2),
            (radius - 0.05, -2.8),
            (0.0, -2.8),
        ),
        material=STEEL,
    )
    tongue = block((2 * size.pitch_mm + 4.0, 4.0), (-2.7, -1.3), PHENOLIC, at=(0.0, -radius - 1.0), corner_mm=0.8)
    lugs = (
        each
        for x in (-1, 0, 1)
        for each in lug((x * size.pitch_mm, -radius - 6.5), width_mm=2.6, length_mm=4.0, eye_mm=1.2, middle_mm=-2.0)
    )
    return (seat, wafer, can, tongue, *lugs)
