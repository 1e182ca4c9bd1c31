"""What to do about a hole that is off its art, the cheapest way first: a wider washer, a ring of art, filler."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from mockup.as_built.comparison import DecalOff, HoleOff
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import from_above
from mockup.model.bore import Bore
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.model.units import format_length, round_up

Way = Literal["nothing", "washer", "ring", "filler"]
SEEN_MM = 0.2  # off centre, before anybody sees it on a ring of art: our choice
_APART_MM = 0.5  # between a washer and its neighbour: our choice


@dataclass(frozen=True, kw_only=True)
class PlanB:
    """The cheapest way with one hole: what it covers now (diameter), what it then must, and the room there is."""

    hole: HoleOff
    way: Way
    off_mm: float
    now_mm: float
    wide_mm: float
    room_mm: float

    def words(self, design: Design) -> str:
        """Return it as a sentence."""
        units = design.units
        name, off = self.hole.bore.words, format_length(round(self.off_mm, 2), units)
        wide, room = (format_length(round(each, 2), units) for each in (round_up(self.wide_mm, units), self.room_mm))
        now = format_length(round(self.now_mm, 1), units)
        if self.way == "nothing":
            return f"{name} is off its art by {off}: leave it"
        if self.way == "washer":
            return f"{name} is off its art by {off}: cheapest is a washer or knob {wide} wide ({now} now, room {room})"
        if self.way == "ring":
            return f"{name} is off its art by {off}: cheapest is a ring of art out to {wide} ({now} now)"
        return f"{name} is off its art by {off}: {wide} would have to be covered, room {room}; fill it and drill again"


def plans(design: Design, decal: DecalOff) -> tuple[PlanB, ...]:
    """Return the cheapest way with each hole of a decal that is laid best.

    What covers the art round it must be wider by twice the way that the hole is off. A washer or knob needs room to its
    neighbours; a ring of art, printed anew round the hole, may run under them, and needs the face's flat alone.
    """
    face = faces(design.enclosure)[decal.decal.face]
    hidden = {each.part: np.concatenate(each.outline) for each in from_above(Built(design)).get(face.name, ())}
    found = []
    for hole, off in zip(decal.holes, decal.left_mm, strict=True):
        bore = hole.bore
        at = np.array([bore.u_mm, bore.v_mm])
        own = _reach(hidden.get(bore.part), bore)
        left, top, right, bottom = face.flat
        edge = min(at[0] - left, right - at[0], at[1] - top, bottom - at[1])
        near = [float(np.hypot(*(area - at).T).min()) for part, area in hidden.items() if part != bore.part]
        room = 2 * max(0.0, min([edge, *(each - _APART_MM for each in near)]))
        wide = 2 * (own + off)
        way: Way = "filler"
        if off < SEEN_MM:
            way = "nothing"
        elif wide <= room:
            way = "washer"
        elif wide <= 2 * edge:
            way = "ring"
        found.append(
            PlanB(
                hole=hole,
                way=way,
                off_mm=off,
                now_mm=2 * own,
                wide_mm=wide,
                room_mm=room,
            )
        )
    return tuple(found)


def _reach(area: np.ndarray | None, bore: Bore) -> float:
    """Return how far from a hole's middle its part covers the face all round, at least the hole itself."""
    if area is None or len(area) < 3:
        return bore.outline.width_mm / 2
    return max(float(np.hypot(*(area - (bore.u_mm, bore.v_mm)).T).min()), bore.outline.width_mm / 2)
