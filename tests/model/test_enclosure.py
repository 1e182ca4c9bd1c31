"""The faces of a drafted box against hand calculation.

Box 60 x 112 x 31 mm, lid 1.8, draft 1 degree: tan 1 = 0.0174550649, sin 1 = 0.0174524064,
cos 1 = 0.9998476952; the wall moves in by 29.2 * tan 1 = 0.5096878960 on its way up.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.model.enclosure import FACES, Enclosure, faces

BOX = Enclosure(width_mm=60, length_mm=112, height_mm=31, lid_mm=1.8, draft_deg=1.0, corner_mm=5.0, edge_mm=1.5)
INSET = 0.5096878960
BOXES = st.builds(
    Enclosure,
    width_mm=st.floats(40, 150),
    length_mm=st.floats(40, 200),
    height_mm=st.floats(20, 60),
    draft_deg=st.floats(0, 5),
    corner_mm=st.floats(8, 12),
)


def test_the_top_is_smaller_than_the_rim_by_twice_the_draft():
    top = faces(BOX)["top"]
    assert top.width_mm == pytest.approx(60 - 2 * INSET, abs=1e-9)
    assert top.height_mm == pytest.approx(112 - 2 * INSET, abs=1e-9)
    assert top.origin == pytest.approx([-30 + INSET, 56 - INSET, 31], abs=1e-9)


def test_the_flat_of_the_top_begins_where_the_rounding_ends():
    # R tan((90 - 1) / 2) = 1.5 * tan 44.5 = 1.5 * 0.9826972631
    assert faces(BOX)["top"].flat[:2] == pytest.approx((1.4740458947, 1.4740458947), abs=1e-9)


def test_a_side_is_as_high_as_its_slant_and_as_wide_as_the_box_at_the_rim():
    near = faces(BOX)["near"]
    assert near.height_mm == pytest.approx(29.2 / 0.9998476952, abs=1e-8)
    assert near.width_mm == pytest.approx(60 - 2 * INSET, abs=1e-9)
    rim = near.right_edge(near.height_mm) - near.left_edge(near.height_mm)
    assert rim == pytest.approx(60, abs=1e-9)


def test_a_box_without_draft_has_upright_walls():
    box = Enclosure(width_mm=60, length_mm=112, height_mm=31, draft_deg=0.0)
    near = faces(box)["near"]
    assert near.out == pytest.approx([0, -1, 0])
    assert (near.width_mm, near.height_mm, near.taper) == pytest.approx((60, 29.2, 0))
    assert box.flat_inset_mm == pytest.approx(box.edge_mm)  # a quarter round: tangent length = radius


@pytest.mark.parametrize(
    ("name", "right"), [("near", (1, 0, 0)), ("far", (-1, 0, 0)), ("left", (0, -1, 0)), ("right", (0, 1, 0))]
)
def test_right_is_to_the_right_for_somebody_who_looks_at_the_face(name, right):
    assert faces(BOX)[name].right == pytest.approx(right)


@given(BOXES, st.floats(-20, 200), st.floats(-20, 60))
def test_frames_are_right_handed_and_map_back(box, u, v):
    for name in FACES:
        face = faces(box)[name]
        assert np.cross(face.right, face.down) == pytest.approx(-face.out, abs=1e-12)
        back = face.from_world(face.to_world(np.array([u, v]), 3.0))
        assert back == pytest.approx([u, v, 3.0], abs=1e-9)


@given(BOXES)
def test_neighbours_meet_along_their_common_edge(box):
    sides = faces(box)
    for name, beside in (("near", "right"), ("right", "far"), ("far", "left"), ("left", "near")):
        one, other = sides[name], sides[beside]
        for v in (0.0, one.height_mm):
            here = one.to_world(np.array([one.right_edge(v), v]))
            there = other.to_world(np.array([other.left_edge(v), v]))
            assert here == pytest.approx(there, abs=1e-9)


@given(BOXES, st.floats(-360, 360), st.sampled_from(FACES))
def test_poses_are_rotations_that_stand_on_the_face(box, turn, name):
    face = faces(box)[name]
    pose = face.pose(10.0, 12.0, turn, out_mm=2.0)
    assert pose[:3, :3] @ pose[:3, :3].T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(pose[:3, :3]) == pytest.approx(1.0)
    assert face.from_world(pose[:3, 3]) == pytest.approx([10.0, 12.0, 2.0], abs=1e-9)


def test_a_quarter_turn_is_clockwise_as_seen_from_outside():
    pose = faces(BOX)["top"].pose(0.0, 0.0, 90.0)
    assert pose[:3, 1] == pytest.approx([1, 0, 0])  # the part's up now points to the right
    assert pose[:3, 0] == pytest.approx([0, -1, 0])  # and its right points down, towards the player
