"""What is to go on a new pedal, as a list: parts with their names, clicked together or typed in plain words."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Self

from mockup.arrange.layouts.controls import MOST, Control
from mockup.arrange.names import numbered, suggested
from mockup.hardware import kinds
from mockup.model.part import Kind
from mockup.window.parts import catalogue


@dataclass(frozen=True, kw_only=True)
class Chip:
    """What one click adds: a kind by the word that a builder says; a jack also says which way a signal goes."""

    word: str
    kind: str
    name: str = ""
    is_input: bool | None = None


CHIPS = (
    Chip(word="Pot", kind="pot-16"),
    Chip(word="Small toggle", kind="toggle-mini"),
    Chip(word="Lamp", kind="lamp-5"),
    Chip(word="Footswitch", kind="footswitch"),
    Chip(word="Jack in", kind="jack-enclosed", name="IN", is_input=True),
    Chip(word="Jack out", kind="jack-enclosed", name="OUT", is_input=False),
    Chip(word="DC socket", kind="dc-socket"),
)
"""What most pedals have, in the order in which one lists it: our choice."""

_SAID = {
    "pot": "pot-16", "knob": "pot-16", "control": "pot-16", "switch": "toggle-mini", "toggle": "toggle-mini",
    "small toggle": "toggle-mini", "toggle switch": "toggle-mini", "large toggle": "toggle", "big toggle": "toggle",
    "lamp": "lamp-5", "led": "lamp-5", "light": "lamp-5", "footswitch": "footswitch", "foot switch": "footswitch",
    "stomp switch": "footswitch", "stomp": "footswitch", "bypass switch": "footswitch", "jack": "jack-enclosed",
    "in": "jack-enclosed", "input": "jack-enclosed", "out": "jack-enclosed", "output": "jack-enclosed",
    "dc": "dc-socket", "power": "dc-socket", "9 volt": "dc-socket", "9v": "dc-socket", "9 v": "dc-socket",
    "power socket": "dc-socket", "socket": "dc-socket", "battery": "battery-9v", "9 volt battery": "battery-9v",
    "fader": "fader-30", "slider": "fader-30", "slide pot": "fader-30",
    "9v battery": "battery-9v", "9 v battery": "battery-9v", "rotary": "rotary-switch",
}  # fmt: skip
"""Plain words for the kind that is meant most often; common practice, no source."""
_WAYS = {"in": "IN", "input": "IN", "out": "OUT", "output": "OUT"}
_COUNTS = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
}  # fmt: skip
_EMPTY = frozenset(["the", "of", "called", "named", "for", "with", "in", "mm"])
_UNITS = frozenset(["mm", "v", "volt", "volts", "pin"])  # a number before one of these counts no parts
_ITEM = re.compile(r"[,;\n+]|\band\b", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Listed:
    """One part of the list: its name and its kind."""

    name: str
    kind: str


@dataclass(frozen=True, kw_only=True)
class ControlList:
    """Parts in the order in which they were listed; no two have one name."""

    rows: tuple[Listed, ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """The list as the arranger takes it."""
        return tuple(f"{row.name}={row.kind}" for row in self.rows)

    @property
    def names(self) -> tuple[str, ...]:
        """The names in order."""
        return tuple(row.name for row in self.rows)

    def of(self, chip: Chip) -> tuple[Listed, ...]:
        """Return the parts that a chip stands for."""
        return tuple(row for row in self.rows if _is_of(chip, row))

    def more(self, kind: str, name: str = "") -> Self:
        """Return the list with one more part of a kind, of that name or of one that suits it.

        Raises `ValueError` where the list is full.
        """
        if len(self.rows) >= MOST:
            raise ValueError(f"A pedal takes up to {MOST} parts")
        found = numbered(_clean(name), self.names) if _clean(name) else suggested(kinds()[kind], self.names)
        return replace(self, rows=(*self.rows, Listed(name=found, kind=kind)))

    def fewer(self, chip: Chip) -> Self:
        """Return the list without the last part that a chip stands for."""
        there = self.of(chip)
        return self.without(self.rows.index(there[-1])) if there else self

    def without(self, index: int) -> Self:
        """Return the list without one part."""
        return replace(self, rows=(*self.rows[:index], *self.rows[index + 1 :]))

    def renamed(self, index: int, name: str) -> Self:
        """Return the list with another name for one part; `ValueError` where that is empty or taken."""
        said = _clean(name)
        if not said:
            raise ValueError("A part needs a name")
        if said in (*self.names[:index], *self.names[index + 1 :]):
            raise ValueError(f"Another part is called {said}")
        row = replace(self.rows[index], name=said)
        return replace(self, rows=(*self.rows[:index], row, *self.rows[index + 1 :]))

    def typed(self, text: str) -> Self:
        """Return the list with what was typed in plain words, such as ``2 pots, toggle MODE, in, out, 9 volt``.

        Raises `ValueError` for what names no part.
        """
        found = self
        for item in filter(None, map(str.strip, _ITEM.split(text))):
            kind, names = _read(item)
            for name in names:
                found = found.more(kind, name)
        return found


def usual() -> ControlList:
    """Return what a small pedal has: two pots, a lamp, a footswitch, two jacks and a DC socket."""
    found = ControlList()
    for chip in (CHIPS[0], CHIPS[0], *CHIPS[2:]):
        found = found.more(chip.kind, chip.name)
    return found


def _is_of(chip: Chip, row: Listed) -> bool:
    if row.kind != chip.kind:
        return False
    return chip.is_input is None or Control(name=row.name, kind=kinds()[row.kind]).is_input == chip.is_input


def _clean(name: str) -> str:
    """Return a name without what parts a name from its kind."""
    return " ".join(name.replace("=", " ").split())


def _read(item: str) -> tuple[str, tuple[str, ...]]:
    """Return the kind that an item names, and a name for each part, "" for one that suits it."""
    words = item.split()
    count = _count(words)
    words = words[1:] if count is not None else words
    found = _kind(words)
    if found is None:
        raise ValueError(f"No part is called {item}. Say pot, toggle, lamp, footswitch, in, out or 9 volt")
    kind, start, end = found
    said = [word for word in words[start:end] if word.lower() in _WAYS]
    rest = [word for word in (*words[:start], *words[end:]) if word.lower() not in _EMPTY or word.isupper()]
    ways = [_WAYS[word.lower()] for word in (*said, *rest) if word.lower() in _WAYS]
    if kinds()[kind].family == "jack" and ways:
        rest = [word for word in rest if word.lower() not in _WAYS] or ways[:1]
    return kind, _names(count or 1, rest)


def _names(count: int, words: Sequence[str]) -> tuple[str, ...]:
    if count > 1 and len(words) == count:
        return tuple(words)
    return (" ".join(words),) * count


def _count(words: Sequence[str]) -> int | None:
    first, second = words[0].lower(), words[1].lower() if len(words) > 1 else ""
    if not second or second in _UNITS:
        return None
    return int(first) if first.isdigit() and 0 < int(first) <= MOST else _COUNTS.get(first)


def _kind(words: Sequence[str]) -> tuple[str, int, int] | None:
    """Return the kind that the longest run of words names, and where it stands; the last of several of one length."""
    known = kinds()
    for length in range(len(words), 0, -1):
        for start in range(len(words) - length, -1, -1):
            kind = _named([word.lower() for word in words[start : start + length]], known)
            if kind is not None:
                return kind, start, start + length
    return None


def _named(words: Sequence[str], known: Mapping[str, Kind]) -> str | None:
    """Return the kind that words name, each of them whole: the one that is meant most often, else the first."""
    for said in (words, [_singular(word) for word in words]):
        if " ".join(said) in _SAID:
            return _SAID[" ".join(said)]
        found = [name for name, kind in known.items() if set(said) <= _words_of(kind)]
        if found and not set(said) <= _EMPTY and not " ".join(said).isdigit():
            return next((name for name in found if name in _SAID.values()), found[0])
    return None


def _words_of(kind: Kind) -> set[str]:
    said = f"{catalogue.title(kind)} {kind.name}".lower()
    return {word for word in re.split(r"[\s,()-]+", said) if word}


def _singular(word: str) -> str:
    for ending in ("ches", "s"):
        if word.endswith(ending) and len(word) > len(ending) + 1:
            return word[: -len("es")] if ending == "ches" else word[:-1]
    return word
