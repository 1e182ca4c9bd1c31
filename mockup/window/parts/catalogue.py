"""The drawer's order: kinds of part by what a hand does with them, in plain words, and how they are found."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from mockup.model.part import Kind
from mockup.model.text import capitalized

OWN = "Your own"
_INSIDE, _TURNED, _SLID, _LIT, _MORE = "Inside", "Turned by hand", "Slid by hand", "Lit", "More"
_GROUPS: dict[str, str] = {
    "potentiometer": _TURNED, "rotary-switch": _TURNED, "toggle": "Flicked", "slide-switch": "Flicked",
    "fader": _SLID,
    "footswitch": "Stepped on", "lamp": _LIT, "jack": "Plugged in", "dc-socket": "Plugged in",
    "din-socket": "Plugged in", "battery": _INSIDE, "board": _INSIDE,
}  # fmt: skip
_ORDER = (_TURNED, _SLID, "Flicked", "Stepped on", _LIT, "Plugged in", _INSIDE, _MORE, OWN)
_TITLES = {
    "pot-9": "Pot, 9 mm", "pot-16": "Pot, 16 mm", "pot-24": "Pot, 24 mm", "rotary-switch": "Rotary switch",
    "toggle": "Large toggle", "toggle-mini": "Small toggle", "slide-switch": "Slide switch",
    "footswitch": "Footswitch", "footswitch-momentary": "Soft footswitch", "lamp-3": "3 mm lamp",
    "lamp-5": "5 mm lamp", "jack-open": "Open jack", "jack-enclosed": "Enclosed jack", "dc-socket": "DC socket",
    "toggle-mini-single": "1-pole toggle", "toggle-sub-mini": "Tiny toggle", "fader-30": "Fader, 30 mm",
    "fader-60": "Fader, 60 mm", "lamp-3-bare": "3 mm lamp, bare", "lamp-5-bare": "5 mm lamp, bare",
    "dc-socket-nut-outside": "DC, nut outside", "dc-socket-8": "DC socket, 8 mm",
    "din-5": "DIN socket", "battery-9v": "9 V battery", "board": "Circuit board",
}  # fmt: skip
_WORDS = {
    "potentiometer": "pot knob control dial turn volume tone", "rotary-switch": "knob selector turn",
    "toggle": "switch flick lever spdt dpdt", "slide-switch": "switch slider",
    "fader": "slider slide pot linear volume level", "footswitch": "stomp bypass foot switch button",
    "lamp": "led light bulb lit indicator", "jack": "in out input output plug socket quarter inch 1/4 6.35 send return",
    "dc-socket": "power supply 9 volt volts 9v adapter plug", "din-socket": "midi five pin plug",
    "battery": "9 volt volts 9v power block", "board": "pcb circuit veroboard",
}  # fmt: skip
"""Plain words that a builder may look for, by family; common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class Shelf:
    """One group of the drawer: its head and the kinds in it."""

    title: str
    kinds: tuple[Kind, ...]


def title(kind: Kind) -> str:
    """Return what a kind is called in the drawer and on its sheet."""
    if kind.is_own:
        return kind.name
    head = kind.about.partition(",")[0].strip()
    return _TITLES.get(kind.name) or capitalized(head) or kind.name


def group(kind: Kind) -> str:
    """Return the drawer's group of a kind; one of a new family goes by what it has."""
    if kind.is_own:
        return OWN
    if kind.family in _GROUPS:
        return _GROUPS[kind.family]
    if kind.mount == "inside":
        return _INSIDE
    return _TURNED if kind.shaft is not None else _LIT if kind.is_lamp else _MORE


def shelves(kinds: Mapping[str, Kind], wanted: str = "") -> tuple[Shelf, ...]:
    """Return the drawer's groups, those left out that hold nothing that is wanted; the best match of a group first."""
    found: dict[str, list[tuple[int, Kind]]] = {name: [] for name in _ORDER}
    for kind in kinds.values():
        rank = match(kind, wanted)
        if rank is not None:
            found[group(kind)].append((rank, kind))
    return tuple(
        Shelf(title=name, kinds=tuple(kind for _, kind in sorted(each, key=lambda pair: pair[0])))
        for name, each in found.items()
        if each
    )


def match(kind: Kind, wanted: str) -> int | None:
    """Return how well a kind answers what was typed, 0 the best; None where a word of it is nowhere found."""
    words = _split(wanted)
    if not words:
        return 0
    named, known = _split(f"{title(kind)} {kind.name}"), _split(f"{kind.about} {_WORDS.get(kind.family, '')}")
    rank = 0
    for word in words:
        if any(each.startswith(word) for each in named):
            continue
        if not any(each.startswith(word) for each in (*known, *_split(group(kind)))):
            return None
        rank += 1
    return rank


def _split(text: str) -> list[str]:
    return [word for word in re.split(r"[\s,()-]+", text.lower()) if word]
