"""Lengths: millimetres inside, inches only where text comes in or goes out."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Literal

Unit = Literal["mm", "in"]

MM_PER_INCH = 25.4  # exact: ISO 31-1 / international yard and pound agreement, 1959
POINTS_PER_INCH = 72.0  # PDF user unit, ISO 32000-1 8.3.2.3

_STEPS: dict[Unit, float] = {"mm": 0.1, "in": 0.01 * MM_PER_INCH}  # common practice, no source
MM_PER_UNIT: dict[str, float] = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH, "inch": MM_PER_INCH, '"': MM_PER_INCH}
_LONGEST = 64  # characters; no length anybody writes is longer, and Python refuses to read endless digits
_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)"
_LENGTH = re.compile(
    rf"^\s*(?:(?P<whole>[+-]?\d+)\s+(?P<num2>\d+)/(?P<den2>\d+)"
    rf"|(?P<num>[+-]?\d+)/(?P<den>\d+)"
    rf"|(?P<plain>{_NUMBER}))\s*(?P<unit>[^\d\s/.+-]*)\s*$"
)


def parse_length(value: float | int | str, unit: Unit) -> float:
    """Return a length in millimetres.

    `value` is a number counted in `unit`, or text with a unit of its own: ``"19 mm"``,
    ``"0.75 in"``, ``"3/4 in"``, ``"1 1/2 in"``; text without a unit is counted in `unit`.
    Raises `ValueError` with one plain sentence where it is no finite length.
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError('expected a length such as 19, "19 mm" or "3/4 in"')
    if isinstance(value, int | float):
        return _finite(value, unit)
    match = _LENGTH.match(value) if len(value) <= _LONGEST else None
    if match is None and len(value) <= _LONGEST and _LENGTH.match(value.replace(",", ".", 1)):
        raise ValueError(f'"{value}" is not a length: it has a decimal comma; write {_pointed(value)}')
    if match is None:
        raise ValueError(f'{value[:_LONGEST]!r} is not a length; write for example "19 mm" or "3/4 in"')
    own = match["unit"] or unit
    if own not in MM_PER_UNIT:
        raise ValueError(f'unknown unit {own!r} in {value!r}; use "mm", "cm" or "in"')
    try:
        if match["whole"] is not None:
            part = Fraction(int(match["num2"]), int(match["den2"]))
            whole = int(match["whole"])
            number = float(whole - part if match["whole"].startswith("-") else whole + part)
        elif match["num"] is not None:
            number = float(Fraction(int(match["num"]), int(match["den"])))
        else:
            number = float(match["plain"])
    except ZeroDivisionError:
        raise ValueError(f"{value!r} divides by zero") from None
    except OverflowError:
        number = math.inf
    return _finite(number, own)


def format_length(mm: float, unit: Unit = "mm", finer: int = 0) -> str:
    """Return a length as text in `unit`: two decimals in millimetres, three in inches, and `finer` more."""
    if unit == "in":
        return f"{_trim(mm / MM_PER_INCH, 3 + finer)} in"
    return f"{_trim(mm, 2 + finer)} mm"


def step_mm(unit: Unit) -> float:
    """Return the step in which a builder moves a hole, millimetres."""
    return _STEPS[unit]


def round_up(mm: float, unit: Unit) -> float:
    """Return a length, rounded up to the next step, so that it is enough; millimetres."""
    return math.ceil(mm / _STEPS[unit] - 1e-6) * _STEPS[unit]


def is_enough(room_mm: float, limit_mm: float, unit: Unit) -> bool:
    """True where the room keeps a limit, or falls short of it by less than the layout's unit shows."""
    return room_mm >= limit_mm - (0.005 if unit == "mm" else 0.001 * MM_PER_INCH)


def px_per_mm(dpi: float) -> float:
    """Return pixels per millimetre for a resolution in dots per inch."""
    return dpi / MM_PER_INCH


def _pointed(value: str) -> str:
    """Return a length with a decimal point, in quotes where it has a unit of its own."""
    text = value.strip().replace(",", ".", 1)
    return f'"{text}"' if re.search(r"[^\d.+-]", text) else text


def _trim(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _finite(number: float | int, unit: str) -> float:
    try:
        value = float(number) * MM_PER_UNIT[unit]
    except OverflowError:  # a whole number beyond the range of float
        value = math.inf
    if not math.isfinite(value):
        raise ValueError("a length must be a finite number, not NaN or infinity")
    return value
