"""What a check has found: how bad, what, by how much, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from mockup.model.enclosure import FaceName

Severity = Literal["stop", "warn", "note"]
SEVERITIES: tuple[Severity, ...] = ("stop", "warn", "note")


@dataclass(frozen=True, kw_only=True)
class Limit:
    """One limit that a check compares with: its value, unit, source and meaning.

    `is_own` is True where the layout's `[limits]` table overrides the usual value `usual`.
    """

    name: str
    value: float
    unit: str
    source: str
    about: str
    usual: float
    is_own: bool = False


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A place on the pedal that a picture can point at: a circle on a face, in face coordinates.

    For something inside the box the mark lies on the face it hangs from, above the spot.
    """

    face: FaceName
    u_mm: float
    v_mm: float
    radius_mm: float = 3.0


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One thing that will go wrong (stop), is likely to (warn), or is worth knowing (note).

    `subjects` are the names of the parts, labels or art files concerned; `what` is one sentence with
    the figures in it; `measured` and `limit` are those figures in `unit`, None where there is none;
    `source` says where the limit comes from; `remedy` is one sentence, with a figure where one can
    be computed. `marks` are the places a picture points at. `failure` says what went wrong inside a check that
    has no answer, and is empty for all others.
    """

    check: str
    severity: Severity
    subjects: tuple[str, ...]
    what: str
    remedy: str
    source: str
    measured: float | None = None
    limit: float | None = None
    unit: str = ""
    marks: tuple[Mark, ...] = ()
    failure: str = ""
