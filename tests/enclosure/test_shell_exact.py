"""The drilled body against the same body made of exact OpenCASCADE surfaces."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import trimesh

from mockup.enclosure.lid import CORE_MM, screw_places, screw_size
from mockup.enclosure.shell import POST_END_MM, SCREW_DEPTH_MM, build
from mockup.enclosure.sizes import SIZES
from mockup.enclosure.skin import inner_skin
from mockup.model.bore import Bore
from mockup.model.enclosure import Enclosure, FaceName
from mockup.model.shape import Outline

# The error is linear in the chord error. Chords take 2/3 of it off every curved surface on average, and such
# a box has about 2000 mm2 of that to 34000 mm3 of metal: 0.04 per mm. The same for area and centroid.
VOLUME_PER_MM = 0.06
AREA_PER_MM = 0.03
CENTROID_PER_MM = 0.25


def hole(name: str, face: FaceName, u: float, v: float, diameter: float) -> Bore:
    part, _, purpose = name.partition("/")
    outline = Outline(kind="circle", width_mm=diameter)
    return Bore(part=part, purpose=purpose, face=face, u_mm=u, v_mm=v, outline=outline)


UPRIGHT = SIZES["112x60x31"]
CASES: dict[str, tuple[Enclosure, list[Bore]]] = {
    "plain": (UPRIGHT, []),
    "top": (UPRIGHT, [hole("a/b", "top", 18, 25, 7.2), hole("c/b", "top", 40, 25, 9.5), hole("f/b", "top", 30, 85, 9)]),
    "drafted sides": (
        SIZES["121x66x39"],
        [
            hole("in/b", "right", 50, 17, 9.7),
            hole("out/b", "left", 60, 20, 9.7),
            hole("dc/b", "far", 33, 15, 12.2),
            hole("n/b", "near", 20, 18, 8),
            hole("knob/b", "top", 30, 40, 7),
        ],
    ),
    "no draft, no rounding": (
        Enclosure(width_mm=80, length_mm=50, height_mm=25, draft_deg=0, edge_mm=0, corner_mm=4),
        [hole("a/b", "top", 30, 25, 10), hole("b/b", "near", 40, 12, 8)],
    ),
    "steep draft, wide rounding": (
        Enclosure(width_mm=120, length_mm=90, height_mm=40, draft_deg=3, edge_mm=4, corner_mm=9, wall_mm=2.5, top_mm=3),
        [hole("a/b", "top", 40, 40, 10), hole("b/b", "left", 40, 20, 12)],
    ),
}  # fmt: skip


@pytest.mark.parametrize("chord", [0.02, 0.002])
@pytest.mark.parametrize("name", CASES)
def test_volume_area_and_centroid(name: str, chord: float, exact_body: Callable[..., object]) -> None:
    box, bores = CASES[name]
    inner = inner_skin(box, below_mm=1.0)
    figures = (
        inner.width_mm,
        inner.length_mm,
        inner.corner_mm,
        inner.low_mm,
        inner.high_mm,
        box.draft_deg,
        inner.edge_mm,
    )
    depth = min(SCREW_DEPTH_MM, box.body_mm - box.top_mm - POST_END_MM)
    exact = exact_body(box, bores, figures, screw_places(box), (CORE_MM[screw_size(box)], depth))
    made = build(box, bores, chord)
    assert made.problems == ()
    assert made.solid.volume == pytest.approx(exact.volume, rel=VOLUME_PER_MM * chord)
    assert made.solid.area == pytest.approx(exact.area, rel=AREA_PER_MM * chord)
    assert (
        np.abs(
            trimesh.Trimesh(made.solid.welded().vertices, made.solid.welded().faces, process=False).center_mass
            - exact.centroid
        ).max()
        <= CENTROID_PER_MM * chord
    )
