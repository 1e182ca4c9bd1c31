"""One thing in which a pedal differs from another, in words, with its figures and its places."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from mockup.model.enclosure import FaceName
from mockup.model.finding import Mark
from mockup.model.shape import Point

Topic = Literal["box", "finish", "film", "part", "knob", "lamp", "label", "finding"]
How = Literal["added", "removed", "moved", "turned", "changed"]


@dataclass(frozen=True, kw_only=True)
class Inner:
    """A part's body as it is seen with the lid off: its axis meets the face at (`u_mm`, `v_mm`).

    `corners` are those of the rectangle round it, from there, right and down along the face. It reaches from
    `near_mm` to `far_mm` behind the panel's inner surface.
    """

    face: FaceName
    u_mm: float
    v_mm: float
    corners: tuple[Point, ...]
    near_mm: float
    far_mm: float


@dataclass(frozen=True, kw_only=True)
class Change:
    """One difference, seen from the first pedal to the other.

    `subject` is what differs (a part, a label, a film; for findings the check), `what` a short sentence
    without full stop. Where that begins with the subject, `rest` is the rest of it, which may be said of several at
    once. `before` and `after` are the two values in words, empty where there is none.
    A part or label that moved on its face says by how much: `right_mm` to the right and `down_mm` down,
    as a ruler reads them looking straight at the face, and `distance_mm` in a straight line. `old` and
    `new` are its places, for a picture to point at; `old_inner` and `new_inner` those inside the box.
    """

    topic: Topic
    how: How
    subject: str
    what: str
    rest: str = ""
    before: str = ""
    after: str = ""
    right_mm: float | None = None
    down_mm: float | None = None
    distance_mm: float | None = None
    old: Mark | None = None
    new: Mark | None = None
    old_inner: Inner | None = None
    new_inner: Inner | None = None

    @classmethod
    def of(cls, topic: Topic, how: How, subject: str, rest: str, **more: Any) -> Change:
        """Return a change whose sentence begins with its subject."""
        return cls(topic=topic, how=how, subject=subject, what=f"{subject} {rest}", rest=rest, **more)

    @classmethod
    def becoming(
        cls, topic: Topic, subject: str, of: str, before: str, after: str, more: str = ""
    ) -> tuple[Change, ...]:
        """Return ``of BEFORE becomes AFTER more``, none where a value is what it was."""
        if before == after:
            return ()
        what = f"{of} {before} becomes {after}{more}".strip()
        return (cls(topic=topic, how="changed", subject=subject, what=what, before=before, after=after),)
