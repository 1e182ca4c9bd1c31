"""Rings and frames drawn so close to hardware that a hole drilled by hand will show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from mockup.checks.art.rings import Edge, Rim, edges, rim
from mockup.checks.art.sheets import sheets_on
from mockup.checks.panel.built import Built
from mockup.checks.panel.shadow import from_above
from mockup.model.design import Placement
from mockup.model.enclosure import FACES
from mockup.model.finding import Finding, Mark
from mockup.model.limits import Limits

READS = ("decals", "enclosure", "labels", "parts")


def check(built: Built, limits: Limits) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    for face in FACES:
        if not sheets_on(built, face):
            continue
        for shadow in from_above(built)[face]:
            part = built.part(shadow.part)
            edge = rim(part, shadow)
            near = sorted(edges(built, part, edge), key=lambda each: each.nominal_mm)
            if near:
                yield from _of(part, edge, near[0], limits)


def _of(part: Placement, edge: Rim, ring: Edge, limits: Limits) -> Iterator[Finding]:
    limit = limits["wander_mm"]
    if ring.nominal_mm >= limit.value:
        return
    side = "inner" if ring.is_inner else "outer"
    hardware = "knob" if part.knob is not None else "hardware"
    if ring.nominal_mm == 0.0:
        now = f"crosses the edge of its {hardware}"
    elif ring.at_mm > 0:
        now = f"leaves {ring.nominal_mm:.2f} mm to its {hardware}"
    else:
        now = f"lies {ring.nominal_mm:.2f} mm under its {hardware}"
    off = f", drawn {ring.off_centre_mm:.1f} mm off centre" if ring.off_centre_mm >= 0.1 else ""
    past = limit.value - ring.nominal_mm
    yield Finding(
        check="registration",
        severity="warn" if ring.nominal_mm < limit.value / 2 else "note",
        subjects=(part.name,),
        what=(
            f"the {side} edge of the ring round {part.name}{off} {now}; a hole that wanders {limit.value:g} mm "
            f"{'covers' if ring.at_mm > 0 else 'uncovers'} it by {past:.2f} mm on one side"
        ),
        remedy=_remedy(edge, ring, limit.value),
        source=limit.source,
        measured=round(ring.nominal_mm, 2),
        limit=limit.value,
        unit=limit.unit,
        marks=(Mark(face=part.face, u_mm=part.u_mm, v_mm=part.v_mm, radius_mm=max(edge.radius_mm, 3.0) + 1.5),),
    )


def _remedy(edge: Rim, ring: Edge, wander: float) -> str:
    side = "inner" if ring.is_inner else "outer"
    if ring.off_centre_mm > wander / 2:
        return f"move the ring {ring.off_centre_mm:.1f} mm onto the hole's centre"
    outward = ring.is_inner or ring.at_mm > 0
    away = wander if outward else -wander
    if edge.radius_mm:
        return f"draw its {side} edge {2 * (edge.radius_mm + away):.1f} mm in diameter, or choose other hardware"
    return f"draw its {side} edge {wander:g} mm {'outside' if outward else 'under'} the hardware's edge"
