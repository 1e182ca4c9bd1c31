"""Words that a comparison uses: lengths, ways, colours, sizes."""

from __future__ import annotations

from mockup.colour import rgb
from mockup.decal.painting import paint_words
from mockup.model.enclosure import Enclosure, FaceName
from mockup.model.finish import Finish
from mockup.model.material import Colour
from mockup.model.units import MM_PER_INCH, Unit

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


def counted(stops: int, warnings: int, notes: int = 0, more: str = "") -> list[str]:
    """Return findings as words, those that there are: ``2 stops``, ``1 warning``; `more` stands before each word."""
    words = ((stops, "stop"), (warnings, "warning"), (notes, "note"))
    return [f"{count} {more}{word}{'s' * (count != 1)}" for count, word in words if count > 0]


def turned(old_deg: float, new_deg: float) -> str:
    """Return a turn in words: ``45° clockwise``, "" where there is none to speak of."""
    turn = (new_deg - old_deg + 180.0) % 360.0 - 180.0
    if abs(turn) < 0.05:
        return ""
    side = "clockwise" if turn > 0 else "anticlockwise"
    return f"{round(abs(turn), 2):g}° {side}" if abs(turn) < 180 else "half round"


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
    return paint_words(finish) if finish.sheen.is_painted else "bare metal"
