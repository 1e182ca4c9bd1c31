"""Words that findings share: lengths, names in a row, where a place is."""

from __future__ import annotations

import math
from collections.abc import Sequence

from mockup.model.units import MM_PER_INCH, Unit, format_length

STEP_MM = 0.1  # a builder moves a hole in such steps: common practice, no source
STEP_IN = 0.01  # the same, for who measures in inches: common practice, no source
SHAPES = "the shapes of box and parts as stated"
"""The source of a finding that no limit stands behind: two things cannot be in one place."""


def step_mm(unit: Unit) -> float:
    """Return the step in which a remedy counts lengths, millimetres."""
    return STEP_MM if unit == "mm" else STEP_IN * MM_PER_INCH


def is_enough(room_mm: float, limit_mm: float, unit: Unit) -> bool:
    """True where the room keeps a limit, or falls short of it by less than the layout's unit shows."""
    return room_mm >= limit_mm - (0.005 if unit == "mm" else 0.001 * MM_PER_INCH)


def length(mm: float, unit: Unit) -> str:
    """Return a measured length as text, rounded to what a calliper shows."""
    return format_length(round(mm, 2), unit)


def at_least(mm: float, unit: Unit) -> str:
    """Return a length as text, rounded up to the next step, so that it is enough."""
    step = step_mm(unit)
    return format_length(math.ceil(mm / step - 1e-6) * step, unit)


def listed(names: Sequence[str]) -> str:
    """Return names in a row: ``A``, ``A and B``, ``A, B and C``."""
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
