"""Knurled: a turned metal drum with a fine grip, the line over its face and edge."""

from __future__ import annotations

import math
from dataclasses import replace

from mockup.knobs._turning import HOLLOW_MM, RAISE_MM, WALL_MM, arc, body, disc, edge_mm, hollow_mm, line, rim, seat_mm
from mockup.model.material import TURNED_ALUMINIUM
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid

DEFAULT = Knob(
    diameter_mm=16.0,
    height_mm=15.0,
    colour=TURNED_ALUMINIUM.base_color,
    pointer_colour=(0.010, 0.010, 0.010),
)
TEETH_PER_MM = 1.1  # of circumference: common practice, no source
KNURL_MM = 0.28  # depth: common practice, no source
PLAIN_SHARE = 0.14  # plain band below the knurl, half as much above, of the height: common practice, no source


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock; `colour` is the metal's reflectance."""
    radius, hollow = knob.diameter_mm / 2, hollow_mm(knob, WALL_MM + KNURL_MM + 0.3)
    seat = seat_mm(knob, shaft, hollow)
    top = seat + knob.height_mm - RAISE_MM
    metal = replace(TURNED_ALUMINIUM, name="knob-metal", base_color=knob.colour)
    edge = edge_mm(knob) + 0.1
    core = radius - KNURL_MM - 0.3
    crown = arc((core - edge, top - edge), edge, 0.0, 90.0)
    drum = [*rim(core, seat), *crown, (0.0, top)]
    low, high = seat + PLAIN_SHARE * knob.height_mm, top - edge - PLAIN_SHARE / 2 * knob.height_mm
    bite = min(0.5, (high - low) / 4)
    pressed = replace(metal, name="knob-knurl", anisotropy=0.0)
    grip = disc(
        [(core, low), (radius, low + bite), (radius, high - bite), (core, high), (0.0, high)],
        low,
        pressed,
        flutes=4 * round(math.pi * radius * TEETH_PER_MM / 2) + 2,  # a land and not a groove lies at 12 o'clock
        flute_mm=KNURL_MM,
    )
    mark = line(knob, [(0.3 * core, top), *reversed(crown), (core, high + 0.1)])
    return (body(drum, hollow, min(HOLLOW_MM, knob.height_mm / 3), metal), grip, *mark)
