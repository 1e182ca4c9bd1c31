"""Check rules: what a ruler is held against before anything printed is believed."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.model.sheet import Line, Mark, Text
from mockup.model.units import MM_PER_INCH

METRIC_MM = 50.0
INCHES_MM = 2 * MM_PER_INCH


def metric_rule(x_mm: float, y_mm: float) -> Iterator[Mark]:
    """Yield a rule of 50 mm from (x, y) to the right, its ticks above the line."""
    return _rule(x_mm, y_mm, METRIC_MM, 50, (10, 5), "50 mm")


def inch_rule(x_mm: float, y_mm: float) -> Iterator[Mark]:
    """Yield a rule of 2 inches, in sixteenths, from (x, y) to the right, its ticks above the line."""
    return _rule(x_mm, y_mm, INCHES_MM, 32, (16, 8), "2 in")


def _rule(x_mm: float, y_mm: float, length_mm: float, parts: int, every: tuple[int, int], title: str) -> Iterator[Mark]:
    """Yield a rule to check the print by: `parts` divisions, longer ticks at every so many."""
    yield Line(x1_mm=x_mm, y1_mm=y_mm, x2_mm=x_mm + length_mm, y2_mm=y_mm)
    for tick in range(parts + 1):
        at = x_mm + length_mm * tick / parts
        reach = 4.0 if tick % every[0] == 0 else 2.8 if tick % every[1] == 0 else 1.6
        yield Line(x1_mm=at, y1_mm=y_mm - reach, x2_mm=at, y2_mm=y_mm, line_mm=0.15)
    yield Text(x_mm=x_mm + length_mm / 2, y_mm=y_mm + 4.6, text=title, size_mm=3.2, anchor="middle", is_bold=True)
