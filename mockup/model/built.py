"""Holes as they were drilled: where they were measured to be, beside the design and never over it."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from mockup.model.enclosure import FaceName
from mockup.model.shape import Point

FARTHEST_MM = 3.0  # of a nudge on an enlargement: our choice
_NUDGED = re.compile(r"(found|rival|)\s*([^,]+),([^,]+)")


@dataclass(frozen=True, kw_only=True)
class BuiltHole:
    """One hole as measured: its bore's name, its centre in face coordinates, how far that may be off, and by what.

    `diameter_mm` is None where it was not measured. `drawn_mm` is where the layout had it when it was measured, in face
    coordinates, None where that is not kept.
    """

    bore: str
    u_mm: float
    v_mm: float
    doubt_mm: float
    diameter_mm: float | None = None
    by: str = ""
    drawn_mm: Point | None = None


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What the builder says of a hole in a picture: the circle that is its rim, and a nudge (mm); None: not told."""

    circle: Literal["found", "rival"] | None
    right_mm: float = 0.0
    down_mm: float = 0.0

    @property
    def is_moved(self) -> bool:
        """Whether the circle is nudged."""
        return self.right_mm != 0.0 or self.down_mm != 0.0

    @property
    def words(self) -> str:
        """It as it is typed and kept: ``rival``, ``found +0.20,-0.10`` or ``?``."""
        if self.circle is None:
            return "?"
        return self.circle + (f" {self.right_mm:+.2f},{self.down_mm:+.2f}" if self.is_moved else "")


def read_answer(words: str) -> Answer:
    """Return an answer from its words; a nudge alone is one of the found circle. Raises `ValueError` for others."""
    said = words.strip()
    if said == "?":
        return Answer(circle=None)
    if said in ("found", "rival"):
        return Answer(circle=said)  # type: ignore[arg-type]  # one of both
    nudged = _NUDGED.fullmatch(said)
    try:
        right, down = (float(each) for each in nudged.groups()[1:]) if nudged else (math.nan, math.nan)
    except ValueError:
        right = down = math.nan
    if nudged is None or not (math.isfinite(right) and math.isfinite(down)):
        raise ValueError(f'"{said}" is no answer; write found, rival, a nudge such as +0.2,-0.1, or ?')
    if max(abs(right), abs(down)) > FARTHEST_MM:
        raise ValueError(f'"{said}" nudges by more than {FARTHEST_MM:g} mm; measure that hole')
    return Answer(circle="rival" if nudged[1] == "rival" else "found", right_mm=right, down_mm=down)


@dataclass(frozen=True, kw_only=True)
class BuiltPictures:
    """The pictures that a face was read off last: their names, the SHA-256 of their bytes, answers by bore's name."""

    face: FaceName
    names: str
    digest: str
    answers: Mapping[str, Answer] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class BuiltBox:
    """What is kept of a box as it was drilled: its measured holes, and the pictures that some were read off."""

    holes: tuple[BuiltHole, ...] = ()
    pictures: tuple[BuiltPictures, ...] = ()
