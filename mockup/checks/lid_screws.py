"""Film on the lid that lies over its screws or feet, or hangs over its edge."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from mockup.checks import Case
from mockup.checks.art.sheets import Sheet, sheets_on
from mockup.checks.panel.built import Built
from mockup.enclosure.lid import countersink, foot_places, screw_places
from mockup.geometry.planar import directions
from mockup.model.enclosure import FOOT_MM
from mockup.model.finding import Finding, Mark, mm
from mockup.model.mesh import Floats
from mockup.model.shape import Point

LIMITS = """
[lid_screw_mm]
value = 0.5
about = "how far film on the lid keeps from the heads of its screws, from its feet and from its edge"
source = "common practice, no source"
"""
READS = ("decals", "enclosure")
_DECAL = '[[decal]]\nface = "lid"\nart = "art.svg"\nwidth = {}\n'
_PLATE = '<rect x="1" y="1" width="{0}" height="{0}" fill="#000"/>'
PLANTED = Case(_DECAL.format(58), _PLATE.format(40))
SOUND = Case(_DECAL.format(30), _PLATE.format(20))
_RINGS, _ROUND = 6, 24  # spots that a screw's head is looked at in, outward and round: our choice


def check(built: Built) -> Iterable[Finding]:
    """Return what is wrong with a built design; pure, never raises, changes nothing."""
    box, limit = built.design.enclosure, built.limits["lid_screw_mm"]
    heads = [(each, countersink(box)[0] / 2) for each in screw_places(box)]
    feet = [(each, FOOT_MM / 2) for each in foot_places(box)]
    for sheet in sheets_on(built, "lid"):
        for things, one, many, harm in (
            (heads, "screw", "screws", "it tears when the lid is opened"),
            (feet, "foot", "feet", "a foot holds on the lid, not on film"),
        ):
            met = [thing for thing in things if _covered(built, sheet, *thing, limit.value)]
            if met:
                yield _over(built, sheet, met, f"{len(met)} {one if len(met) == 1 else many}", harm)


def _covered(built: Built, sheet: Sheet, at: Point, radius_mm: float, clear_mm: float) -> bool:
    """Return whether film lies within `clear_mm` of a round thing on the lid, `at` in the world."""
    away = np.linspace(0.0, radius_mm + clear_mm, _RINGS)
    spots = _on_lid(built, at) + away[:, None, None] * directions(0.0, 2 * np.pi, _ROUND)[None]
    decal = sheet.decal
    if decal.cut is None or decal.cut.shape == "rectangle":
        return bool(sheet.indices(spots)[2].any())
    return bool((sheet.ink_at(spots) > 0).any())


def _on_lid(built: Built, at: Point) -> Floats:
    return built.faces["lid"].from_world(np.array([*at, 0.0]))[:2]


def _over(built: Built, sheet: Sheet, met: Sequence[tuple[Point, float]], said: str, harm: str) -> Finding:
    left, top, right, bottom = built.faces["lid"].flat
    return Finding(
        severity="warn",
        title="Film over the lid's screws",
        what=f"the film of {{first}} lies over {{count}} of the lid, or within {{limit}} of that: {harm}",
        subjects=(sheet.subject,),
        remedy="Keep it to the middle of the lid, {wide} by {high}, or cut it clear of them",
        limit=built.limits["lid_screw_mm"],
        facts={"count": said, "wide": mm(right - left), "high": mm(bottom - top)},
        marks=tuple(
            Mark(face="lid", u_mm=float(uv[0]), v_mm=float(uv[1]), radius_mm=radius)
            for uv, radius in ((_on_lid(built, at), radius) for at, radius in met)
        ),
    )
