"""The lid and its screws: volume by hand, figures against the published tables."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from solid_gaps import gap, overlap_volume

from mockup.enclosure import lid as plate
from mockup.enclosure.shell import undrilled_body
from mockup.enclosure.sizes import SIZES
from mockup.geometry.planar import distance_inside_rounded_rectangle
from mockup.geometry.solids import common, prism
from mockup.model.enclosure import Enclosure
from mockup.model.mesh import Mesh

BOX = SIZES["112x60x31"]


def test_figures_are_those_of_the_tables() -> None:
    """ISO 273:1979 medium; ISO 15065:2005 Dc min and max (from memory); ISO 261 coarse pitches."""
    medium = {2: 2.4, 2.5: 2.9, 3: 3.4, 3.5: 3.9, 4: 4.5, 5: 5.5, 6: 6.6}
    assert medium == plate.CLEARANCE_MM
    sunk = {
        2: (4.4, 4.5), 2.5: (5.5, 5.6), 3: (6.3, 6.5), 3.5: (8.2, 8.4), 4: (9.4, 9.6), 5: (10.4, 10.65),
        6: (12.6, 12.85),
    }  # fmt: skip
    assert set(sunk) == set(plate.COUNTERSINK_MM)
    assert all(low <= plate.COUNTERSINK_MM[size] <= high for size, (low, high) in sunk.items())
    pitch = {2: 0.4, 2.5: 0.45, 3: 0.5, 3.5: 0.6, 4: 0.7, 5: 0.8, 6: 1.0}
    assert {size: pytest.approx(size - p) for size, p in pitch.items()} == plate.CORE_MM


def test_the_plates_volume_by_hand() -> None:
    """Rounded rectangle 60 x 112, R 5, 1.8 thick, broken edge 0.3, less four M3 countersinks.

    Broken edge: the integral of A(r) over the inset. Countersink: frustum 6.4 to 3.4 over 1.5, then
    0.3 of 3.4.
    """
    a, b = 25.0, 51.0

    def section(r: float) -> float:
        return 4 * a * b + 4 * (a + b) * r + math.pi * r * r

    bevel = 0.3 / 6 * (section(5.0) + 4 * section(4.85) + section(4.7))  # Simpson, exact for a square law
    frustum = math.pi * 1.5 / 3 * (3.2**2 + 3.2 * 1.7 + 1.7**2)
    volume = section(5.0) * 1.5 + bevel - 4 * (frustum + math.pi * 1.7**2 * 0.3)
    flat = replace(BOX, seam_mm=0.0, lip_mm=0.0)
    assert plate.lid_solid(flat, 0.001).volume == pytest.approx(volume, rel=5e-5)
    made = plate.lid_solid(flat)
    assert made.volume == pytest.approx(volume, rel=2e-4)
    assert made.genus == 4 and made.pieces == 1


def test_seam_and_lip_by_hand() -> None:
    """The seam takes 0.3 off all round, 0.6 deep: A(5) - A(4.4). A bar 1.5 wide and high, edge 0.2 broken (45 degrees).

    Along the long walls: the hollow is 56 wide at the rim and leans in by 1.5 tan 1 up to the lip's top, play 0.3; the
    post's axis lies 51 from the middle, its radius is 3.5 + 1.5 tan 1 there, play 0.3.
    """

    def section(r: float) -> float:
        return 4 * 25 * 51 + 4 * (25 + 51) * r + math.pi * r * r

    drift = 1.5 * math.tan(math.radians(1.0))
    (low, high), bars = plate.lip_bars(BOX)["left"], plate.lip_bars(BOX)
    assert set(bars) == {"left", "right", "near", "far"}
    assert low == pytest.approx((-28 + drift + 0.3, -(56 - 5.0 - 3.5 - drift - 0.3)), abs=0.2)
    assert high[0] - low[0] == pytest.approx(1.5)

    def bar(wide: float, long: float) -> float:
        middle, top = (wide - 0.2) * (long - 0.2), (wide - 0.4) * (long - 0.4)
        return wide * long * 1.3 + 0.2 / 6 * (wide * long + 4 * middle + top)

    bare = plate.lid_solid(replace(BOX, seam_mm=0.0, lip_mm=0.0), 0.001).volume
    seam = bare - plate.lid_solid(replace(BOX, lip_mm=0.0), 0.001).volume
    assert seam == pytest.approx(0.3 * (section(5.0) - section(4.4)), rel=1e-3)
    lip = plate.lid_solid(replace(BOX, seam_mm=0.0), 0.001).volume - bare
    sizes = [(b[0] - a[0], b[1] - a[1]) for a, b in bars.values()]
    assert lip == pytest.approx(sum(bar(min(size), max(size)) for size in sizes), rel=1e-9)


@pytest.mark.parametrize("box", [*SIZES.values(), replace(BOX, corner_mm=14.0, draft_deg=3.0, lip_mm=4.0)])
def test_the_lip_clears_walls_and_posts_by_its_play(box: Enclosure) -> None:
    """The lid goes on, by the solid library: 0.3 mm, level, between the lip's top and the drafted casting round it.

    The top's edge is broken by 0.2, so that the nearest metal lies as much lower.
    """
    lid = plate.lid_solid(box)
    body = undrilled_body(box)
    above = common(lid, prism("above", [_square(box)], box.lid_mm + 0.01, box.lid_mm + box.lip_mm + 1.0))
    assert above.pieces == 4
    play = gap(above, body, 1.0)
    draft = math.radians(box.draft_deg)
    assert play == pytest.approx((0.3 + 0.2 * math.tan(draft)) * math.cos(draft), abs=1e-3)
    assert overlap_volume(lid, body) < 1e-6


def _square(box: Enclosure) -> np.ndarray:
    x, y = box.width_mm, box.length_mm
    return np.array([(-x, -y), (x, -y), (x, y), (-x, y)])


def test_closed_outward_and_as_large_as_the_rim(
    assert_closed: Callable[[Mesh], None], least_cosine: Callable[[Mesh], float]
) -> None:
    assert_closed(plate.lid_solid(BOX).welded())
    regions = plate.lid(replace(BOX, feet_mm=3.0))
    assert all(least_cosine(mesh) > 0.95 for mesh in regions.values())
    low, high = regions["lid"].bounds()
    assert np.allclose(low, [-30, -56, 0]) and np.allclose(high, [30, 56, 1.5])  # the seam is 0.3 high
    low, high = regions["lid inside"].bounds()
    assert low[2] == pytest.approx(1.8) and high[2] == pytest.approx(3.3)
    assert regions["lid feet"].bounds()[0][2] == -3.0 and regions["lid feet"].bounds()[1][2] == 0.0
    assert "lid feet" not in plate.lid(BOX)
    assert regions["lid screws"].volume() > 0
    assert regions["lid screws"].vertices[:, 2].min() == pytest.approx(plate.SINK_MM)  # sunk, never proud


def test_screw_heads_sit_in_their_countersinks() -> None:
    """No point of a head lies outside the 90 degree cone, and each has a cross slot cut into its face."""
    screws = plate.lid(BOX)["lid screws"]
    for x, y in plate.screw_places(BOX):
        near = np.hypot(screws.vertices[:, 0] - x, screws.vertices[:, 1] - y)
        head = (near < 4) & (screws.vertices[:, 2] < 1.5)
        assert head.any() and (near[head] <= 3.2 - screws.vertices[head, 2] + 1e-9).all()
        is_slot = head & (np.abs(screws.normals[:, 2] + 1) < 1e-9) & (screws.vertices[:, 2] > plate.SINK_MM + 0.3)
        assert is_slot.any()  # the slot's floor looks down, out of the box


@pytest.mark.parametrize("thickness", [0.5, 1.0, 1.5, 3.0])
def test_a_thin_plate_keeps_metal_over_the_countersink(thickness: float) -> None:
    box = replace(BOX, lid_mm=thickness)
    wide, depth, hole = plate.countersink(box)
    assert wide == 6.4 and hole == pytest.approx(6.4 - 2 * depth)  # 90 degrees
    assert depth < thickness
    assert plate.lid_solid(box).genus == 4


def test_screws_stand_in_the_corners_clear_of_edges() -> None:
    for box in (*SIZES.values(), Enclosure(width_mm=100, length_mm=80, height_mm=40, corner_mm=12, screw_mm=4)):
        places = plate.screw_places(box)
        assert {(math.copysign(1, x), math.copysign(1, y)) for x, y in places} == {(1, 1), (-1, 1), (-1, -1), (1, -1)}
        to_edge = float(
            distance_inside_rounded_rectangle(np.array(places[0]), box.width_mm, box.length_mm, box.corner_mm)
        )
        sink = plate.COUNTERSINK_MM[plate.screw_size(box)]
        assert to_edge >= sink / 2 + plate.MARGIN_MM - 1e-9
        assert to_edge >= box.post_mm / 2 + box.wall_mm / 2 - 1e-9
