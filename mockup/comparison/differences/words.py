"""Words that a comparison uses: lengths, ways, colours, sizes."""

from __future__ import annotations

import math
import re

from mockup.colour import rgb
from mockup.model.enclosure import Enclosure, FaceName
from mockup.model.finish import Finish
from mockup.model.material import Colour
from mockup.model.units import MM_PER_INCH, Unit

FACE_WORDS: dict[FaceName, str] = {
    "top": "top",
    "near": "near side",
    "far": "far side",
    "left": "left side",
    "right": "right side",
}
_FOUND = re.compile(r"lettering (\S+) mm from the left, (\S+) mm from the top")  # as `checks` call it by its place
_ROUNDED_MM = math.sqrt(2.0)  # at most, between the distance of two places said to the millimetre and the true one
_WAYS = {"top": ("nearer the player", "away from the player"), "side": ("lower", "higher")}


def length(mm: float, units: Unit) -> str:
    """Return a length as a builder says it: a decimal of a millimetre, two where it has them, three of an inch."""
    if units == "in":
        return f"{mm / MM_PER_INCH:.3f} in"
    text = f"{mm:.2f}"
    return f"{text[:-1] if text.endswith('0') else text} mm"


def is_length(mm: float, units: Unit) -> bool:
    """Return whether a length is more than nothing, as it is shown."""
    return abs(mm) >= (0.005 if units == "mm" else 0.0005 * MM_PER_INCH)


def way(right_mm: float, down_mm: float, face: FaceName, units: Unit) -> str:
    """Return a move over a face in plain words, looking straight at it: ``4.0 mm to the right, 2.0 mm lower``."""
    words = []
    if is_length(right_mm, units):
        words.append(f"{length(abs(right_mm), units)} to the {'right' if right_mm > 0 else 'left'}")
    if is_length(down_mm, units):
        down, up = _WAYS["top" if face == "top" else "side"]
        words.append(f"{length(abs(down_mm), units)} {down if down_mm > 0 else up}")
    return ", ".join(words)


def box_size(box: Enclosure, units: Unit) -> str:
    """Return a box's length, width and height in one go."""
    sides = (box.length_mm, box.width_mm, box.height_mm)
    if units == "in":
        return " × ".join(f"{side / MM_PER_INCH:.3f}" for side in sides) + " in"
    return " × ".join(f"{side:.6g}" for side in sides) + " mm"


def linear_hex(colour: Colour) -> str:
    """Return a linear sRGB colour as an editor writes it."""
    return rgb.to_hex(rgb.encode(colour))


def paint(finish: Finish) -> str:
    """Return a paint in words."""
    return rgb.to_hex(finish.paint) if finish.sheen.is_painted else "bare metal"


def listed(names: list[str]) -> str:
    """Return names in a row: ``A``, ``A and B``, ``A, B and C``."""
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def lettering_at(name: str) -> tuple[str, str] | None:
    """Return from the name of lettering that was only found in the art how far it is from the left and the top.

    In millimetres, as text; None for lettering with a name of its own.
    """
    match = _FOUND.fullmatch(name)
    return (match[1], match[2]) if match else None


def lettering_apart(one: str, other: str) -> float | None:
    """Return how far apart (mm) two names say that lettering found in the art is; None for other names."""
    here, there = lettering_at(one), lettering_at(other)
    if here is None or there is None:
        return None
    return math.hypot(float(here[0]) - float(there[0]), float(here[1]) - float(there[1]))


def is_near(apart_mm: float, near_mm: float) -> bool:
    """Return whether what is said to be so far apart may lie within `near_mm`, which is 0 where nothing may."""
    return 0.0 < near_mm >= apart_mm - _ROUNDED_MM
