"""A length written as the one it replaces was: plain number or text, its own unit, fractions of an inch."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from fractions import Fraction
from typing import Any

from mockup.model.units import MM_PER_INCH, MM_PER_UNIT, Unit

DECIMALS: dict[str, int] = {"mm": 2, "cm": 3, "in": 4}  # 0.01 mm, and 0.0025 mm in inches: finer than any rule
FINEST = 64  # parts of an inch that rules and drills are marked in: common practice, no source
_TEXT = re.compile(r"^(\s*)(.*?)(\s*)([^\d\s/.+-]*)(\s*)$")


def like(before: Any, mm: float, units: Unit) -> float | str:
    """Return a length as the file would write it, in the style of `before`.

    A number stays a number in the file's unit, text keeps its own unit and its spaces; a fraction stays
    one where the new length is a whole number of 64ths of an inch. Rounded to 0.01 mm or 0.0001 in,
    finer where `before` was finer.
    """
    if not isinstance(before, str):
        return _rounded(mm / MM_PER_UNIT[units], before, units)
    match = _TEXT.match(before)
    if match is None:
        return _rounded(mm / MM_PER_UNIT[units], 0.0, units)
    lead, number, gap, unit, tail = match.groups()
    own = unit or units
    value = mm / MM_PER_UNIT[own]
    if "/" in number:
        parts = Fraction(round(value * FINEST), FINEST)
        if abs(float(parts) - value) < 1e-6:
            return f"{lead}{_mixed(parts)}{gap}{unit}{tail}"
        number = "0"
    decimals = len(number.partition(".")[2])
    text = f"{_rounded(value, number, own):.10f}".rstrip("0").rstrip(".")
    if decimals > len(text.partition(".")[2]):
        text = f"{float(text):.{decimals}f}"
    return f"{lead}{text}{gap}{unit}{tail}"


def _rounded(value: float, before: Any, unit: str) -> float:
    usual = DECIMALS["in"] if MM_PER_UNIT[unit] == MM_PER_INCH else DECIMALS[unit]
    try:
        own = -int(Decimal(str(before)).as_tuple().exponent)
    except (ArithmeticError, ValueError, TypeError):
        own = 0
    rounded = round(value, min(max(usual, own), 8)) + 0.0
    return rounded if math.isfinite(rounded) else value


def _mixed(parts: Fraction) -> str:
    """Return a fraction as a rule is read: ``1 3/16``."""
    sign, parts = ("-" if parts < 0 else ""), abs(parts)
    whole, rest = divmod(parts.numerator, parts.denominator)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}/{parts.denominator}" if whole else f"{sign}{rest}/{parts.denominator}"
