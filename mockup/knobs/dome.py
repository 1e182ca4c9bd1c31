"""Dome-top: a round cap like a mushroom's, the line running over it."""

from __future__ import annotations

import math

from mockup.knobs._turning import HOLLOW_MM, RAISE_MM, body, hollow_mm, line, line_end_mm, rim, seat_mm, shell
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid

DEFAULT = Knob(
    diameter_mm=19.0,
    height_mm=15.0,
    colour=(0.72, 0.62, 0.42),
    pointer_colour=(0.05, 0.03, 0.02),
)
SIDE_SHARE = 0.42  # height of the straight side, of the whole: common practice, no source
STEPS = 24  # of the dome: under 4 degrees a step


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, hollow = knob.diameter_mm / 2, hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    start = seat + SIDE_SHARE * knob.height_mm
    rise = knob.height_mm * (1 - SIDE_SHARE) - RAISE_MM
    round_mm = 0.5
    side = radius - RAISE_MM

    def at(angle_deg: float) -> tuple[float, float]:
        angle = math.radians(angle_deg)
        return side * math.cos(angle), start + rise * math.sin(angle)

    outside = [
        *rim(radius, seat, round_mm),
        (radius, seat + 0.2 * knob.height_mm),
        *(at(90.0 * step / STEPS) for step in range(STEPS)),
        (0.0, start + rise),
    ]
    crest = [(0.0, start + rise), (0.04 * side, start + rise)]  # level, so that the line ends at the full height
    surface = [*crest, *(at(90.0 * step / 16) for step in range(15, -1, -1))]
    surface.append((side, min(start - 0.1, max(start - 0.15 * knob.height_mm, line_end_mm(knob, seat)))))
    return (body(outside, hollow, min(HOLLOW_MM, knob.height_mm / 3), shell(knob.colour)), *line(knob, surface))
