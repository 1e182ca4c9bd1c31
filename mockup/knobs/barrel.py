"""Plain barrel: smooth drafted sides, a line down the front and over the top."""

from __future__ import annotations

import math

from mockup.knobs._turning import (
    HOLLOW_MM,
    RAISE_MM,
    arc,
    body,
    edge_mm,
    hollow_mm,
    line,
    line_end_mm,
    rim,
    seat_mm,
    shell,
)
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid

DEFAULT = Knob(
    diameter_mm=18.0,
    height_mm=16.0,
    colour=(0.012, 0.012, 0.013),
    pointer_colour=(0.85, 0.85, 0.83),
)
DRAFT_DEG = 1.5  # of the moulded side: common practice, no source
FOOT_SHARE = 0.12  # of the height, for the bead round the foot: common practice, no source
STEP_MM = 0.4  # from the foot in to the side: common practice, no source


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, hollow = knob.diameter_mm / 2, hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    top = seat + knob.height_mm - RAISE_MM
    foot = seat + FOOT_SHARE * knob.height_mm
    edge = max(edge_mm(knob) + 0.1, 0.1 * radius)
    lean = (top - foot) * math.tan(math.radians(DRAFT_DEG))
    low, high = radius - STEP_MM, radius - STEP_MM - lean
    crown = arc((high - edge, top - edge), edge, DRAFT_DEG, 90.0)
    outside = [
        *rim(radius, seat),
        *arc((radius - STEP_MM, foot - STEP_MM), STEP_MM, 0.0, 67.5),
        (low, foot + 0.1),
        *crown,
        (0.0, top),
    ]
    outside = [point for i, point in enumerate(outside) if i == 0 or math.dist(point, outside[i - 1]) > 1e-6]
    surface = [(0.3 * high, top), *reversed(crown), (low - 0.03, max(foot + 1.0, line_end_mm(knob, seat)))]
    return (body(outside, hollow, min(HOLLOW_MM, knob.height_mm / 3), shell(knob.colour)), *line(knob, surface))
