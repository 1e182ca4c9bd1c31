"""Which drills make a hole, in which order, and what a drill is called in millimetres and in inches."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from mockup.model.units import MM_PER_INCH, Unit

PILOT_MM: dict[Unit, float] = {"mm": 3.0, "in": MM_PER_INCH / 8}  # common practice, no source
SMALL_PILOT_MM: dict[Unit, float] = {"mm": 2.0, "in": 5 * MM_PER_INCH / 64}  # common practice, no source
SMALL_HOLE_MM = 4.5  # a hole up to this takes the small pilot: common practice, no source
STEP_MM: dict[Unit, float] = {
    "mm": 3.0,
    "in": MM_PER_INCH / 8,
}  # from one drill to the next: common practice, no source
LEAST_CUT_MM = 0.4  # a drill that takes less off the diameter chatters: common practice, no source
_SAME_MM = 0.05  # a drill of the builder's own that is nearer than this makes the hole: our choice
_WIDEST_PILOT_MM = 4.5  # a larger own drill is none to begin with: our choice
_SMALLER_MM = 0.1  # an inch drill may be this much smaller than the hole, or the next one up is named: our choice
_SIXTY_FOURTH_MM = MM_PER_INCH / 64


def drill_sequence(diameter_mm: float, units: Unit = "mm", own_mm: Sequence[float] = ()) -> tuple[float, ...]:
    """Return the drills for a round hole, in order: a pilot, steps, the finished size (millimetres).

    Steps lie on a ladder of whole drills (3 mm or 1/8 in apart) that a step drill has too; where the builder's own
    drills `own_mm` are known, on those. The last one is the hole's diameter where no own drill makes it.
    """
    pilot = SMALL_PILOT_MM[units] if diameter_mm <= SMALL_HOLE_MM else PILOT_MM[units]
    if own_mm:
        return _own_sequence(diameter_mm, pilot, STEP_MM[units], sorted(own_mm))
    if diameter_mm <= pilot + LEAST_CUT_MM:
        return (diameter_mm,)
    step = STEP_MM[units]
    count = math.floor((diameter_mm - LEAST_CUT_MM) / step + 1e-9)
    between = [step * index for index in range(1, count + 1) if step * index > pilot + LEAST_CUT_MM]
    return (pilot, *between, diameter_mm)


def is_own(drill_mm: float, own_mm: Sequence[float]) -> bool:
    """Return whether one of the builder's own drills is of a size; all are, where no drills are listed."""
    return not own_mm or min(abs(each - drill_mm) for each in own_mm) <= _SAME_MM


def _own_sequence(diameter_mm: float, pilot_mm: float, step_mm: float, own_mm: Sequence[float]) -> tuple[float, ...]:
    """Return the drills for a hole from a builder's own, as near to the usual ladder as they go."""
    nearest = min(own_mm, key=lambda each: abs(each - diameter_mm))
    last = nearest if abs(nearest - diameter_mm) <= _SAME_MM else diameter_mm
    below = [each for each in own_mm if each <= last - LEAST_CUT_MM + 1e-9]
    small = [each for each in below if each <= _WIDEST_PILOT_MM]
    if not small:
        return (last,) if last <= pilot_mm + LEAST_CUT_MM else (pilot_mm, last)
    found = [min(small, key=lambda each: abs(each - pilot_mm))]
    while last - found[-1] > step_mm + LEAST_CUT_MM:
        further = [each for each in below if each >= found[-1] + LEAST_CUT_MM - 1e-9]
        if not further:
            break
        within = [each for each in further if each <= found[-1] + step_mm + 1e-9]
        found.append(within[-1] if within else further[0])
    return (*found, last)


def number(mm: float, units: Unit) -> str:
    """Return a length as a bare number in the drawing's units: two decimals of a millimetre, three of an inch."""
    text = f"{mm:.2f}" if units == "mm" else f"{mm / MM_PER_INCH:.3f}"
    return text.rstrip("0").rstrip(".") if units == "mm" else text


def drill(mm: float, units: Unit) -> str:
    """Return what a drill is called: its millimetres, or the nearest common drill in inches, such as 19/64."""
    return number(mm, units) if units == "mm" else inch_drill(mm)


def inch_drill(mm: float) -> str:
    """Return the nearest drill in sixty-fourths of an inch, the next one up where the nearest is too small."""
    sixty_fourths = round(mm / _SIXTY_FOURTH_MM)
    if sixty_fourths * _SIXTY_FOURTH_MM < mm - _SMALLER_MM:
        sixty_fourths += 1
    whole, part = divmod(Fraction(max(sixty_fourths, 1), 64), 1)
    return f"{whole} {part}" if whole and part else str(part or whole)
