"""Holes as the drill makes them, and what can be wrong with one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from mockup.model.enclosure import FaceName
from mockup.model.shape import Outline

Trouble = Literal["misses", "breaks-out", "overlaps", "blind"]


@dataclass(frozen=True, kw_only=True)
class Bore:
    """One hole through one face, perpendicular to it.

    `part` is its part's name (bores of one part may overlap on purpose), `purpose` the word of the part's cutout,
    and `number` counts that part's bores of the same purpose from 1. The outline's centre lies at (`u_mm`, `v_mm`) in
    face coordinates; `rotation_deg` turns it clockwise as seen from outside.
    """

    part: str
    purpose: str
    number: int = 1
    face: FaceName
    u_mm: float
    v_mm: float
    outline: Outline
    rotation_deg: float = 0.0

    @property
    def name(self) -> str:
        """Its name, unique in the box: ``TONE/bushing``, ``TONE/bushing 2``."""
        return f"{self.part}/{self._use}"

    @property
    def words(self) -> str:
        """What it is called on pages: ``TONE, bushing``, ``TONE, bushing 2``."""
        return f"{self.part}, {self._use}"

    @property
    def _use(self) -> str:
        return self.purpose + (f" {self.number}" if self.number > 1 else "")


@dataclass(frozen=True, kw_only=True)
class BoreProblem:
    """Why a bore cannot be drilled as placed; `what` is one plain sentence without full stop.

    `trouble`: it misses its wall altogether, breaks out of the flat part of its face over an edge,
    overlaps the bore `other` of another part, or is blind (it runs into a screw post or wall inside).
    """

    bore: str
    trouble: Trouble
    what: str
    other: str = ""
