"""Room that is kept, but not by much: one note for all of a kind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mockup.checks.panel.built import Built
from mockup.checks.report.sentences import listed
from mockup.clearance.table import Margin
from mockup.model.finding import Finding, Mark, Subject, mm

RADIUS_MM = 6.0  # of a mark: our choice


def close_pairs(built: Built, margins: Sequence[Margin], *, title: str, what: str, remedy: str) -> Iterator[Finding]:
    """Yield one note for all margins that a hand may just use up; `what` tells of the closest, ``{closest}``."""
    if not margins:
        return
    least = min(margins, key=lambda each: each.spare_mm)
    names = tuple(dict.fromkeys((*least.parts, *(name for each in margins for name in each.parts))))
    ends = listed([*least.parts, *([least.other] if least.other and len(least.parts) == 1 else [])])
    yield Finding(
        severity="note",
        title=title,
        what=what + ("" if len(margins) == 1 else "; {more}"),
        subjects=Subject.parts(*names),
        remedy=remedy,
        measured=mm(least.room_mm),
        limit=least.limit,
        facts={"closest": ends, "more": _more(len(margins) - 1)},
        marks=tuple(Mark.at(built.part(name), RADIUS_MM) for name in names),
    )


def _more(count: int) -> str:
    return "one more pair is close" if count == 1 else f"{count} more pairs are close"
