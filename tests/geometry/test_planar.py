"""Outlines against closed forms worked by hand, and distances against a search along the edge."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from perimeters import perimeter

from mockup.geometry import planar
from mockup.model.shape import Outline

OUTLINES = [
    Outline(kind="circle", width_mm=12.0),
    Outline(kind="hexagon", width_mm=14.0),
    Outline(kind="rectangle", width_mm=12.0, height_mm=5.0),
    Outline(kind="rectangle", width_mm=12.0, height_mm=5.0, corner_mm=1.0),
    Outline(kind="rectangle", width_mm=12.0, height_mm=5.0, corner_mm=2.5),
    Outline(kind="slot", width_mm=12.0, height_mm=3.0),
    Outline(kind="slot", width_mm=5.0, height_mm=5.0),
    Outline(kind="d", width_mm=6.0, height_mm=4.5),
    Outline(kind="d", width_mm=6.0, height_mm=2.0),
]
each_outline = pytest.mark.parametrize("outline", OUTLINES, ids=lambda o: f"{o.kind}-{o.width_mm:g}-{o.corner_mm:g}")


def test_areas_and_perimeters_worked_by_hand() -> None:
    circle, hexagon, sharp, rounded, _, slot, _, d, _ = OUTLINES
    assert planar.area(circle) == pytest.approx(36 * math.pi)
    assert planar.area(hexagon) == pytest.approx(14**2 * 0.8660254037844386)  # s^2 sqrt(3) / 2
    assert planar.area(sharp) == 60.0
    assert planar.area(rounded) == pytest.approx(60 - 4 + math.pi)
    assert planar.area(slot) == pytest.approx(9 * 3 + 2.25 * math.pi)
    # circle of radius 3 less the segment above y = 1.5: 9 (pi/3 - sqrt(3)/4)
    assert planar.area(d) == pytest.approx(9 * math.pi - 9 * (math.pi / 3 - math.sqrt(3) / 4))
    assert perimeter(hexagon) == pytest.approx(6 * 14 / math.sqrt(3))
    assert perimeter(rounded) == pytest.approx(2 * 17 - 8 + 2 * math.pi)
    assert perimeter(slot) == pytest.approx(18 + 3 * math.pi)
    assert perimeter(d) == pytest.approx(6 * math.pi * 2 / 3 + 3 * math.sqrt(3))


@each_outline
def test_polygon_approaches_the_outline_with_the_chord_error(outline: Outline) -> None:
    for chord in (0.1, 0.02, 0.001):
        points = planar.polygon(outline, chord)
        following = np.roll(points, -1, axis=0)
        inside = (points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1]).sum() / 2  # the shoelace formula
        # a chord cuts off at most 2/3 of its length times the sagitta
        assert -1e-9 <= planar.area(outline) - inside <= perimeter(outline) * chord * 2 / 3 + 1e-9
        assert np.linalg.norm(following - points, axis=1).sum() <= perimeter(outline) + 1e-9
        assert np.linalg.norm(points, axis=1).max() <= planar.reach(outline) + 1e-9


@each_outline
def test_bounds_hold_the_polygon_tightly(outline: Outline) -> None:
    left, bottom, right, top = planar.bounds(outline)
    low, high = planar.polygon(outline, 1e-4).min(axis=0), planar.polygon(outline, 1e-4).max(axis=0)
    assert np.allclose([left, bottom], low, atol=2e-4)
    assert np.allclose([right, top], high, atol=2e-4)


@each_outline
def test_normals_are_unit_and_point_outward_at_right_angles(outline: Outline) -> None:
    ring = planar.contour(outline, 1e-3)
    along = np.roll(ring.points, -1, axis=0) - ring.points
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1)
    for normals in (ring.starts, ring.ends):
        assert np.allclose(np.linalg.norm(normals, axis=1), 1.0, atol=1e-12)
        assert (np.einsum("ij,ij->i", normals, outward) > math.cos(math.radians(8))).all()
    # where a chord turns by 2t, both normals lean by t: their mean is the chord's own normal
    assert np.allclose(
        ring.starts + ring.ends, outward * np.einsum("ij,ij->i", ring.starts + ring.ends, outward)[:, None]
    )


def test_round_parts_are_smooth_and_corners_crisp() -> None:
    circle = planar.contour(OUTLINES[0])
    assert np.allclose(np.roll(circle.ends, 1, axis=0), circle.starts)
    assert np.allclose(circle.starts * 6.0, circle.points)
    hexagon = planar.contour(OUTLINES[1])
    turns = np.einsum("ij,ij->i", np.roll(hexagon.ends, 1, axis=0), hexagon.starts)
    assert np.allclose(turns, 0.5)  # 60 degrees at each corner
    rounded = planar.contour(OUTLINES[3])
    assert np.allclose(np.roll(rounded.ends, 1, axis=0), rounded.starts)


@given(
    width=st.floats(5, 200),
    height=st.floats(5, 200),
    share=st.floats(0.01, 0.99),
    x=st.floats(-150, 150),
    y=st.floats(-150, 150),
)
def test_distance_inside_a_rounded_rectangle_agrees_with_a_search_along_its_edge(
    width: float, height: float, share: float, x: float, y: float
) -> None:
    corner = share * min(width, height) / 2
    start = planar.polygon(Outline(kind="rectangle", width_mm=width, height_mm=height, corner_mm=corner), 1e-4)
    along = np.roll(start, -1, axis=0) - start
    to_point = np.array([x, y]) - start
    share_along = np.clip(np.einsum("ij,ij->i", to_point, along) / np.einsum("ij,ij->i", along, along), 0, 1)
    nearest = np.linalg.norm(to_point - share_along[:, None] * along, axis=1).min()
    is_inside = bool((along[:, 0] * to_point[:, 1] - along[:, 1] * to_point[:, 0] > 0).all())  # a convex polygon
    distance = planar.distance_inside_rounded_rectangle(np.array([x, y]), width, height, corner)
    assert float(distance) == pytest.approx(nearest if is_inside else -nearest, abs=2e-4)


def test_a_20_mm_knob_gets_at_least_96_steps() -> None:
    assert planar.arc_steps(10.0, 2 * math.pi, planar.FINE_CHORD_MM) >= 96


@pytest.mark.parametrize(
    ("outline", "words"),
    [
        (Outline(kind="circle", width_mm=0.0), "above 0 mm"),
        (Outline(kind="circle", width_mm=math.nan), "finite"),
        (Outline(kind="rectangle", width_mm=5.0), "height above 0 mm"),
        (Outline(kind="rectangle", width_mm=5.0, height_mm=4.0, corner_mm=2.5), "half the shorter side"),
        (Outline(kind="slot", width_mm=3.0, height_mm=4.0), "at least as long"),
        (Outline(kind="d", width_mm=6.0, height_mm=6.0), "less than its diameter"),
    ],
)
def test_impossible_outlines_are_named(outline: Outline, words: str) -> None:
    problem = planar.outline_problem(outline)
    assert problem is not None and words in problem
    with pytest.raises(ValueError, match=words):
        planar.contour(outline)


def test_nothing_left_of_an_inset_is_an_error() -> None:
    assert planar.area(planar.inset(OUTLINES[3], 0.5)) == pytest.approx(11 * 4 - (4 - math.pi) * 0.25)
    with pytest.raises(ValueError, match="nothing is left"):
        planar.inset(OUTLINES[3], 2.5)
    with pytest.raises(ValueError, match="chord error"):
        planar.arc_steps(1.0, 1.0, 0.0)
