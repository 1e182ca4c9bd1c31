"""A list of controls: what is to go on a pedal, by name and kind, before anybody knows where."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mockup.hardware import kinds
from mockup.model.enclosure import FACES, FaceName
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.part import Kind

MOST = 40  # controls that one pedal may have: our choice
_FORM = "write NAME=KIND, as in GAIN=pot-16"
_INTO = re.compile(r"^(IN|RETURN|RTN|EXP)", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True, eq=False)
class Control:
    """One part to place; `face` where it has to be on a certain one."""

    name: str
    kind: Kind
    face: FaceName | None = None

    @property
    def is_input(self) -> bool:
        """Whether a signal goes in here, by its name: the trade puts that on the right."""
        return _INTO.match(self.name) is not None


def controls(words: Iterable[str], source: str = "the list of controls") -> tuple[Control, ...]:
    """Return the controls that words such as ``GAIN=pot-16`` or ``DC=dc-socket@far`` name.

    Raises `InputError` with one `Fault` per word that names none.
    """
    known, found, faults = kinds(), list[Control](), list[Fault]()
    for word in words:
        name, equals, rest = (each.strip() for each in word.partition("="))
        kind, _, face = (each.strip() for each in rest.partition("@"))
        if not (equals and name and kind):
            faults.append(Fault(file=source, what=f"{word!r} is no control", remedy=_FORM))
        elif kind not in known:
            remedy = f"{nearest(kind, known)}; mockup parts lists them"
            faults.append(Fault(file=source, what=f"{name} has an unknown kind {kind!r}", remedy=remedy))
        elif face and face not in FACES:
            remedy = nearest(face, FACES)
            faults.append(Fault(file=source, what=f"{name} stands on an unknown face {face!r}", remedy=remedy))
        elif name in [each.name for each in found]:
            faults.append(Fault(file=source, what=f"two controls are called {name}", remedy="give each its own name"))
        else:
            on = next((each for each in FACES if each == face), None)
            found.append(Control(name=name, kind=known[kind], face=on))
    if not faults and not found:
        faults.append(Fault(file=source, what="names no controls", remedy=_FORM))
    if len(found) > MOST:
        faults.append(Fault(file=source, what=f"names {len(found)} controls", remedy=f"one pedal takes up to {MOST}"))
    if faults:
        raise InputError(faults)
    return tuple(found)


def lines(text: str) -> Iterator[str]:
    """Yield the controls of a list file, one a line; what follows a # is a remark."""
    for line in text.splitlines():
        word = line.partition("#")[0].strip()
        if word:
            yield word
