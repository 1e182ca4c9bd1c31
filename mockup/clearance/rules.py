"""The rules of room: what of two parts, or of one part and the box, may not come closer than which limit.

Each is told as an encounter of groups of pieces or of figures; `table` measures how much room it leaves, and `rows`
how that changes with the parts' places. Checks say what breaking one means to a builder.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from mockup.clearance import regions
from mockup.clearance.figures import Figure, disc
from mockup.clearance.placed import Group, PlacedPart
from mockup.clearance.regions import Region
from mockup.clearance.walls import Metal, metal
from mockup.memo import memoize
from mockup.model.enclosure import Enclosure
from mockup.model.finding import Limit
from mockup.model.mesh import Floats

BODIES, WIRES = "bodies", "wires"
TIPS, PLUGS, GROUND = "tips", "plugs", "ground"
KNOBS, KNOB_EDGE, KNOB_ROOM, LENS, NUT = "knobs", "knob edge", "knob room", "lens", "nut"
SEATS, SEAT_EDGE, WEBS = "seats", "seat edge", "webs"
HOLE_EDGE, HOLE_RIM, HOLE_BEHIND = "hole edge", "hole rim", "hole behind"
SHOE, SHOES = "shoe", "shoes"
SPANNER, LEVER, CLIP = "spanner", "lever", "clip"
PLUG, KNOB = "plug", "knob"
"""What of the second part an encounter is with, where it is not its body or hardware."""
DIRECTED = frozenset({TIPS, PLUGS, KNOB_ROOM, LENS, NUT, SPANNER, LEVER, CLIP})
"""The rules about one part's knob, plug, nut, lever or clip and another part."""
CLAIMS = frozenset({BODIES, TIPS, PLUGS, GROUND, KNOBS, KNOB_ROOM, LEVER, SEATS, WEBS})
"""The rules that stop a build where two things claim one place."""
NOTHING = Limit(name="", value=0.0, unit="mm", source="", about="", usual=0.0)
"""What is kept by whatever does not overlap."""
_WIDER = {
    "body_gap_mm": "body_gap_near_mm",
    "wiring_mm": "wiring_near_mm",
    "knob_gap_mm": "knob_gap_near_mm",
    "knob_switch_mm": "knob_switch_near_mm",
    "switch_apart_mm": "switch_apart_near_mm",
}
"""Limits below which is too little, and those below which is little."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Encounter:
    """A rule and whom it concerns: `owners` of what comes first and second, or of the one thing.

    `other` says what of the second it is, or what else: ``the knob``, ``the lid``, a hole's name.
    """

    rule: str
    limit: Limit
    owners: tuple[PlacedPart, ...]
    other: str = ""


@dataclass(frozen=True, kw_only=True, eq=False)
class _OfPieces(Encounter):
    """An encounter of pieces; where one of them is a terminal, `wire` counts as well."""

    wire: Limit | None = None

    @property
    def most_mm(self) -> float:
        """The greatest room that any of the pieces needs."""
        return max(self.limit.value, 0.0 if self.wire is None else self.wire.value)

    @property
    def told_mm(self) -> float:
        """The greatest room that anything is said about."""
        limits = [each for each in (self.limit, self.wire) if each is not None]
        return max((each.value for limit in limits for each in (limit, wider(self, limit)) if each), default=0.0)


@dataclass(frozen=True, kw_only=True, eq=False)
class Solids(_OfPieces):
    """Two groups of pieces of two parts."""

    first: Group
    second: Group


@dataclass(frozen=True, kw_only=True, eq=False)
class Flats(Encounter):
    """Two groups of figures on one face; with `is_fixed` the second does not belong to a part."""

    first: tuple[Figure, ...]
    second: tuple[Figure, ...]
    is_fixed: bool = False


@dataclass(frozen=True, kw_only=True, eq=False)
class Inside(_OfPieces):
    """A group of pieces of one part and the metal round it; `reach` (m, d) is how far each piece reaches towards it."""

    group: Group
    reach: Floats
    metal: Metal


@dataclass(frozen=True, kw_only=True, eq=False)
class Within(Encounter):
    """Figures of one part and the region of its face that they have to stay in."""

    figures: tuple[Figure, ...]
    region: Region


def wider(meets: Encounter, limit: Limit) -> Limit | None:
    """Return the limit from which nothing is said of an encounter, None where there is only the one.

    A layout's own limit stands alone.
    """
    name = _WIDER.get(limit.name)
    if name is None or limit.is_own:
        return None
    limits = meets.owners[0].limits
    return replace(limits[name], value=limits[name].value + limit.value - limits[limit.name].value)


@memoize
def _ground(box: Enclosure) -> Metal:
    """Return the ground that a box stands on with its lid, or with the feet under it."""
    down = np.array([[0.0, 0.0, -1.0]])
    return Metal(ways=down, bounds=np.array([box.feet_mm]), starts=np.zeros(1, np.int64), names=("the ground",))


def alone(part: PlacedPart) -> Iterator[Encounter]:
    """Yield every rule that one part has to keep with the box."""
    limits, owners, around = part.limits, (part,), metal(part.box, part.panel)
    if part.body.is_there:
        gap, wire = NOTHING if part.lies_loose else limits["body_gap_mm"], limits["wiring_mm"]
        reach = part.metal_reach
        yield Inside(rule=BODIES, limit=gap, owners=owners, wire=wire, group=part.body, reach=reach, metal=around)
    if part.plug_tip.is_there:
        gap, reach = limits["tip_gap_mm"], part.tip_metal_reach
        yield Inside(rule=TIPS, limit=gap, owners=owners, group=part.plug_tip, reach=reach, metal=around)
    if part.plug_body.is_there:
        gap, ground = limits["ground_gap_mm"], _ground(part.box)
        reach = part.plug_body.shape.pieces.support(ground.ways)
        yield Inside(rule=GROUND, limit=gap, owners=owners, group=part.plug_body, reach=reach, metal=ground)
    if part.clip.is_there:
        reach = part.clip.shape.pieces.support(around.ways)
        yield Inside(rule=CLIP, limit=NOTHING, owners=owners, group=part.clip, reach=reach, metal=around)
    if part.panel is not None:
        yield from _on_its_face(part)


def _on_its_face(part: PlacedPart) -> Iterator[Encounter]:
    box, face, limits, owners = part.box, part.face, part.limits, (part,)
    flat, above = regions.flat(box, face), regions.above_rim(face)
    edge, rim, behind = limits["hole_edge_mm"], limits["hole_rim_mm"], limits["hole_post_mm"]
    for name, hole in part.holes:
        walls = (regions.between_walls(box, face), regions.between_posts(box, face))
        inside = [(HOLE_EDGE, edge, flat), (HOLE_RIM, rim, above), *((HOLE_BEHIND, behind, each) for each in walls)]
        for rule, limit, region in inside:
            yield Within(rule=rule, limit=limit, owners=owners, other=name, figures=(hole,), region=region)
        yield Flats(
            rule=HOLE_BEHIND,
            limit=behind,
            owners=owners,
            other=name,
            first=(hole,),
            second=regions.posts(box, face),
            is_fixed=True,
        )
    for region in (flat, above):
        yield Within(rule=SEAT_EDGE, limit=limits["seat_edge_mm"], owners=owners, figures=part.seat, region=region)
    if part.knob_figure is not None:
        yield Within(
            rule=KNOB_EDGE,
            limit=limits["knob_edge_mm"],
            owners=owners,
            figures=(part.knob_figure,),
            region=regions.outline(box, face),
        )


def between(first: PlacedPart, second: PlacedPart) -> Iterator[Encounter]:
    """Yield every rule that two parts have to keep with each other."""
    yield from _inside(first, second)
    yield from _outside(first, second)
    yield from _outside(second, first)
    if first.plug_body.is_there and second.plug_body.is_there:
        gap = first.limits["plug_gap_mm"]
        yield Solids(
            rule=PLUGS, limit=gap, owners=(first, second), first=first.plug_body, second=second.plug_body, other=PLUG
        )
    if first.part.face == second.part.face and first.panel is not None and second.panel is not None:
        yield from _on_one_face(first, second)
        for one, two in ((first, second), (second, first)):
            yield from _knob_over(one, two)
            yield from _worked_beside(one, two)


def _inside(first: PlacedPart, second: PlacedPart) -> Iterator[Encounter]:
    limits = first.limits
    if first.body.is_there and second.body.is_there:
        yield Solids(
            rule=BODIES,
            limit=limits["body_gap_mm"],
            owners=(first, second),
            wire=limits["wiring_mm"],
            first=first.body,
            second=second.body,
        )
    gap = limits["tip_gap_mm"]
    for one, two in ((first, second), (second, first)):
        if one.clip.is_there and two.body.is_there:
            yield Solids(rule=CLIP, limit=NOTHING, owners=(one, two), first=one.clip, second=two.body)
        if one.plug_tip.is_there and two.body.is_there:
            yield Solids(rule=TIPS, limit=gap, owners=(one, two), first=one.plug_tip, second=two.body)
    if first.plug_tip.is_there and second.plug_tip.is_there:
        both = first.plug_tip, second.plug_tip
        yield Solids(rule=TIPS, limit=gap, owners=(first, second), other=PLUG, first=both[0], second=both[1])


def _outside(first: PlacedPart, second: PlacedPart) -> Iterator[Encounter]:
    """Yield the rules about the first one's knob and plug and the second one's hardware."""
    limits, owners = first.limits, (first, second)
    if first.knob.is_there and second.hardware.is_there:
        gap = limits["knob_clear_mm"]
        yield Solids(rule=KNOB_ROOM, limit=gap, owners=owners, first=first.knob, second=second.hardware)
    if first.plug_body.is_there:
        for name, solid in (("", second.hardware), (KNOB, second.knob)):
            if solid.is_there:
                gap = limits["plug_gap_mm"]
                yield Solids(rule=PLUGS, limit=gap, owners=owners, first=first.plug_body, second=solid, other=name)


def _knob_over(first: PlacedPart, second: PlacedPart) -> Iterator[Encounter]:
    """Yield the rules about what the first one's knob may not cover, seen from above."""
    if first.knob_figure is not None:
        for rule, low in ((LENS, second.lenses), (NUT, second.stack)):
            knob = (first.knob_figure,)
            yield Flats(rule=rule, limit=NOTHING, owners=(first, second), first=knob, second=low)


def _worked_beside(first: PlacedPart, second: PlacedPart) -> Iterator[Encounter]:
    """Yield the rules about the room round the first one's nut for a tool, and round its lever, thrown both ways."""
    limits, owners = first.limits, (first, second)
    if first.nuts and second.tall:
        gap = limits["socket_mm"]
        yield Flats(rule=SPANNER, limit=gap, owners=owners, first=first.nuts, second=second.tall)
    if first.lever.is_there:
        others = [(limits["lever_knob_mm"], KNOB, second.knob)]
        if not second.lever.is_there or first.part.name < second.part.name:  # of two levers it is one encounter
            others.append((limits["lever_gap_mm"], "", second.hardware))
        for gap, name, solid in others:
            if solid.is_there:
                yield Solids(rule=LEVER, limit=gap, owners=owners, first=first.lever, second=solid, other=name)


def _on_one_face(first: PlacedPart, second: PlacedPart) -> Iterator[Encounter]:
    limits, owners = first.limits, (first, second)
    holes = [tuple(hole for _, hole in each.holes) for each in owners]
    knobs = [() if each.knob_figure is None else (each.knob_figure,) for each in owners]
    axes = [(disc(each.part.u_mm, each.part.v_mm, 0.0),) for each in owners]
    found: list[tuple[str, Limit, Sequence[tuple[Figure, ...]]]] = [
        (WEBS, limits["web_mm"], holes),
        (SEATS, limits["seat_gap_mm"], [first.stack, second.stack]),
        (KNOBS, limits["knob_gap_mm"], knobs),
    ]
    if first.is_footswitch and second.is_footswitch:
        found.append((SHOES, limits["switch_apart_mm"], axes))
    elif (first.is_footswitch and second.is_worked) or (second.is_footswitch and first.is_worked):
        switch, control = owners if first.is_footswitch else (second, first)
        shoes = [(each.shoe,) if each.is_footswitch else axis for each, axis in zip(owners, axes, strict=True)]
        limit, low_mm = limits["knob_switch_mm"], limits["knob_low_mm"].value
        is_low = control.height_mm <= switch.height_mm
        found.append((SHOE, replace(limit, value=limit.value - low_mm) if is_low else limit, shoes))
    for rule, limit, (one, two) in found:
        yield Flats(rule=rule, limit=limit, owners=owners, first=one, second=two)
