"""Rotary switches: a wafer body on a threaded bushing, with a shaft for a pointer knob."""

from __future__ import annotations

import math

from mockup.hardware._fixings import M9, blade, flatted, hung, knob_shaft, stack
from mockup.model.material import GREY_PLASTIC, PHENOLIC, STEEL, TURNED_ALUMINIUM
from mockup.model.part import PRACTICE, Kind
from mockup.model.shape import Solid, Turned, rod

BODY_MM = 27.0  # diameter: common practice, no source
DEPTH_MM = 16.0  # without terminals: common practice, no source
TERMINAL_MM = 5.0  # length: common practice, no source
BUSHING_MM = 5.0  # top above the panel: common practice, no source
SHAFT_MM = 6.0  # IEC 60915, from memory
SHAFT_TOP_MM = 14.0  # above the panel, cut to take a knob: common practice, no source
STEP_DEG = 30.0  # twelve positions to the turn: common practice, no source
OUTER_RING_MM = 22.5  # circle of the twelve outer terminals: common practice, no source
INNER_RING_MM = 9.0  # circle of the common terminals: common practice, no source


def kinds() -> tuple[Kind, ...]:
    """Return the rotary switch, its stop set for 11 positions: ten steps of 30 degrees, 300 in all."""
    top, mounting = SHAFT_TOP_MM, M9.mounting(BUSHING_MM)
    shoulder = top - 8.0
    stem = rod(SHAFT_MM / 2, (3.0, shoulder), TURNED_ALUMINIUM)
    return (
        Kind(
            name="rotary-switch",
            family="rotary-switch",
            about="Rotary switch, 30 degrees a step, 6 mm shaft, M9 bushing",
            cutouts=(M9.cutout,),
            above=(*stack(M9, BUSHING_MM), stem, flatted(SHAFT_MM, shoulder, top)),
            below=hung(_body(), mounting, M9.thread.major_mm),
            thread=M9.thread,
            shaft=knob_shaft(M9, SHAFT_MM, top, travel_deg=10 * STEP_DEG),
            mounting=mounting,
            sources={
                **M9.sources,
                "shaft": "diameter: IEC 60915, from memory; length: " + PRACTICE,
                "body": PRACTICE,
                "terminals": PRACTICE,
            },
        ),
    )


def _body() -> tuple[Solid, ...]:
    radius = BODY_MM / 2
    collar = rod(9.0, (-1.5, 0.0), STEEL)
    case = Turned(
        profile=(
            (0.0, -DEPTH_MM + 2.0),
            (radius - 1.0, -DEPTH_MM + 2.0),
            (radius - 1.0, -4.0),
            (radius - 1.3, -2.0),
            (radius - 2.0, -1.5),
            (0.0, -1.5),
        ),
        material=GREY_PLASTIC,
    )
    wafer = rod(radius, (-DEPTH_MM, -DEPTH_MM + 2.0), PHENOLIC)
    rings = ((OUTER_RING_MM, 12, 0.0), (INNER_RING_MM, 4, STEP_DEG / 2))
    pins = (
        blade(
            (circle / 2 * math.sin(angle), circle / 2 * math.cos(angle)),
            width_mm=1.4,
            thickness_mm=0.5,
            top_mm=-DEPTH_MM,
            length_mm=TERMINAL_MM,
        )
        for circle, count, first in rings
        for angle in (math.radians(first + 360.0 / count * step) for step in range(count))
    )
    return (collar, case, wafer, *pins)
