"""The lid and its screws: volume by hand, figures against the published tables."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from mockup.enclosure import lid as plate
from mockup.enclosure.sizes import SIZES
from mockup.geometry.planar import distance_inside_rounded_rectangle
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
    assert plate.lid_solid(BOX, 0.001).volume == pytest.approx(volume, rel=5e-5)
    made = plate.lid_solid(BOX)
    assert made.volume == pytest.approx(volume, rel=2e-4)
    assert made.genus == 4 and made.pieces == 1


def test_closed_outward_and_as_large_as_the_rim(
    assert_closed: Callable[[Mesh], None], least_cosine: Callable[[Mesh], float]
) -> None:
    assert_closed(plate.lid_solid(BOX).welded())
    regions = plate.lid(BOX)
    assert all(least_cosine(mesh) > 0.95 for mesh in regions.values())
    low, high = regions["lid"].bounds()
    assert np.allclose(low, [-30, -56, 0]) and np.allclose(high, [30, 56, 1.8])
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
