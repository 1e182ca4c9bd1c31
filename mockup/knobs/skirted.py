"""Skirted: a wide skirt with the line on it, a fluted grip and a turned aluminium cap."""

from __future__ import annotations

from mockup.knobs._turning import (
    arc,
    bar,
    body,
    disc,
    hollow_mm,
    line,
    line_width_mm,
    paint,
    seat_mm,
    shell,
)
from mockup.model.material import TURNED_ALUMINIUM
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Point, Solid

DEFAULT = Knob(
    style="skirted",
    diameter_mm=25.0,
    height_mm=16.0,
    colour=(0.012, 0.012, 0.013),
    pointer_colour=(0.85, 0.85, 0.83),
)
FLUTES = 14  # two more than a multiple of four, so that a land and not a groove carries the line
GRIP_SHARE = 0.66  # radius of the grip, of the skirt's: common practice, no source
SKIRT_SHARE = 0.34  # height of the skirt, of the whole: common practice, no source
RIM_MM = 1.7  # height of the skirt's rim: common practice, no source
LINE_MM = (0.9, 0.2)  # width and height of the line on the skirt, thinner than the rim: common practice, no source
FLARE = 1.7  # power of the flare: common practice, no source
CAP_MM = 0.4  # height of the cap over the grip: common practice, no source
DISH_SHARE = 0.07  # depth of the dish turned into the cap, of its radius: common practice, no source


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, height = knob.diameter_mm / 2, knob.height_mm
    hollow = hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    top = seat + height - CAP_MM
    grip = GRIP_SHARE * radius
    colour, width = shell(knob.colour), line_width_mm(knob)
    rim, round_mm = seat + RIM_MM, 0.5
    edge = radius - round_mm
    flare = _flare(edge, grip, rim, seat + max(SKIRT_SHARE * height, RIM_MM + 1.0))
    skirt = [
        (radius - 0.3, seat),
        *arc((radius - 0.3, seat + 0.3), 0.3, -67.5, 0.0),
        *arc((edge, rim - round_mm), round_mm, 0.0, 90.0),
        *flare[1:],
        (0.0, flare[-1][1]),
    ]
    low = flare[-1][1] - 0.5
    crown = arc((grip - 0.4, top - 0.4), 0.4, 0.0, 90.0)  # a crisp edge sets the cap off
    handle = disc([(grip, low), *crown, (0.0, top)], low, colour, flutes=FLUTES, flute_mm=0.07 * grip)
    face = grip - 0.4 - 0.08 * grip
    lid = [(face, top - 0.2), *_dish(face, top + CAP_MM)]
    land = bar(grip - 1.0, grip + 0.1, low + 0.8, top - 0.05, width, paint(knob.pointer_colour))
    return (
        body(skirt, hollow, RIM_MM - 1.3, colour),
        handle,
        disc(lid, top - 0.2, TURNED_ALUMINIUM),
        land,
        *line(knob, [*reversed(flare[2::2]), (edge - 0.3, rim)], width_mm=LINE_MM[0], raise_mm=LINE_MM[1]),
    )


def _dish(radius: float, top: float) -> list[Point]:
    """Return the turned face of a cap: a lip with its edge taken off, then a shallow dish to the middle."""
    steps, lip = 10, radius - 0.45
    depth = min(DISH_SHARE * lip, CAP_MM)
    shares = [step / steps for step in range(steps + 1)]
    hollow = [(lip * (1.0 - share), top - depth * share * (2.0 - share)) for share in shares]
    return [(radius, top - 0.2), (radius - 0.2, top), *hollow]


def _flare(edge: float, grip: float, low: float, high: float) -> list[Point]:
    """Return the skirt's upper side, level at the rim and ever steeper towards the grip."""
    steps = 16
    return [
        (edge + (grip - edge) * step / steps, low + (high - low) * (step / steps) ** FLARE) for step in range(steps + 1)
    ]
