"""DIN sockets: five contacts on a 180 degree arc in a metal shell, flange and two screws."""

from __future__ import annotations

import math

from mockup.hardware._fixings import blade, slotted_screw
from mockup.model.material import BLACK_PLASTIC, BRASS, NICKEL, STEEL, THROAT
from mockup.model.part import MEMORY, PRACTICE, Cutout, Fitting, Kind, Mounting
from mockup.model.shape import Extruded, Outline, Point, Solid, Turned, block, rod

CIRCLE_MM = 7.0  # circle of the contacts: IEC 60130-9, as cryptomuseum.com/ref/conn/din quotes it
STEP_DEG = 45.0  # between contacts: as CIRCLE_MM
PIN_MM = 1.45  # diameter of the plug's pins: as CIRCLE_MM
PLUG_MM = 13.2  # outer diameter of the plug's shell: as CIRCLE_MM
HOLE_MM = 15.5  # panel hole: common practice, no source
SCREWS_MM = 22.2  # apart: common practice, no source
SCREW_HOLE_MM = 3.2  # ISO 273 fine series, M3
HEAD_MM = (5.6, 1.8, 0.8)  # diameter, height, slot: ISO 1580 M3, from memory
FLANGE_MM = (30.0, 18.6, 1.0)  # length, width, thickness: common practice, no source
SHELL_TOP_MM = 2.6  # above the panel: common practice, no source
FACE_MM = 1.15  # height of the insulator's face above the panel: common practice, no source
DEPTH_MM = 12.0  # without terminals: common practice, no source
NUT_MM = (5.5, 2.4)  # across flats, thickness: ISO 4032 M3, s and m
TERMINAL_MM = (1.6, 5.0)  # width, length: common practice, no source


def contacts() -> tuple[Point, ...]:
    """Return the five contacts' places, from 9 o'clock over 12 to 3, seen from outside."""
    radius = CIRCLE_MM / 2
    angles = (math.radians(180.0 - STEP_DEG * step) for step in range(5))
    return tuple((radius * math.cos(angle), radius * math.sin(angle)) for angle in angles)


def kinds() -> tuple[Kind, ...]:
    """Return the five-pin socket, its key at 6 o'clock."""
    screws = ((-SCREWS_MM / 2, 0.0), (SCREWS_MM / 2, 0.0))
    hole = Outline(kind="circle", width_mm=SCREW_HOLE_MM)
    return (
        Kind(
            name="din-5",
            family="din-socket",
            about="Five-pin 180 degree DIN socket, flange with two M3 screws",
            cutouts=(
                Cutout(outline=Outline(kind="circle", width_mm=HOLE_MM), purpose="socket"),
                *(Cutout(outline=hole, at=at, purpose="screw") for at in screws),
            ),
            above=(*_face(), *_screws(screws)),
            below=_body(),
            mounting=Mounting(
                inside=(Fitting(name="M3 nut", across_mm=NUT_MM[0], thickness_mm=NUT_MM[1], count=2),),
                outside=(Fitting(name="M3 screw", across_mm=HEAD_MM[0], thickness_mm=HEAD_MM[1], count=2),),
            ),
            sources={
                "drill": f"hole and distance of the screws: {PRACTICE}; screw holes: ISO 273:1979, fine series, M3",
                "contacts": "IEC 60130-9, as cryptomuseum.com/ref/conn/din quotes it",
                "shell": "IEC 60130-9, as cryptomuseum.com/ref/conn/din quotes it; height: " + PRACTICE,
                "flange": PRACTICE,
                "screw": f"ISO 1580 M3, {MEMORY}",
                "body": PRACTICE,
                "terminals": PRACTICE,
            },
        ),
    )


def _face() -> tuple[Solid, ...]:
    length, width, thickness = FLANGE_MM
    inner, outer = PLUG_MM / 2 + 0.15, PLUG_MM / 2 + 0.95
    flange = Extruded(
        outline=Outline(kind="slot", width_mm=length, height_mm=width),
        bottom_mm=0.0,
        top_mm=thickness,
        material=NICKEL,
        bevel_mm=0.2,
    )
    shell = Turned(
        profile=(
            (inner, 0.5),
            (outer + 0.3, 0.5),
            (outer + 0.3, thickness),
            (outer, thickness + 0.3),
            (outer, SHELL_TOP_MM - 0.3),
            (outer - 0.1, SHELL_TOP_MM - 0.1),
            (outer - 0.3, SHELL_TOP_MM),
            (inner, SHELL_TOP_MM),
        ),
        material=NICKEL,
    )
    plate = rod(inner + 0.1, (0.5, FACE_MM), BLACK_PLASTIC)
    key = block((2.4, 1.6), (FACE_MM, SHELL_TOP_MM - 0.3), NICKEL, at=(0.0, -inner + 0.5), bevel_mm=0.2)
    sockets = (solid for at in contacts() for solid in _contact(at))
    return (flange, shell, plate, key, *sockets)


def _contact(at: Point) -> tuple[Solid, ...]:
    """Return one contact: a brass rim about a dark hole as wide as a plug's pin."""
    pin, low = PIN_MM / 2, FACE_MM - 0.3
    rim = rod(pin + 0.3, (low, FACE_MM + 0.1), BRASS, at=at, bore_radius_mm=pin)
    hole = rod(pin, (low, FACE_MM + 0.02), THROAT, at=at)
    return rim, hole


def _screws(places: tuple[Point, ...]) -> tuple[Solid, ...]:
    head, height, slot = HEAD_MM
    turns = (20.0, 110.0)  # as a screwdriver happens to leave them
    raised = FLANGE_MM[2]
    return tuple(
        solid
        for at, turn in zip(places, turns, strict=True)
        for solid in slotted_screw(at, head_mm=head, height_mm=height, slot_mm=slot, turn_deg=turn, seat_mm=raised)
    )


def _body() -> tuple[Solid, ...]:
    radius = HOLE_MM / 2 - 0.5
    can = Turned(
        profile=((0.0, -DEPTH_MM), (radius - 0.8, -DEPTH_MM), (radius, -DEPTH_MM + 0.8), (radius, 0.0), (0.0, 0.0)),
        material=STEEL,
    )
    base = rod(radius - 1.2, (-DEPTH_MM - 0.6, -DEPTH_MM), BLACK_PLASTIC)
    nuts = (
        Extruded(
            outline=Outline(kind="hexagon", width_mm=NUT_MM[0]),
            bottom_mm=-NUT_MM[1],
            top_mm=0.0,
            material=STEEL,
            at=(side * SCREWS_MM / 2, 0.0),
        )
        for side in (-1, 1)
    )
    wide, length = TERMINAL_MM
    terminals = (
        blade(at, width_mm=wide, thickness_mm=0.5, top_mm=-DEPTH_MM - 0.6, length_mm=length) for at in contacts()
    )
    return (can, base, *nuts, *terminals)
