"""What is said of the room round a carried part: a row of the sheet, a tag at its bar."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.checks.panel.clearance import Clearance
from mockup.model.units import MM_PER_INCH, Unit

_OWN = {
    "knob": "Knob", "hole": "Hole", "nut": "Nut", "washer": "Washer", "body": "Body", "wire": "Wire", "plug": "Plug",
    "middle": "Middle",
}  # fmt: skip
ROWS, BARS = 5, 4
"""How many of the nearest things are told in the sheet, and how many are drawn: the window's design."""


def words(each: Clearance) -> str:
    """Return what the room is between: ``Knob to knob, FLOW``, ``Body to the lid``."""
    own = _OWN[each.own]
    if each.thing is None:
        return f"{own} to {each.other}"
    if each.thing == "nut" or (each.thing == "body" and each.own == "body"):
        return f"{own} to {each.other}" if each.own != "nut" else f"Nut to nut, {each.other}"
    return f"{own} to {each.thing}, {each.other}"


def figure(mm: float, unit: Unit) -> str:
    """Return a room as it is read off: a tenth of a millimetre, a hundredth of an inch."""
    text = f"{mm / MM_PER_INCH:.2f}" if unit == "in" else f"{mm:.1f}"
    return text.removeprefix("-") if not text.strip("-0.") else text


def tag(each: Clearance, unit: Unit) -> str:
    """Return what stands at a bar: ``4.3 to FORD, tight``, ``1.1 into FORD``."""
    size = figure(abs(each.room_mm), unit)
    if each.room_mm < 0:
        return f"{size} into {each.other}" if each.other != "the edge" else f"{size} over the edge"
    return f"{size} to {each.other}" + (", tight" if each.severity == "warn" else "")


def sentence(name: str, each: Clearance, unit: Unit) -> str:
    """Return what is said of a part: ``FLOW runs 6.0 mm into FORD``, ``BYPASS is 2.1 mm over the edge``."""
    size = f"{figure(abs(each.room_mm), unit)} {unit}"
    if each.room_mm >= 0:
        return f"{name} has only {size} to {each.other}"
    return f"{name} is {size} over the edge" if each.other == "the edge" else f"{name} runs {size} into {each.other}"


def told(found: Iterable[Clearance], most: int = ROWS) -> tuple[Clearance, ...]:
    """Return what is worth telling, the worst first, one of each pair of things."""
    seen: set[tuple[str, str]] = set()
    kept = []
    for each in found:
        key = (each.own, each.other)
        if key not in seen and (each.own != "middle" or each.severity is not None):
            seen.add(key)
            kept.append(each)
    return tuple(kept[:most])


def barred(found: Iterable[Clearance]) -> tuple[Clearance, ...]:
    """Return what is drawn as bars: to each thing the tightest, the worst first."""
    seen: set[str] = set()
    kept = []
    for each in found:
        if each.ends is not None and each.other not in seen and (each.own != "middle" or each.severity is not None):
            seen.add(each.other)
            kept.append(each)
    return tuple(kept[:BARS])
