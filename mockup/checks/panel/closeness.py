"""Room that is kept, but not by much: one note for all of a kind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mockup.checks.panel.built import Built
from mockup.checks.report.sentences import listed
from mockup.clearance.table import Margin
from mockup.model.design import Placement
from mockup.model.finding import Finding, Limit, Mark, Subject, mm

RADIUS_MM = 6.0  # of a mark: our choice


Pair = tuple[Placement, Placement, float]
"""Two parts and the room between them."""


def close_pairs(
    built: Built, margins: Sequence[Margin], *, title: str, what: str, remedy: str = ""
) -> Iterator[Finding]:
    """Yield one note for all margins that a hand may just use up; `what` tells of the closest, ``{closest}``.

    Without a remedy it is advice.
    """
    if not margins:
        return
    least = min(margins, key=lambda each: each.spare_mm)
    names = tuple(dict.fromkeys((*least.parts, *(name for each in margins for name in each.parts))))
    ends = listed([*least.parts, *([least.other] if least.other and len(least.parts) == 1 else [])])
    yield Finding(
        severity="note",
        is_advice=not remedy,
        title=title,
        what=what + ("" if len(margins) == 1 else "; {more}"),
        subjects=Subject.parts(*names),
        remedy=remedy,
        measured=mm(least.room_mm),
        limit=least.limit,
        facts={"closest": ends, "more": _more(len(margins) - 1)},
        marks=tuple(Mark.at(built.part(name), RADIUS_MM) for name in names),
    )


def closest_advice(pairs: Sequence[Pair], limit: Limit, *, title: str, what: str, kind: str = "") -> Iterator[Finding]:
    """Yield advice where the closest of some pairs is below a published figure that small panels may go below."""
    close = [pair for pair in pairs if 0 < pair[2] < limit.value]
    if close:
        first, second, least = min(close, key=lambda pair: pair[2])
        yield Finding(
            severity="note",
            is_advice=True,
            title=title,
            what=what,
            subjects=Subject.parts(first.name, second.name),
            measured=mm(least),
            limit=limit,
            facts={"kind": kind},
            marks=(Mark.at(first, RADIUS_MM), Mark.at(second, RADIUS_MM)),
        )


def _more(count: int) -> str:
    return "one more pair is close" if count == 1 else f"{count} more pairs are close"
