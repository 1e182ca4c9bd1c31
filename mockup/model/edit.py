"""Changes to a layout, as data: where a key stands, and what an edit does to it.

An edit says what is wanted, never how the file is written; `mockup.layout.edit` turns a list of edits and a text into
a new text. Nothing here fails: an edit that a file does not allow raises `InputError` where it is applied.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

Step = str | int
Value = bool | int | float | str | tuple["Value", ...] | list["Value"] | Mapping[str, "Value"]
"""A value as TOML knows it: truth, number, text, a list, or a table by key."""


@dataclass(frozen=True, kw_only=True)
class Address:
    """Where a key, a table or a list of tables stands in a layout.

    `way` holds the steps from the top of the layout, such as ``("part", "TONE", "left")``, ``("finish", "paint")``,
    ``("decal", 0, "film")`` or ``("label",)``. One table of a list is named by its number in the file, counted from 0,
    or by what tells it apart: a part or a kind by its name, a decal or a border by its face, a label by its text or
    its part, a scale by its part (the first of several that agree). `variant` names the variant that the key is
    written in; None is the layout itself. In a variant a number counts the tables that the variant shows, the
    layout's first.
    """

    way: tuple[Step, ...]
    variant: str | None = None

    @property
    def place(self) -> tuple[Step, ...]:
        """The steps from the top of the file, through the variant's own table."""
        return self.way if self.variant is None else ("variants", self.variant, *self.way)

    @classmethod
    def at(cls, place: tuple[Step, ...]) -> Address:
        """Return the address of a place, given by its steps from the top of the file."""
        if place[:1] == ("variants",) and len(place) > 1:
            return cls(way=place[2:], variant=str(place[1]))
        return cls(way=place)

    def inside(self, *steps: Step) -> Address:
        """Return the address of something in the table that stands here."""
        return Address(way=(*self.way, *steps), variant=self.variant)

    def __str__(self) -> str:
        """Return the address in words: ``part TONE left``, with ``in variant night`` behind it where it is in one."""
        words = " ".join(str(step + 1) if isinstance(step, int) else step for step in self.way)
        return words if self.variant is None else f"{words} in variant {self.variant}".strip()


@dataclass(frozen=True, kw_only=True)
class PutValue:
    """Give a key a value, whether or not it has one; a table that it needs is made.

    A key that contradicts it goes: the opposite side of an axis, the box's own measures beside a named size, a
    decal's resolution beside its size. In a variant that has no labels, scales, borders or decals of its own yet, the
    layout's are copied into it first.
    """

    address: Address
    value: Value


@dataclass(frozen=True, kw_only=True)
class PutLength:
    """Give a key a length in millimetres, written as the file writes it: its unit, its decimals, its fractions."""

    address: Address
    mm: float


@dataclass(frozen=True, kw_only=True)
class RemoveValue:
    """Take a key, or a single table such as a part's knob, out of the file; nothing happens where it is not there."""

    address: Address


@dataclass(frozen=True, kw_only=True)
class InsertTable:
    """Add a table to a list of tables: a part, decal, label, scale, border or kind.

    `address` is the list, such as ``("part",)``. `index` is its number afterwards, from 0; None puts it last. A name
    that is taken, or that a part or kind lacks, is refused.
    """

    address: Address
    values: Mapping[str, Value]
    index: int | None = None


@dataclass(frozen=True, kw_only=True)
class DuplicateTable:
    """Add a copy of one table of a list right behind it, comments inside it included.

    A part or kind needs a `name` of its own. The labels and scales of a part are not copied.
    """

    address: Address
    name: str | None = None


@dataclass(frozen=True, kw_only=True)
class RenameTable:
    """Give a part or a kind another name, and name it so wherever the file does: labels, scales, every variant."""

    address: Address
    name: str


@dataclass(frozen=True, kw_only=True)
class RemoveTable:
    """Take one table out of a list.

    A part takes its labels and scales along, and what variants change of it. Taken out of a variant, a part of the
    layout stays there and is left out of the variant alone. A kind that a part still has is refused.
    """

    address: Address


@dataclass(frozen=True, kw_only=True)
class ReorderTable:
    """Move one table of a list to another number, counted from 0; a number past the end means last."""

    address: Address
    index: int


@dataclass(frozen=True, kw_only=True)
class MakeVariant:
    """Add a variant; `like` names one that it starts as a copy of, None one that changes nothing."""

    name: str
    like: str | None = None


@dataclass(frozen=True, kw_only=True)
class RenameVariant:
    """Give a variant another name."""

    variant: str
    name: str


@dataclass(frozen=True, kw_only=True)
class RemoveVariant:
    """Take a variant out of the file."""

    variant: str


@dataclass(frozen=True, kw_only=True)
class AdoptVariant:
    """Make a variant the layout itself: what it changes goes into the layout, and its own table goes.

    What the layout gave before is lost. The other variants keep their own keys, which now change the new layout.
    """

    variant: str


@dataclass(frozen=True, kw_only=True)
class Move:
    """Move a part, label or decal over its face, millimetres to the right and down as seen from outside.

    It is written in the keys by which the file measures its place: `left` or `right`, `top` or `bottom`, or the gap
    between a label and its part. `size_mm` is how wide and high a label or decal is before it is turned; it is needed
    only where neither the layout's keys say so nor along which edge it is measured. Refused where the place cannot be
    told.
    """

    address: Address
    right_mm: float = 0.0
    down_mm: float = 0.0
    size_mm: tuple[float, float] | None = None


Edit = (
    PutValue
    | PutLength
    | RemoveValue
    | InsertTable
    | DuplicateTable
    | RenameTable
    | RemoveTable
    | ReorderTable
    | MakeVariant
    | RenameVariant
    | RemoveVariant
    | AdoptVariant
    | Move
)
