"""How large a millimetre is on a screen: from its known resolution, or measured with a card."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping

from mockup import files
from mockup.model.errors import Fault, InputError
from mockup.model.units import MM_PER_INCH

CARD_MM = (85.60, 53.98)  # ISO/IEC 7810:2019, ID-1: the size of bank and identity cards
DPI_LIMITS = (40.0, 800.0)  # a projector's wall to a telephone: common practice, no source
_REMEDY = "remove the file and measure the screen again"


def from_dpi(dpi: float) -> float:
    """Return pixels per millimetre of a screen; raises `InputError` where no screen has that resolution."""
    low, high = DPI_LIMITS
    if not (math.isfinite(dpi) and low <= dpi <= high):
        what = f"{dpi:g} pixels per inch is out of range"
        raise InputError(Fault(file="screen", what=what, remedy=f"expected {low:g} to {high:g}"))
    return dpi / MM_PER_INCH


def from_card(outline_px: float) -> float:
    """Return pixels per millimetre from an outline that was made as wide as a card: its width in pixels."""
    return from_dpi(outline_px / CARD_MM[0] * MM_PER_INCH)


def card_px(px_per_mm: float) -> tuple[float, float]:
    """Return the width and height in pixels of a card's outline on a screen."""
    return CARD_MM[0] * px_per_mm, CARD_MM[1] * px_per_mm


def measured(name: str) -> float | None:
    """Return the pixels per millimetre that were measured on the screen of that name, None if never.

    Raises `InputError` where the settings are broken.
    """
    return read(files.read_screens(), str(files.screens_file())).get(name)


def keep(name: str, px_per_mm: float) -> None:
    """Keep what was measured on a screen; raises `InputError` or `OutputError`."""
    kept = read(files.read_screens(), str(files.screens_file()))
    files.write_all({files.screens_file(): written({**kept, name: px_per_mm}).encode()})


def written(screens: Mapping[str, float]) -> str:
    """Return the settings text of measured screens, in order of name."""
    table = {name: {"px_per_mm": screens[name]} for name in sorted(screens)}
    return json.dumps({"screens": table}, indent=2, ensure_ascii=False) + "\n"


def read(text: str | None, source: str) -> dict[str, float]:
    """Return measured screens from a settings text; `InputError` in one line where it is broken."""
    if text is None:
        return {}
    try:
        table = json.loads(text)["screens"]
        found = {str(name): float(entry["px_per_mm"]) for name, entry in table.items()}
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise InputError(Fault(file=source, what="holds no measured screens", remedy=_REMEDY)) from None
    return {name: from_dpi(value * MM_PER_INCH) for name, value in found.items()}
