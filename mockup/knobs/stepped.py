"""Stepped: a thin metal dial, a waisted grip on it and a metal top."""

from __future__ import annotations

from mockup.knobs._turning import (
    RAISE_MM,
    arc,
    body,
    disc,
    edge_mm,
    hollow_mm,
    line,
    line_width_mm,
    paint,
    seat_mm,
    shell,
)
from mockup.model.material import TURNED_ALUMINIUM, Material
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Extruded, Point, Solid, block

DEFAULT = Knob(
    diameter_mm=24.0,
    height_mm=17.0,
    colour=(0.012, 0.012, 0.013),
    pointer_colour=(0.60, 0.02, 0.015),
)
DIAL_SHARE = 0.13  # height of the dial, of the whole: common practice, no source
GRIP_SHARE = 0.70  # radius of the grip's two ends, of the dial's: common practice, no source
WAIST_SHARE = 0.90  # radius of the waist, of the grip's ends: common practice, no source
CAP_MM = 0.4  # height of the metal top over the grip: common practice, no source


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, height = knob.diameter_mm / 2, knob.height_mm
    hollow = hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    dial, summit = seat + DIAL_SHARE * height, seat + height
    top = summit - CAP_MM - RAISE_MM
    grip = GRIP_SHARE * radius
    edge = edge_mm(knob) + 0.1
    colour, mark = shell(knob.colour), paint(knob.pointer_colour)
    break_mm = min(0.5, 0.3 * DIAL_SHARE * height)
    plate = [
        (radius - 0.2, seat),
        (radius, seat + 0.2),
        (radius, dial - RAISE_MM - break_mm),
        (radius - break_mm, dial - RAISE_MM),
        (0.0, dial - RAISE_MM),
    ]
    crown = arc((grip - edge, top - edge), edge, 0.0, 90.0)
    side = _waist(grip, dial - RAISE_MM, top - edge)
    face = grip - edge - 0.3
    lid = [(face, top - 0.2), (face, top + CAP_MM - 0.2), (face - 0.2, top + CAP_MM), (0.0, top + CAP_MM)]
    width = line_width_mm(knob)
    return (
        body(plate, hollow, DIAL_SHARE * height * 0.5, TURNED_ALUMINIUM),
        disc([*side[:-1], *crown, (0.0, top)], side[0][1], colour),
        disc(lid, top - 0.2, TURNED_ALUMINIUM),
        _bar(grip - 0.2, radius - break_mm - 0.2, dial - RAISE_MM - 0.1, dial, width, mark),
        _bar(0.25 * face, face - 0.3, top + CAP_MM - 0.1, summit, width, mark),
        *line(knob, [(face + 0.1, top), *reversed(crown), *reversed(side[2:-1:2])]),
    )


def _waist(grip: float, low: float, high: float) -> list[Point]:
    """Return the grip's hollow flank from its foot up, a parabola between two equal ends."""
    depth = grip * (1 - WAIST_SHARE)
    points = []
    for step in range(17):
        along = step / 16
        points.append((grip - depth * 4 * along * (1 - along), low + (high - low) * along))
    return points


def _bar(near: float, far: float, bottom: float, top: float, width: float, material: Material) -> Extruded:
    """Return a straight line with a flat top along y, from `near` to `far` from the axis."""
    return block((width, far - near), (bottom, top), material, at=(0.0, (near + far) / 2))
