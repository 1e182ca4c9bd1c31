"""A list of controls: what is to go on a pedal, by name and kind, and what is known of where."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from mockup.arrange.problem import Relation
from mockup.hardware import kinds
from mockup.layout import ruler
from mockup.model.design import Placement
from mockup.model.enclosure import FACES, Enclosure, FaceName, faces
from mockup.model.errors import Fault, InputError, nearest
from mockup.model.part import Kind

MOST = 40  # controls that one pedal may have: our choice
GroupKind = Literal["row", "column", "pair", "over"]
"""What a group keeps: one line across, one line down, mirrored about the middle, a lamp over its switch."""
GROUP_KINDS: tuple[GroupKind, ...] = get_args(GroupKind)
_FORM = "write NAME=KIND, as in GAIN=pot-16"
_INTO = re.compile(r"^(IN|RETURN|RTN|EXP)", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Pin:
    """Where a part has to stand, as a ruler reads it, millimetres; an axis without a figure is centred."""

    left: float | None = None
    right: float | None = None
    top: float | None = None
    bottom: float | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class Control:
    """One part to place: `faces` on which alone it may stand, none for any; its place where it has a `pin`.

    `turn_deg` is how it is turned where that is given.
    """

    name: str
    kind: Kind
    faces: tuple[FaceName, ...] = ()
    pin: Pin | None = None
    turn_deg: float | None = None

    @property
    def is_input(self) -> bool:
        """Whether a signal goes in here, by its name: the trade puts that on the right."""
        return _INTO.match(self.name) is not None

    def pinned_at(self, box: Enclosure) -> tuple[float, float] | None:
        """Return where (u, v) on its first face it is pinned; None where it is not."""
        if self.pin is None:
            return None
        face, pin = faces(box)[self.faces[0] if self.faces else "top"], self.pin
        return ruler.centre(face, left=pin.left, right=pin.right, top=pin.top, bottom=pin.bottom)


@dataclass(frozen=True, kw_only=True)
class Group:
    """Parts that belong together, in their order: from left to right, from far to near, or lamp and switch."""

    kind: GroupKind
    names: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, eq=False)
class Wanted:
    """What goes on a pedal: its controls in the order in which they are named, and their groups."""

    controls: tuple[Control, ...]
    groups: tuple[Group, ...] = ()

    def named(self, name: str) -> Control:
        """Return a control by name."""
        return next(each for each in self.controls if each.name == name)

    def pinned(self, parts: Iterable[Placement]) -> frozenset[str]:
        """Return the names of those parts that stay where they are."""
        return frozenset(part.name for part in parts if self.named(part.name).pin is not None)

    def true_of(self, relations: Iterable[Relation], parts: Sequence[Placement]) -> tuple[Relation, ...]:
        """Return those relations that move a part, and are true as they stand where they hold a pinned one too."""
        found = []
        for each in relations:
            are_free = [self.named(name).pin is None for name in each.parts]
            if all(are_free) or (any(are_free) and each.is_kept(parts)):
                found.append(each)
        return tuple(found)


def controls(
    words: Iterable[str], source: str = "the list of controls", known: Mapping[str, Kind] | None = None
) -> Wanted:
    """Return the controls that words such as ``GAIN=pot-16`` or ``DC=dc-socket@far`` name.

    Several faces are parted by commas. `known` are the kinds by name, those of the parts table without it. Raises
    `InputError` with one `Fault` per word that names none.
    """
    known, found, faults = known or kinds(), list[Control](), list[Fault]()
    for word in words:
        name, equals, rest = (each.strip() for each in word.partition("="))
        kind, at, face = (each.strip() for each in rest.partition("@"))
        if not (equals and name and kind):
            faults.append(Fault(file=source, what=f"{word!r} is no control", remedy=_FORM))
            continue
        named = [each.strip() for each in face.split(",")] if at else []
        wrong = list(control_faults(source, name, kind, named, known, [each.name for each in found]))
        faults += wrong
        if not wrong:
            found.append(Control(name=name, kind=known[kind], faces=known_faces(named)))
    faults += count_faults(source, len(found), is_empty=not faults)
    if faults:
        raise InputError(faults)
    return Wanted(controls=tuple(found))


def control_faults(
    source: str, name: str, kind: str, named: Iterable[str], known: Mapping[str, Kind], taken: Iterable[str]
) -> Iterator[Fault]:
    """Yield what is wrong with a control: an unknown kind or face, a name that another has."""
    if kind not in known:
        remedy = nearest(kind, known, "mockup parts")
        yield Fault(file=source, what=f"{name} has an unknown kind {kind!r}", remedy=remedy)
    for face in named:
        if face not in FACES:
            yield Fault(file=source, what=f"{name} stands on an unknown face {face!r}", remedy=nearest(face, FACES))
    if name in taken:
        yield Fault(file=source, what=f"two controls are called {name}", remedy="give each its own name")


def count_faults(source: str, count: int, *, is_empty: bool) -> Iterator[Fault]:
    """Yield that there are too many controls, or none where the list `is_empty`."""
    if not count and is_empty:
        yield Fault(file=source, what="names no controls", remedy=_FORM)
    if count > MOST:
        yield Fault(file=source, what=f"names {count} controls", remedy=f"one pedal takes up to {MOST}")


def known_faces(named: Iterable[str]) -> tuple[FaceName, ...]:
    """Return faces by their names, those that are none left out."""
    return tuple(face for name in named for face in FACES if face == name)


def lines(text: str) -> Iterator[str]:
    """Yield the controls of a list file, one a line; what follows a # is a remark."""
    for line in text.splitlines():
        word = line.partition("#")[0].strip()
        if word:
            yield word
