"""Conical: a straight-sided cone for a foot, a grip with a few wide grooves on it, all of one colour."""

from __future__ import annotations

from mockup.knobs._turning import (
    HOLLOW_MM,
    RAISE_MM,
    arc,
    bead_mm,
    body,
    disc,
    edge_mm,
    hollow_mm,
    line,
    line_width_mm,
    seat_mm,
    shell,
)
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid

DEFAULT = Knob(
    diameter_mm=22.0,
    height_mm=16.0,
    colour=(0.012, 0.012, 0.013),
    pointer_colour=(0.85, 0.85, 0.83),
)
FLUTES = 10  # two more than a multiple of four, so that a land and not a groove carries the line
FLUTE_SHARE = 0.09  # depth of a groove, of the grip's radius: our choice
RIM_MM = 0.8  # height of the upright edge under the cone: our choice
CONE_SHARE = 0.46  # height of the cone's upper end, of the whole: our choice
GRIP_SHARE = 0.66  # radius of the grip, of the foot's: our choice
LEDGE_SHARE = 0.05  # from the cone's upper end in to the grip, of the foot's radius: our choice


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, height = knob.diameter_mm / 2, knob.height_mm
    hollow = hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    top, shoulder = seat + height - RAISE_MM, seat + CONE_SHARE * height
    grip = GRIP_SHARE * radius
    neck = grip + LEDGE_SHARE * radius
    edge = edge_mm(knob) + 0.1
    colour = shell(knob.colour)
    foot = [(radius, seat), (radius, seat + RIM_MM), (neck, shoulder), (0.0, shoulder)]
    crown = arc((grip - edge, top - edge), edge, 0.0, 90.0)
    handle = disc(
        [(grip, shoulder - 0.3), *crown, (0.0, top)],
        shoulder - 0.3,
        colour,
        flutes=FLUTES,
        flute_mm=FLUTE_SHARE * grip,
    )
    slope = (shoulder - seat - RIM_MM) / (radius - neck)
    low = RIM_MM + bead_mm(line_width_mm(knob))  # above the underside: the line's round end stays inside the cone
    down = [(neck + 0.2, shoulder - 0.2 * slope), (radius - (low - RIM_MM) / slope, seat + low)]
    return (
        body(foot, hollow, min(HOLLOW_MM, RIM_MM), colour),
        handle,
        *line(knob, [(0.3 * grip, top), *reversed(crown), (grip, shoulder + 0.4)]),
        *line(knob, down),
    )
