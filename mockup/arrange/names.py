"""Names that a new part may have, by what it is."""

from __future__ import annotations

from collections.abc import Iterable

from mockup.model.part import Kind

_NAMES: dict[str, tuple[str, ...]] = {
    "potentiometer": ("LEVEL", "TONE", "GAIN", "MIX", "RATE", "DEPTH"),
    "rotary-switch": ("SELECT", "VOICE"),
    "fader": ("LEVEL", "BASS", "MIDDLE", "TREBLE", "MIX"),
    "toggle": ("MODE", "RANGE", "VOICE"),
    "slide-switch": ("RANGE", "MODE"),
    "lamp": ("LAMP",),
    "footswitch": ("BYPASS", "BOOST"),
    "jack": ("IN", "OUT", "SEND", "RETURN"),
    "dc-socket": ("POWER",),
    "din-socket": ("SYNC",),
    "battery": ("BATTERY",),
    "board": ("BOARD",),
}
"""Names by family, in the order in which they are used up; common practice, no source."""


def suggested(kind: Kind, taken: Iterable[str]) -> str:
    """Return a name for a new part of a kind that no part has yet."""
    names = set(taken)
    wishes = _NAMES.get(kind.family, (kind.name.upper().replace("-", " "),))
    free = next((name for name in wishes if name not in names), None)
    if free is not None:
        return free
    return numbered(wishes[0], names)


def numbered(name: str, taken: Iterable[str]) -> str:
    """Return a name that is not taken: the name itself, else with the first free number from 2 behind it."""
    names = set(taken)
    if name not in names:
        return name
    stem, _, last = name.rpartition(" ")
    stem = stem if last.isdigit() and stem else name
    number = 2
    while f"{stem} {number}" in names:
        number += 1
    return f"{stem} {number}"
