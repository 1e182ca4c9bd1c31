"""What a check has found, as facts: how bad, about what, where, by how much, and what would mend it.

Nobody reads a fact out of a sentence. `mockup.checks.report.sentences` makes the sentences, in the reader's units.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from mockup.model.bore import Bore
from mockup.model.design import Placement
from mockup.model.edit import Edit
from mockup.model.enclosure import FaceName
from mockup.model.finish import Decal
from mockup.model.label import Label

Severity = Literal["stop", "warn", "note"]
SEVERITY_WORDS: dict[Severity, str] = {"stop": "stop", "warn": "warning", "note": "note"}
SEVERITIES: tuple[Severity, ...] = ("stop", "warn", "note")
SubjectKind = Literal["part", "label", "decal", "face", "lettering", "art", "file"]
SHAPES = "the shapes of box and parts as stated"
"""The source of a finding that no limit stands behind: two things cannot be in one place."""


@dataclass(frozen=True)
class Quantity:
    """A figure with its unit: mm, mm², mm³, %, :1, dpi, arcmin, degrees, CIEDE2000, or share (0 to 1, in words)."""

    value: float
    unit: str


def mm(value: float) -> Quantity:
    """Return a length."""
    return Quantity(value, "mm")


@dataclass(frozen=True, kw_only=True)
class Limit(Quantity):
    """One limit that a check compares with: a quantity with its name, source and meaning.

    `is_own` is True where the layout's `[limits]` table overrides the usual value `usual`.
    """

    name: str
    source: str
    about: str
    usual: float
    is_own: bool = False

    @property
    def quantity(self) -> Quantity:
        """The value with its unit alone."""
        return Quantity(self.value, self.unit)


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A place on the pedal that a picture can point at: a circle on a face, in face coordinates.

    `box_mm`, the width and height of what lies there, makes it a rectangle, turned clockwise by `rotation_deg`. For
    something inside the box the mark lies on the face it hangs from, above the spot.
    """

    face: FaceName
    u_mm: float
    v_mm: float
    radius_mm: float = 3.0
    box_mm: tuple[float, float] | None = None
    rotation_deg: float = 0.0

    @classmethod
    def round(cls, thing: Label | Decal) -> Mark:
        """Return a rectangle round lettering or a film; its circle goes through the corners."""
        return cls(
            face=thing.face,
            u_mm=thing.u_mm,
            v_mm=thing.v_mm,
            radius_mm=max(math.hypot(thing.width_mm, thing.height_mm) / 2, 1.0),
            box_mm=(thing.width_mm, thing.height_mm),
            rotation_deg=thing.rotation_deg,
        )

    @classmethod
    def at(cls, thing: Placement | Bore | Label, radius_mm: float) -> Mark:
        """Return a circle round something that stands on a face."""
        return cls(face=thing.face, u_mm=thing.u_mm, v_mm=thing.v_mm, radius_mm=radius_mm)


@dataclass(frozen=True, kw_only=True)
class Subject:
    """One thing that a finding is about, by identity.

    A part, label, decal, face or file is known by its `name`: a label by its text, a decal by its art file. `lettering`
    and other `art` that was only found in a picture has no name: it is known by its `face` and its middle there.
    """

    kind: SubjectKind
    name: str = ""
    face: FaceName | None = None
    u_mm: float = 0.0
    v_mm: float = 0.0

    def apart_mm(self, other: Subject) -> float | None:
        """Return how far apart two things lie that were only found in the art, 0 for one and the same, or None."""
        if self == other:
            return 0.0
        if self.name or (self.kind, self.face, self.name) != (other.kind, other.face, other.name):
            return None
        return math.hypot(self.u_mm - other.u_mm, self.v_mm - other.v_mm)

    @classmethod
    def parts(cls, *names: str) -> tuple[Subject, ...]:
        """Return parts by their names."""
        return tuple(cls(kind="part", name=name) for name in names)


Fact = str | Quantity | Subject | tuple[Subject, ...]


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One thing that will go wrong (stop), is likely to (warn), or is worth knowing (note).

    `title` says it in a few words. `what` and `remedy` are templates of one sentence each: a name in braces is one of
    `facts`, or ``subjects``, ``first``, ``second``, ``measured``, ``limit``, ``by`` (measured, without its sign) or
    ``missing`` (from measured to limit). `edits` mend it where a move or a value does; `remedy` is for where
    none does, or where they do not say it by themselves.
    `limit` is what `measured` has to keep: a `Limit`, or a bare quantity where `origin` alone says why. `marks` are the
    places a picture points at. `check` is filled in by whoever runs the check. `failure` says what went wrong inside a
    check that has no answer, and is empty for all others. `accepted` is the
    builder's reason where the layout accepts it. `unmeasured` names the parts whose figures, taken from memory, decide
    it by a little; it is filled in like `check`. With `is_advice` nothing has to change: `what` is a clause of the one
    line under the report, and the rest is not shown.
    """

    severity: Severity
    title: str
    what: str
    subjects: tuple[Subject, ...] = ()
    remedy: str = ""
    edits: tuple[Edit, ...] = ()
    measured: Quantity | None = None
    limit: Quantity | None = None
    origin: str = SHAPES
    facts: Mapping[str, Fact] = field(default_factory=dict)
    marks: tuple[Mark, ...] = ()
    check: str = ""
    failure: str = ""
    accepted: str = ""
    unmeasured: tuple[str, ...] = ()
    is_advice: bool = False

    @property
    def source(self) -> str:
        """Where the limit comes from."""
        return self.limit.source if isinstance(self.limit, Limit) else self.origin

    def is_about(self, part: str) -> bool:
        """Return whether a part is one of the subjects."""
        return Subject(kind="part", name=part) in self.subjects
