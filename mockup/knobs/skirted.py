"""Skirted: a wide skirt with the line on it, a fluted grip and a turned aluminium cap."""

from __future__ import annotations

import math

from mockup.knobs._turning import RAISE_MM, arc, body, disc, edge_mm, hollow_mm, line, seat_mm, shell
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
SKIRT_SHARE = 0.36  # height of the skirt, of the whole: common practice, no source
RIM_SHARE = 0.08  # height of the skirt's rim, of the whole: common practice, no source
CAP_MM = 0.4  # height of the cap over the grip: common practice, no source


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, height = knob.diameter_mm / 2, knob.height_mm
    hollow = hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    top = seat + height - CAP_MM
    grip = GRIP_SHARE * radius
    colour = shell(knob.colour)
    slope = _slope(radius, grip, seat + RIM_SHARE * height + 0.3, seat + SKIRT_SHARE * height)
    skirt = [
        (radius - 0.3, seat),
        *arc((radius - 0.3, seat + 0.3), 0.3, -67.5, 0.0),
        *slope,
        (0.0, slope[-1][1]),
    ]
    edge = edge_mm(knob) + 0.1
    crown = arc((grip - edge, top - edge), edge, 0.0, 90.0)
    low = slope[-1][1] - 0.5
    handle = disc([(grip, low), *crown, (0.0, top)], low, colour, flutes=FLUTES, flute_mm=0.07 * grip)
    face = grip - edge - 0.3
    cap = disc(
        [(face, top - 0.2), (face, top + CAP_MM - 0.2), (face - 0.2, top + CAP_MM), (0.0, top + CAP_MM)],
        top - 0.2,
        TURNED_ALUMINIUM,
    )
    on_skirt = list(reversed(slope[1:]))
    on_grip = [(face + 0.1, top), *reversed(crown), (grip, slope[-1][1] + 0.3)]
    hollow_depth = RIM_SHARE * height
    return (
        body(skirt, hollow, hollow_depth, colour),
        handle,
        cap,
        *line(knob, on_grip),
        *line(knob, on_skirt),
    )


def _slope(radius: float, grip: float, low: float, high: float) -> list[Point]:
    """Return the skirt's flank: upright at the rim, bulging, and nearly level where the grip stands on it."""
    reach = radius - RAISE_MM - grip
    flank = [(radius, low)]
    for step in range(17):
        angle = math.radians(8.0 + 72.0 * step / 16)
        flank.append(
            (grip + reach * math.cos(angle) / math.cos(math.radians(8.0)), low + (high - low) * math.sin(angle))
        )
    return [(r, z) for r, z in flank if r <= radius]
