"""Rings and frames drawn so close to hardware that a hole drilled by hand will show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from mockup.checks import Case
from mockup.checks.art.guide_layer import guide_lines
from mockup.checks.art.rings import Edge, Rim, edges, rim
from mockup.checks.art.sheets import sheets_on
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import from_above
from mockup.model.design import Placement
from mockup.model.enclosure import FACES
from mockup.model.finding import Finding, Mark, Subject, mm

READS = ("decals", "enclosure", "labels", "parts")
_KNOB = '[[part]]\nname = "A"\nkind = "pot-16"\ntop = 30.49\nknob = { style = "barrel", diameter = 18 }\n'
_RING = '<circle cx="25" cy="25" r="{}" fill="none" stroke="#000" stroke-width="0.5"/>'
PLANTED = Case(_KNOB, _RING.format(9.45))  # its inner edge 0.2 mm outside the knob
SOUND = Case(_KNOB, _RING.format(10.5))
SEEN_MM = 0.1  # of a ring that is covered or uncovered before anybody sees it: our choice


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for face in FACES:
        if not sheets_on(built, face) or guide_lines(built, face):  # a guide's circles are no rings to be redrawn
            continue
        for shadow in from_above(built)[face]:
            part = built.part(shadow.part)
            edge = rim(part, shadow)
            near = sorted(edges(built, part, edge), key=lambda each: each.nominal_mm)
            if near:
                yield from _of(built, part, edge, near[0])


def _of(built: Built, part: Placement, edge: Rim, ring: Edge) -> Iterator[Finding]:
    limit = built.limits["wander_mm"]
    if ring.nominal_mm > limit.value - SEEN_MM:
        return
    if ring.nominal_mm == 0.0:
        now = "crosses the edge of its {hardware}"
    else:
        now = "leaves {measured} to its {hardware}" if ring.at_mm > 0 else "lies {measured} under its {hardware}"
    yield Finding(
        severity="warn" if ring.nominal_mm < limit.value / 2 else "note",
        title="Ring will look off centre",
        what="the {side} edge of the ring round {first}"
        + (", drawn {off} off centre," if ring.off_centre_mm >= 0.1 else "")
        + f" {now}; a hole drilled {{limit}} off {'covers' if ring.at_mm > 0 else 'uncovers'} it by {{missing}} "
        "on one side",
        subjects=Subject.parts(part.name),
        remedy=_remedy(edge, ring, limit.value),
        measured=mm(round(ring.nominal_mm, 2)),
        limit=limit,
        facts={
            "side": "inner" if ring.is_inner else "outer",
            "hardware": "knob" if part.knob is not None else "hardware",
            "off": mm(ring.off_centre_mm),
            "diameter": mm(2 * (edge.radius_mm + (limit.value if _is_outward(ring) else -limit.value))),
        },
        marks=(Mark.at(part, max(edge.radius_mm, 3.0) + 1.5),),
    )


def _is_outward(ring: Edge) -> bool:
    """Return whether a ring's edge gains room by moving outward."""
    return ring.is_inner or ring.at_mm > 0


def _remedy(edge: Rim, ring: Edge, wander: float) -> str:
    if ring.off_centre_mm > wander / 2:
        return "Move the ring {off} onto the hole's centre"
    if edge.radius_mm:
        return "Draw its {side} edge with a diameter of {diameter}, or choose other hardware"
    return f"Draw its {{side}} edge {{limit}} {'outside' if _is_outward(ring) else 'under'} the hardware's edge"
