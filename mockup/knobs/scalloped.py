"""Scalloped: six broad hollows round a tapered body with a gently rounded top, all of one colour."""

from __future__ import annotations

import math

from mockup.knobs._turning import HOLLOW_MM, RAISE_MM, arc, body, disc, edge_mm, hollow_mm, line, rim, seat_mm, shell
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Point, Solid

DEFAULT = Knob(
    diameter_mm=20.0,
    height_mm=16.0,
    colour=(0.012, 0.012, 0.013),
    pointer_colour=(0.85, 0.85, 0.83),
)
FLUTES = 6  # two more than a multiple of four, so that a land and not a hollow carries the line
FLUTE_SHARE = 0.11  # depth of a hollow, of the radius: our choice
FOOT_SHARE = 0.15  # height of the round foot, of the whole: our choice
WAIST_SHARE = 0.96  # radius of the body at the foot, of the foot's: our choice
TOP_SHARE = 0.84  # radius of the body under its crown, of the foot's: our choice
RISE_SHARE = 0.05  # from the crown up to the middle of the top, of the height: our choice
STEPS = 8  # of the rounded top: under 2 degrees a step


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, height, hollow = knob.diameter_mm / 2, knob.height_mm, hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    foot, summit = seat + FOOT_SHARE * height, seat + height
    colour, edge, round_mm = shell(knob.colour), edge_mm(knob) + 0.3, 0.4
    base = [
        *rim(radius, seat),
        *arc((radius - round_mm, foot - round_mm), round_mm, 0.0, 90.0),
        (0.0, foot),
    ]
    low, high = WAIST_SHARE * radius, TOP_SHARE * radius
    brim = summit - RISE_SHARE * height
    crown = arc((high - edge, brim - edge), edge, math.degrees(math.atan2(low - high, brim - foot)), 78.75)
    grip = disc(
        [(low, foot - 0.3), *crown, *reversed(_top(crown[-1], summit))],
        foot - 0.3,
        colour,
        flutes=FLUTES,
        flute_mm=FLUTE_SHARE * radius,
    )
    start = math.sqrt(1.05 * RAISE_MM / (summit - crown[-1][1]))  # there the line is no higher than the middle
    path = [*_top(crown[-1], summit, start), *reversed(crown)]
    mark = [*path, (low - 0.1 * (low - high), foot + 0.1 * (brim - foot))]
    return (body(base, hollow, min(HOLLOW_MM, FOOT_SHARE * height * 0.6), colour), grip, *line(knob, mark))


def _top(rim: Point, summit: float, start: float = 0.0) -> list[Point]:
    """Return the top from a share of its radius out to the crown's end, a parabola that is level in the middle."""
    radius, low = rim
    shares = [start + (1.0 - start) * step / STEPS for step in range(STEPS)]
    return [(radius * share, summit - (summit - low) * share**2) for share in shares]
