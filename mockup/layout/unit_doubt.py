"""Units mistaken: a layout whose figures can only be meant in the other unit, told by its box and its parts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from mockup.enclosure.sizes import SIZES
from mockup.layout.edit.tables import units_of
from mockup.layout.fields import Loc, Problem
from mockup.model.units import MM_PER_UNIT, Unit, format_length

SIDES = ("left", "right", "top", "bottom")
LEAST = 3  # figures that it is told by
LARGEST_IN, SMALLEST_MM = 20.0, 10.0  # that a pedal's box is long: our choice; the largest in use is half as long
_HUGE = 1e9  # a figure beyond it is refused for what it is
LONGEST_MM = 130.0  # where the box says nothing: common practice, no source


def unit_doubt(raw: Mapping[str, Any]) -> tuple[Loc, Problem] | None:
    """Return what is wrong with the units of a file as TOML reads it, None where its figures suit them."""
    units = units_of(raw)
    box = raw.get("box")
    sizes = [each for _, each in _plain(box, ("width", "length", "height"))]
    if units == "in" and sizes and max(sizes) > LARGEST_IN:
        return _fault(units, f"a box of {max(sizes):g} in is no pedal")
    if units == "mm" and len(sizes) == LEAST and max(sizes) < SMALLEST_MM:
        return _fault(units, f"a box of {max(sizes):g} mm is no pedal")
    longest = max(sizes, default=0.0) * MM_PER_UNIT[units] or _named(box)
    found = [(part, each) for part in _tables(raw.get("part")) for each in _plain(part, SIDES)]
    if len(found) < LEAST:
        return None
    part, (key, largest) = max(found, key=lambda each: abs(each[1][1]))
    said = f"{key} = {largest:g} in of {_called(part)} is far outside a box of {format_length(longest, units)}"
    beyond = sum(abs(each) * MM_PER_UNIT[units] > longest for _, (_, each) in found)
    if units == "in" and 2 * beyond >= len(found):
        return _fault(units, said)
    if units == "mm" and abs(largest) <= longest / MM_PER_UNIT["in"]:
        return _fault(units, f"no part is farther than {largest:g} mm from the edge that it is measured from")
    return None


def _fault(units: Unit, why: str) -> tuple[Loc, Problem]:
    other, meant, now = ("mm", "millimetres", "inches") if units == "in" else ("in", "inches", "millimetres")
    return ("units",), Problem((), f"{why}: these figures look like {meant}, not {now}", f'write units = "{other}"')


def _tables(value: Any) -> list[Mapping[str, Any]]:
    return [each for each in value if isinstance(each, dict)] if isinstance(value, list) else []


def _plain(table: Any, keys: tuple[str, ...]) -> Iterator[tuple[str, float]]:
    """Yield the figures of a table that have no unit of their own, 0 left out."""
    for key in keys:
        value = table.get(key) if isinstance(table, dict) else None
        if isinstance(value, int | float) and not isinstance(value, bool) and 0 < abs(value) < _HUGE:
            yield key, float(value)


def _named(box: Any) -> float:
    """Return the longest side of the box that a file names, in millimetres."""
    size = SIZES.get(str(box.get("size"))) if isinstance(box, dict) else None
    return LONGEST_MM if size is None else max(size.width_mm, size.length_mm, size.height_mm)


def _called(part: Mapping[str, Any]) -> str:
    return f'"{part["name"]}"' if isinstance(part.get("name"), str) else "a part"
