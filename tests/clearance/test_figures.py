"""Room between flat figures: hand cases, and a brute search over points on both outlines."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from mockup.clearance.figures import Figure, between, disc, figure, least_between
from mockup.clearance.regions import above_rim, flat, outline
from mockup.geometry.planar import polygon
from mockup.model.enclosure import Enclosure, faces
from mockup.model.shape import Outline

pytestmark = pytest.mark.slow

STEP_MM = 0.08
sizes = st.floats(2, 20)
OUTLINES = st.one_of(
    st.builds(lambda d: Outline(kind="circle", width_mm=d), sizes),
    st.builds(lambda d: Outline(kind="hexagon", width_mm=d), sizes),
    st.builds(lambda a, b: Outline(kind="slot", width_mm=max(a, b), height_mm=min(a, b)), sizes, sizes),
    st.builds(
        lambda a, b, c: Outline(kind="rectangle", width_mm=a, height_mm=b, corner_mm=c * min(a, b) / 2),
        sizes,
        sizes,
        st.floats(0, 1),
    ),
    st.builds(lambda d, share: Outline(kind="d", width_mm=d, height_mm=share * d), sizes, st.floats(0.3, 0.95)),
)


def points(outline: Outline, u: float, v: float, turn_deg: float) -> np.ndarray:
    """Corners of a fine polygon of an outline on a face, with points between them, no two farther apart than a step."""
    ring = polygon(outline, 1e-4)
    steps = [
        np.linspace(a, b, max(1, math.ceil(math.dist(a, b) / STEP_MM)), endpoint=False)
        for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True)
    ]
    x, y = np.concatenate(steps).T
    turn = math.radians(turn_deg)  # clockwise as seen with v down
    return np.stack([u + x * math.cos(turn) + y * math.sin(turn), v + x * math.sin(turn) - y * math.cos(turn)], axis=1)


@settings(max_examples=60)
@example(Outline(kind="rectangle", width_mm=16, height_mm=16, corner_mm=2), Outline(kind="circle", width_mm=2), 1, 0, 0)
@given(OUTLINES, OUTLINES, st.floats(0, 360), st.floats(0, 360), st.floats(0, 360))
def test_room_is_what_a_brute_search_finds(one: Outline, other: Outline, turn: float, turn2: float, way: float) -> None:
    far = 45.0  # farther than any two of them reach
    u, v = far * math.cos(math.radians(way)), far * math.sin(math.radians(way))
    exact = between(figure(one, 0.0, 0.0, turn), figure(other, u, v, turn2))
    first, second = points(one, 0.0, 0.0, turn), points(other, u, v, turn2)
    brute = min(float(np.linalg.norm(second - each, axis=1).min()) for each in first)
    assert exact <= brute + 0.01
    assert brute - exact < STEP_MM + 0.01  # on either outline the nearest place is half a step off at most


def test_rooms_worked_out_by_hand() -> None:
    assert between(disc(0, 0, 3), disc(5, 12, 4)) == pytest.approx(13 - 7)
    slot = figure(Outline(kind="slot", width_mm=20, height_mm=6), 0, 0)
    assert between(slot, disc(0, 10, 2)) == pytest.approx(10 - 3 - 2)
    assert between(slot, disc(13, 0, 1)) == pytest.approx(13 - 10 - 1)
    turned = figure(Outline(kind="slot", width_mm=20, height_mm=6), 0, 0, 90)
    assert between(turned, disc(13, 0, 1)) == pytest.approx(13 - 3 - 1)
    square = figure(Outline(kind="rectangle", width_mm=10, height_mm=10), 0, 0)
    assert between(square, disc(8, 9, 1)) == pytest.approx(5 - 1)  # corner (5, 5) to (8, 9) is 3-4-5
    hexagon = figure(Outline(kind="hexagon", width_mm=10), 0, 0)
    assert between(hexagon, disc(9, 0, 1)) == pytest.approx(9 - 5 - 1)  # across flats along x


def test_a_circle_in_line_with_a_slot_is_as_far_off_as_its_end_at_any_turn() -> None:
    """By hand: 30 between the middles, less half the slot's 20 and the circle's radius of 2."""
    slot = Outline(kind="slot", width_mm=20, height_mm=6)
    for turn in np.arange(0.0, 360.0, 2.75).tolist():
        u, v = 30 * math.cos(math.radians(turn)), 30 * math.sin(math.radians(turn))
        assert between(figure(slot, 0, 0, turn), disc(u, v, 2)) == pytest.approx(30 - 10 - 2)
        assert between(disc(u, v, 2), figure(slot, 0, 0, turn)) == pytest.approx(30 - 10 - 2)


def test_overlap_is_how_far_they_would_have_to_move() -> None:
    square = Outline(kind="rectangle", width_mm=10, height_mm=10)
    assert between(figure(square, 0, 0), figure(square, 7, 2)) == pytest.approx(-3)
    assert between(figure(square, 0, 0), disc(0, 0, 1)) == pytest.approx(-6)
    assert between(disc(0, 0, 5), disc(4, 0, 5)) == pytest.approx(-6)


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50), st.floats(0.5, 9)), min_size=2, max_size=9))
def test_passing_pairs_over_loses_nothing(circles: list[tuple[float, float, float]]) -> None:
    figures = [disc(*each) for each in circles]
    first, second = figures[: len(figures) // 2], figures[len(figures) // 2 :]
    assert least_between(first, second) == min(between(one, other) for one in first for other in second)


def test_nothing_is_infinitely_far_from_anything() -> None:
    assert least_between((), (disc(0, 0, 1),)) == math.inf


BOX = Enclosure(width_mm=100, length_mm=120, height_mm=50, draft_deg=0.0, corner_mm=6, edge_mm=1.5, lid_mm=2)


def at(u: float, v: float) -> Figure:
    return disc(u, v, 5.0)


def test_room_on_faces_worked_out_by_hand() -> None:
    top, near = faces(BOX)["top"], faces(BOX)["near"]
    assert flat(BOX, top).room(at(10, 60)) == pytest.approx(10 - 5 - 1.5)
    # in the corner the flat's own radius is 6 - 1.5 about (6, 6): 4.5 - hypot(2, 2) - 5 for a hole at (4, 4)
    assert flat(BOX, top).room(at(4, 4)) == pytest.approx(4.5 - math.hypot(2, 2) - 5)
    assert outline(BOX, top).room(at(10, 60)) == pytest.approx(10 - 5)
    assert above_rim(top).room(at(10, 60)) == math.inf
    assert above_rim(near).room(at(50, 40)) == pytest.approx(48 - 40 - 5)
    assert flat(BOX, near).room(at(14, 24)) == pytest.approx(14 - 5 - 6)  # corners of 6 at both ends
