"""How much room one part has on its face, for every limit that closed forms decide.

The checks of this folder report what lies below 0; a remedy must not make any of it worse.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from mockup.checks.panel.built import TOGGLE, Built, swept_knob
from mockup.checks.panel.knob_travel import reach_mm
from mockup.checks.panel.plan import (
    Figure,
    between,
    disc,
    least_between,
    of_bore,
    room_behind,
    room_in_flat,
    room_on_box,
    room_to_rim,
    seat,
    stack,
)
from mockup.enclosure.bores import bores_of
from mockup.model.design import Placement

FOOTSWITCHES = "footswitch"
"""The family of parts that a foot works."""
CLOSE_MM = 0.001  # below this a margin counts as kept: rounding of polygons
Key = tuple[str, str]


def spare_mm(built: Built, part: Placement, others: Iterable[Placement]) -> dict[Key, float]:
    """Return what a part has beyond each limit on its face, millimetres, by (kind of room, what it is to).

    Negative where a limit is broken. Parts inside the box have none.
    """
    if part.kind.mount == "inside":
        return {}
    beside = [other for other in others if other.face == part.face and other.kind.mount == "panel"]
    return {**dict(_alone(built, part)), **dict(_beside(built, part, beside))}


def knob_figure(built: Built, part: Placement) -> Figure | None:
    """Return the circle that a part's knob covers at any turn, seen from above; None without a knob."""
    if part.knob is None or part.kind.shaft is None:
        return None
    return disc(part.u_mm, part.v_mm, reach_mm(swept_knob(part)))


def apart(first: Placement, second: Placement) -> float:
    """Return the distance between the axes of two parts on one face."""
    return math.hypot(first.u_mm - second.u_mm, first.v_mm - second.v_mm)


def _alone(built: Built, part: Placement) -> Iterator[tuple[Key, float]]:
    box, face = built.design.enclosure, built.faces[part.face]
    for bore in bores_of(part):
        hole = of_bore(bore)
        yield ("edge", bore.name), room_in_flat(box, face, hole) - built.limits["hole_edge_mm"].value
        yield ("rim", bore.name), room_to_rim(face, hole) - built.limits["hole_rim_mm"].value
        yield ("behind", bore.name), room_behind(box, face, hole, built.posts)[0] - built.limits["hole_post_mm"].value
    for each in seat(part):
        room = min(room_in_flat(box, face, each), room_to_rim(face, each))
        yield ("seat edge", ""), room - built.limits["seat_edge_mm"].value
    knob = knob_figure(built, part)
    if knob is not None:
        yield ("knob edge", ""), room_on_box(box, face, knob) - built.limits["knob_edge_mm"].value


def _beside(built: Built, part: Placement, beside: list[Placement]) -> Iterator[tuple[Key, float]]:
    holes = [of_bore(bore) for bore in bores_of(part)]
    low, knob = stack(part), knob_figure(built, part)
    for other in beside:
        rest = [of_bore(bore) for bore in bores_of(other)]
        yield ("web", other.name), least_between(holes, rest) - built.limits["web_mm"].value
        yield ("seat", other.name), least_between(low, stack(other)) - built.limits["seat_gap_mm"].value
        theirs = knob_figure(built, other)
        if knob is not None and theirs is not None:
            yield ("knob", other.name), between(knob, theirs) - built.limits["knob_gap_mm"].value
        if knob is not None:
            yield ("knob over", other.name), least_between((knob,), stack(other))
        if theirs is not None:
            yield ("under knob", other.name), least_between(low, (theirs,))
        least = shoe_mm(built, part, other)
        if least is not None:
            yield ("shoe", other.name), apart(part, other) - least


def shoe_mm(built: Built, first: Placement, second: Placement) -> float | None:
    """Return how far apart the axes of two parts have to be for a shoe; None where no foot is concerned."""
    feet = [part.kind.family == FOOTSWITCHES for part in (first, second)]
    if all(feet):
        return built.limits["switch_apart_mm"].value
    other = second if feet[0] else first
    is_worked = other.knob is not None or other.kind.shaft is not None or other.kind.family == TOGGLE
    return built.limits["knob_switch_mm"].value if any(feet) and is_worked else None
