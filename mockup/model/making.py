"""How a pedal was made and where its pictures and fonts come from: the builder's own words, for the next one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from mockup.model.errors import Fault, InputError

MOST_COPIES = 99  # pedals of a small series, with a box to tick for each: our choice
Purpose = Literal["for myself", "for sale"]


@dataclass(frozen=True, kw_only=True)
class Credit:
    """Where a file comes from, who made it and what its terms allow; empty where nobody has said."""

    file: str
    source: str = ""
    author: str = ""
    terms: str = ""


@dataclass(frozen=True, kw_only=True)
class Copy:
    """One pedal of a small series: its serial number, the day in the builder's words, who got it, fields by name."""

    serial: str
    date: str = ""
    to: str = ""
    fields: Mapping[str, str] = field(default_factory=dict)

    @property
    def values(self) -> dict[str, str]:
        """What its lettering may say, by the name of the field; what is empty is left out."""
        told = {**self.fields, "serial": self.serial, "date": self.date, "to": self.to}
        return {name: value for name, value in told.items() if value}


@dataclass(frozen=True, kw_only=True)
class Making:
    """What the pedal is for, and what the builder wrote down, line by line; `files` are more files that belong to it.

    `credits` has one entry for each picture, font and further file of the pedal. `copies` are the pedals of a
    series; it `is_numbered` where their lettering differs.
    """

    purpose: Purpose | None = None
    paint: tuple[str, ...] = ()
    coats: tuple[str, ...] = ()
    film: tuple[str, ...] = ()
    printer: tuple[str, ...] = ()
    suppliers: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    files: tuple[str, ...] = ()
    credits: tuple[Credit, ...] = ()
    copies: tuple[Copy, ...] = ()
    is_numbered: bool = False

    @property
    def words(self) -> dict[str, tuple[str, ...]]:
        """What the builder wrote down, by topic; topics without a word are left out."""
        told = ("paint", "coats", "film", "printer", "suppliers", "remarks")
        return {name: lines for name in told if (lines := getattr(self, name))}

    @property
    def for_others(self) -> Making:
        """The same without what is nobody else's business: suppliers, remarks, and who bought which."""
        return replace(self, suppliers=(), remarks=(), copies=())

    def serials(self, count: int) -> tuple[str, ...]:
        """Return what each of `count` pedals is called: its serial, or its place in the series."""
        own = [each.serial for each in self.copies[:count]]
        return (*own, *(str(number) for number in range(len(own) + 1, count + 1)))

    def require(self, count: int, place: str) -> None:
        """Raise `InputError` where a series has fewer copies than that; `place` names the layout."""
        if count > len(self.copies):
            what = f"has {len(self.copies)} [[copy]] tables, and {count} copies are asked for"
            raise InputError(Fault(file=place, what=what, remedy="write a [[copy]] table for each pedal of the series"))
