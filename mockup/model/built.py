"""Holes as they were drilled: where they were measured to be, beside the design and never over it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class BuiltHole:
    """One hole as measured: its bore's name, its centre in face coordinates, how far that may be off, and by what.

    `diameter_mm` is None where it was not measured.
    """

    bore: str
    u_mm: float
    v_mm: float
    doubt_mm: float
    diameter_mm: float | None = None
    by: str = ""
