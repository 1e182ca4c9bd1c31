"""Bar pointer: a straight bar across a round foot, its nose the pointer."""

from __future__ import annotations

from mockup.knobs._turning import HOLLOW_MM, arc, body, hollow_mm, line, rim, seat_mm, shell
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Extruded, Outline, Solid

DEFAULT = Knob(
    diameter_mm=24.0,
    height_mm=16.0,
    colour=(0.012, 0.012, 0.013),
    pointer_colour=(0.85, 0.85, 0.83),
)
FOOT_SHARE = 0.8  # radius of the foot, of the bar's reach: common practice, no source
BAR_SHARE = 0.36  # width of the bar, of its length: common practice, no source
STEP_SHARE = 0.34  # height of the foot, of the whole: common practice, no source

LINE_RAISE_MM = 0.35  # higher than elsewhere, so that the line keeps its width over the sharp bevel


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    reach, height = knob.diameter_mm / 2, knob.height_mm
    foot = FOOT_SHARE * reach
    hollow = hollow_mm(knob, reach - foot + 1.2)
    seat = seat_mm(knob, shaft, hollow)
    step, top = seat + STEP_SHARE * height, seat + height - LINE_RAISE_MM
    edge = min(1.2, STEP_SHARE * height / 2)
    colour = shell(knob.colour)
    base = [
        *rim(foot, seat),
        *arc((foot - edge, step - edge), edge, 0.0, 90.0),
        (0.0, step),
    ]
    nose = reach - LINE_RAISE_MM
    bevel = min(1.0, 0.08 * reach)
    grip = Extruded(
        outline=Outline(kind="slot", width_mm=2 * nose, height_mm=2 * reach * BAR_SHARE),
        bottom_mm=step - 0.3 * STEP_SHARE * height,
        top_mm=top,
        material=colour,
        rotation_deg=90.0,
        bevel_mm=bevel,
    )
    surface = [(0.2 * reach, top), (nose - bevel, top), (nose, top - bevel), (nose, step + 0.3)]
    return (
        body(base, hollow, min(HOLLOW_MM, 0.6 * STEP_SHARE * height), colour),
        grip,
        *line(knob, surface, raise_mm=LINE_RAISE_MM),
    )
