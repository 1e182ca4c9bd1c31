"""Fluted barrel: grooved sides and a turned aluminium ring round its face."""

from __future__ import annotations

from mockup.knobs._turning import (
    HOLLOW_MM,
    RAISE_MM,
    arc,
    bar,
    body,
    disc,
    hollow_mm,
    line_width_mm,
    paint,
    seat_mm,
    shell,
)
from mockup.model.material import TURNED_ALUMINIUM
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid, Turned

DEFAULT = Knob(
    style="fluted",
    diameter_mm=20.0,
    height_mm=16.0,
    colour=(0.012, 0.012, 0.013),
    pointer_colour=(0.85, 0.85, 0.83),
)
FLUTES = 22  # two more than a multiple of four, so that a land and not a groove carries the line
FLUTE_SHARE = 0.065  # depth, of the radius: common practice, no source
FOOT_SHARE = 0.14  # of the height: common practice, no source
RING_MM = 0.35  # height of the ring over the face: common practice, no source
RING_SHARE = 0.16  # width of the ring, of its radius: common practice, no source


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, hollow = knob.diameter_mm / 2, hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    summit = seat + knob.height_mm
    top = summit - RING_MM
    foot = seat + FOOT_SHARE * knob.height_mm
    edge = 0.4  # a crisp edge sets the ring off
    side = radius - 0.3
    colour, width = shell(knob.colour), line_width_mm(knob)
    rim = [
        (radius - 0.3, seat),
        *arc((radius - 0.3, seat + 0.3), 0.3, -67.5, 0.0),
        *arc((radius - 0.5, foot - 0.5), 0.5, 0.0, 90.0),
        (0.0, foot),
    ]
    crown = arc((side - edge, top - edge), edge, 0.0, 90.0)
    grip = disc(
        [(side, foot - 0.3), *crown, (0.0, top)], foot - 0.3, colour, flutes=FLUTES, flute_mm=FLUTE_SHARE * radius
    )
    outer = side * (1 - FLUTE_SHARE) - edge - 0.2
    inner = outer * (1 - RING_SHARE)
    ring = Turned(
        profile=(
            (inner, top - 0.2),
            (outer, top - 0.2),
            (outer, summit - 0.15),
            (outer - 0.15, summit),
            (inner + 0.15, summit),
            (inner, summit - 0.15),
        ),
        material=TURNED_ALUMINIUM,
    )
    white = paint(knob.pointer_colour)
    mark = bar(0.2 * inner, inner + 0.05, top - 0.1, top + RAISE_MM, width, white)
    land = bar(side - 1.0, side + 0.1, foot + 0.6, top - 0.05, width, white)
    depth = min(HOLLOW_MM, knob.height_mm * FOOT_SHARE * 0.6)
    return (body(rim, hollow, depth, colour), grip, ring, mark, land)
