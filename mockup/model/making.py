"""How a pedal was made and where its pictures and fonts come from: the builder's own words, for the next one."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Literal

Purpose = Literal["for myself", "for sale"]


@dataclass(frozen=True, kw_only=True)
class Credit:
    """Where a file comes from, who made it and what its terms allow; empty where nobody has said."""

    file: str
    source: str = ""
    author: str = ""
    terms: str = ""


@dataclass(frozen=True, kw_only=True)
class Making:
    """What the pedal is for, and what the builder wrote down, line by line; `files` are more files that belong to it.

    `credits` has one entry for each picture, font and further file of the pedal.
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

    @property
    def words(self) -> dict[str, tuple[str, ...]]:
        """What the builder wrote down, by topic; topics without a word are left out."""
        told = (each.name for each in fields(self) if each.name not in ("purpose", "files", "credits"))
        return {name: lines for name in told if (lines := getattr(self, name))}
