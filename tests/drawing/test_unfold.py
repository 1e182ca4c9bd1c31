"""The unfolded box: hand-calculated places, and paper that really goes round the edge."""

from __future__ import annotations

import math

import numpy as np
import pytest

from mockup.drawing.unfold import Panel, bend_mm, placed, turned, unfolded, wrap_mm
from mockup.enclosure.skin import outer_skin
from mockup.geometry.planar import polygon
from mockup.model.enclosure import FACES, Enclosure, faces
from mockup.model.shape import Outline

BOX = Enclosure(width_mm=66.0, length_mm=121.0, height_mm=39.0)
STRAIGHT = Enclosure(width_mm=60.0, length_mm=100.0, height_mm=31.8, draft_deg=0.0, edge_mm=2.0)


def test_allowance_of_a_right_angle_is_the_textbook_one() -> None:
    """A quarter turn of radius R: arc R pi / 2 against two tangents of length R."""
    assert bend_mm(STRAIGHT) == pytest.approx(2.0 * math.pi / 2)
    assert wrap_mm(STRAIGHT) == pytest.approx(4.0 - math.pi)


def test_no_rounding_needs_no_allowance() -> None:
    assert wrap_mm(Enclosure(width_mm=60, length_mm=100, height_mm=30, edge_mm=0.0)) == 0.0


def test_places_of_a_straight_box_by_hand() -> None:
    panels = unfolded(STRAIGHT, faces(STRAIGHT), FACES)
    wrap = 4.0 - math.pi
    # Ten millimetres along and down each side, as somebody sees it who looks at that side.
    assert panels["top"].at(10, 10) == pytest.approx((10, 10))
    assert panels["near"].at(10, 10) == pytest.approx((10, 110 - wrap))
    assert panels["far"].at(10, 10) == pytest.approx((50, -10 + wrap))
    assert panels["left"].at(10, 10) == pytest.approx((-10 + wrap, 10))
    assert panels["right"].at(10, 10) == pytest.approx((70 - wrap, 90))


@pytest.mark.parametrize("name", ["near", "far", "left", "right"])
def test_paper_bent_over_the_edge_lands_on_the_side(name: str) -> None:
    """Walk on the surface itself, straight across the rounded edge, and count millimetres: the paper is as long.

    The path's points come from the skin that the box is made of; its length is summed chord by chord.
    """
    box_faces = faces(BOX)
    panels = unfolded(BOX, box_faces, FACES)
    face, v = box_faces[name], 20.0
    rails = outer_skin(BOX).rails(1e-5)[1:]  # (inset, z) round the edge, from the wall up to the flat
    outer = BOX.length_mm / 2 if name in ("near", "far") else BOX.width_mm / 2
    path = np.stack([outer - rails[:, 0], rails[:, 1]], axis=1)
    arc = float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum())
    side = face.to_world(np.array([face.width_mm / 2, v]))
    level = abs(side[1] if name in ("near", "far") else side[0])
    wall = math.dist((level, side[2]), path[0])
    inner = 30.0  # from the middle of the box to a point on the top
    across = (outer - rails[-1, 0]) - inner
    top = box_faces["top"]
    start = np.array([0.0, 0.0, BOX.height_mm]) + inner * np.round(face.out * [1, 1, 0])
    u, w, _ = top.from_world(start)
    drawn = math.dist(panels["top"].at(u, w), panels[name].at(face.width_mm / 2, v))
    assert drawn == pytest.approx(across + arc + wall, abs=2e-3)


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_panels_turn_and_never_mirror(turn: int) -> None:
    panel = Panel(face=faces(BOX)["near"], turn_deg=turn)
    right, down = panel.direction(1, 0), panel.direction(0, 1)
    assert right[0] * down[1] - right[1] * down[0] == 1


@pytest.mark.parametrize(
    "outline",
    [
        Outline(kind="slot", width_mm=15.0, height_mm=6.0),
        Outline(kind="rectangle", width_mm=12.0, height_mm=7.0, corner_mm=1.5),
        Outline(kind="rectangle", width_mm=12.0, height_mm=7.0),
        Outline(kind="d", width_mm=9.0, height_mm=8.0),
        Outline(kind="d", width_mm=9.0, height_mm=3.0),
        Outline(kind="hexagon", width_mm=10.0),
    ],
    ids=lambda each: f"{each.kind}-{each.corner_mm:g}-{each.height_mm:g}",
)
def test_outlines_are_those_that_are_drilled(outline: Outline) -> None:
    """Arcs by their bulge, cut into short chords, enclose what the cutter's own polygon does, turned as asked."""
    points, bulges = placed(outline, (3.0, 4.0), 30.0)
    chords: list[tuple[float, float]] = []
    for (x, y), end, bulge in zip(points, (*points[1:], points[0]), bulges, strict=True):
        chords.append((x, y))
        if bulge:  # centre from chord and sagitta: s = bulge * half chord
            half = math.dist((x, y), end) / 2
            radius = half * (1 + bulge**2) / (2 * bulge)
            to_centre = radius - bulge * half
            along = ((end[0] - x) / (2 * half), (end[1] - y) / (2 * half))
            middle = ((x + end[0]) / 2, (y + end[1]) / 2)
            centre = (middle[0] - along[1] * to_centre, middle[1] + along[0] * to_centre)
            start = math.atan2(y - centre[1], x - centre[0])
            for step in range(1, 400):
                angle = start + 4 * math.atan(bulge) * step / 400
                chords.append((centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)))
    drawn = np.array(chords)
    wanted = np.array([turned((x, y), (3.0, 4.0), 30.0) for x, y in polygon(outline, 1e-4)])
    assert abs(_area(drawn)) == pytest.approx(abs(_area(wanted)), rel=1e-3)
    for axis in (0, 1):
        assert drawn[:, axis].min() == pytest.approx(wanted[:, axis].min(), abs=2e-3)
        assert drawn[:, axis].max() == pytest.approx(wanted[:, axis].max(), abs=2e-3)


def test_part_frame_turns_clockwise_on_the_page() -> None:
    assert turned((0.0, 1.0), (0.0, 0.0), 0.0) == pytest.approx((0.0, -1.0))  # y up is towards the page's top
    assert turned((0.0, 1.0), (0.0, 0.0), 90.0) == pytest.approx((1.0, 0.0))  # twelve o'clock goes to three


def _area(points: np.ndarray) -> float:
    x, y = points.T
    return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2)
