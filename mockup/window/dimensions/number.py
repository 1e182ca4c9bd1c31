"""Numbers of a drawing as text: shown in the layout's unit, read in whichever unit is typed."""

from __future__ import annotations

import re

from mockup.model.units import MM_PER_INCH, Unit, format_length, parse_length
from mockup.window.dimensions.sketch import Dimension, Quantity

SEVERAL = "several"
"""What stands in a field whose parts do not agree."""

_STEPS: dict[Quantity, tuple[float, float]] = {"length": (0.1, 2.0), "angle": (1.0, 2.0), "number": (1.0, 8.0)}
"""One step of a dragged number, and over how many units of the screen: lengths the window's design, the rest by eye."""
_INCH_STEP = 0.005

_HYPHEN = re.compile(r"(?<=\d)\s*-\s*(?=\d+\s*/)")  # "1-3/8": common practice, no source
_COMMA = re.compile(r"(?<=\d),(?=\d)|^,(?=\d)")  # "3,5": common practice, no source
_AFTER = {"angle": re.compile(r"\s*(?:deg(?:rees)?|°)\s*$"), "number": re.compile(r"\s*%\s*$")}


def shown(value: float | None, quantity: Quantity, unit: Unit) -> str:
    """Return a number as its field shows it: one decimal of a millimetre, more where it has more."""
    if value is None:
        return SEVERAL
    if quantity != "length":
        return _trimmed(value, 2, 0)
    return _trimmed(value / MM_PER_INCH, 3, 2) if unit == "in" else _trimmed(value, 2, 1)


def read(typed: str, dimension: Dimension, unit: Unit) -> float:
    """Return what was typed into a field, in millimetres or degrees.

    A length may carry its own unit: ``35``, ``35mm``, ``1 3/8 in``, ``1-3/8"``, ``3,5``. Raises `ValueError` with one
    plain sentence where it is no number, or none that the dimension may have.
    """
    text = _COMMA.sub(".", typed.strip())
    if dimension.quantity == "length":
        value = parse_length(_HYPHEN.sub(" ", text), unit)
    else:
        try:
            value = float(_AFTER[dimension.quantity].sub("", text))
        except ValueError:
            raise ValueError(f"{typed.strip()!r} is not a number; write for example {_example(dimension)}") from None
        if not abs(value) < 1e9:
            raise ValueError("a number must be finite")
    for bound, is_wrong, word in (
        (dimension.least, dimension.least is not None and value < dimension.least - 1e-9, "at least"),
        (dimension.most, dimension.most is not None and value > dimension.most + 1e-9, "at most"),
    ):
        if is_wrong and bound is not None:
            raise ValueError(
                f"{_said(value, dimension, unit)} is not possible here; {word} {_said(bound, dimension, unit)}"
            )
    return value


def dragged(dimension: Dimension, value: float, px: float, unit: Unit) -> float:
    """Return what a number becomes that is dragged so far to the right, in units: whole steps, within its bounds."""
    step, px_per_step = _STEPS[dimension.quantity]
    if dimension.quantity == "length" and unit == "in":
        step = _INCH_STEP * MM_PER_INCH
    if dimension.quantity == "number" and value != round(value):
        step = 0.05
    found = round((value + round(px / px_per_step) * step) / step) * step
    least, most = dimension.least, dimension.most
    found = max(found, least) if least is not None else found
    return round(min(found, most) if most is not None else found, 4)


def _said(value: float, dimension: Dimension, unit: Unit) -> str:
    if dimension.quantity == "length":
        return format_length(value, unit)
    return f"{_trimmed(value, 2, 0)} degrees" if dimension.quantity == "angle" else _trimmed(value, 2, 0)


def _example(dimension: Dimension) -> str:
    return "90" if dimension.quantity == "angle" else "0.5"


def _trimmed(value: float, most: int, least: int) -> str:
    text = f"{value:.{most}f}"
    whole, _, decimals = text.partition(".")
    decimals = decimals.rstrip("0").ljust(least, "0")
    text = f"{whole}.{decimals}" if decimals else whole
    return text.removeprefix("-") if not text.strip("-0.") else text
