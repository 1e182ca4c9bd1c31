"""Cameras hold the whole pedal and no more; true-size views are true."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mockup.model.enclosure import Enclosure, faces
from mockup.model.mesh import Floats
from mockup.model.scene import Camera
from mockup.scene.cameras import STANDING_EYE_MM, frame
from mockup.scene.projection import facing, projected
from mockup.scene.views import VIEWS

BOX = np.array([[x, y, z] for x in (-33.0, 33.0) for y in (-60.5, 60.5) for z in (0.0, 52.0)])
ENCLOSURE = Enclosure(width_mm=100, length_mm=120, height_mm=50, draft_deg=0.0, corner_mm=6)
ABOVE = Camera(eye=(0, 0, 500), target=(0, 0, 0), up=(0, 1, 0), ortho_mm=150)


def project(camera: Camera, points: Floats, aspect: float) -> Floats:
    """Return picture coordinates, -1 to 1 across and up, by the pinhole formula."""
    pose = camera.basis()
    local = (points - pose[:3, 3]) @ pose[:3, :3]
    if camera.ortho_mm is not None:
        half = camera.ortho_mm / 2
        return local[:, :2] / [half * aspect, half]
    tan = math.tan(math.radians(camera.fov_deg) / 2)
    return local[:, :2] / (-local[:, 2:] * [tan * aspect, tan])


@pytest.mark.parametrize("name", VIEWS)
@given(aspect=st.floats(0.4, 2.5))
def test_every_view_holds_the_pedal_with_its_margin(name: str, aspect: float) -> None:
    view = VIEWS[name]
    seen = np.abs(project(frame(view, BOX, aspect), BOX, aspect))
    room = 1 - 2 * view.margin
    assert seen.max() <= room + 0.02
    assert seen.max() >= room - 0.03, "the pedal fills the frame in one direction"


def test_turntable_camera_holds_every_angle() -> None:
    camera = frame(VIEWS["three-quarter"], BOX, 4 / 3, turns_deg=[15.0 * i for i in range(24)])
    for angle in np.radians(np.arange(0, 360, 5)):
        turn = np.array([[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1]])
        assert np.abs(project(camera, BOX @ turn.T, 4 / 3)).max() < 0.95


def test_above_is_true_to_size_and_has_the_far_side_on_top() -> None:
    camera = frame(VIEWS["above"], BOX, 1.0)
    seen = project(camera, np.array([[0, 60.5, 52], [33, 0, 52], [33, 0, 0]]), 1.0)
    assert seen[0] == pytest.approx([0, 121 / camera.ortho_mm])  # type: ignore[operator]
    assert seen[1] == pytest.approx(seen[2]), "height does not move a point: no perspective"
    assert seen[1][0] > 0, "right is right"


@pytest.mark.parametrize(
    ("name", "point"),
    [("near", (20, -60, 10)), ("far", (-20, 60, 10)), ("left", (-33, -20, 10)), ("right", (33, 20, 10))],
)
def test_sides_are_seen_straight_and_upright(name: str, point: tuple[float, float, float]) -> None:
    """Looking straight at a face, its right is on the right and the top of the box is up."""
    camera = frame(VIEWS[name], BOX, 1.5)
    low, high = project(camera, np.array([point, (*point[:2], 40.0)]), 1.5)
    assert low[0] > 0
    assert high[1] > low[1]
    assert camera.ortho_mm is not None


def test_player_stands_at_published_eye_height() -> None:
    """1630 mm: standing eye height, men, 50th percentile (Pheasant, Bodyspace, as quoted)."""
    camera = frame(VIEWS["player"], BOX, 1.2)
    assert camera.eye[2] == STANDING_EYE_MM == 1630.0
    assert camera.eye[1] < -60.5


def test_points_lie_where_a_ruler_puts_them() -> None:
    """600 px show 150 mm: 4 px/mm. The far left corner of the top is (-50, 60): 50 mm left, 60 up."""
    points = faces(ENCLOSURE)["top"].to_world(np.array([[0.0, 0.0], [50.0, 60.0], [100.0, 0.0]]))
    assert projected(ABOVE, (500, 600), points) == pytest.approx(
        np.array([[250 - 200, 300 - 240], [250, 300], [450, 60]])
    )


def test_perspective_shrinks_with_distance() -> None:
    """Half angle 45 degrees: at 100 mm the half height is 100 mm, so 10 mm up is a tenth of half the picture."""
    camera = Camera(eye=(0, 0, 100), target=(0, 0, 0), up=(0, 1, 0), fov_deg=90)
    assert projected(camera, (400, 200), np.array([[0.0, 10.0, 0.0]])) == pytest.approx(np.array([[200, 90]]))


def test_what_is_behind_the_eye_is_seen_nowhere() -> None:
    camera = Camera(eye=(0, 0, 100), target=(0, 0, 0), up=(0, 1, 0), fov_deg=90)
    seen = projected(camera, (400, 200), np.array([[0.0, 10.0, 150.0], [0.0, 10.0, 100.0], [0.0, 0.0, 0.0]]))
    assert np.isnan(seen[:2]).all()
    assert seen[2] == pytest.approx([200, 100])


def test_a_surface_faces_the_eye_by_the_cosine_between_them() -> None:
    """By hand: from 100 mm up, a point 100 mm off is seen at 45 degrees; with no perspective, straight."""
    near = Camera(eye=(0, 0, 100), target=(0, 0, 0), up=(0, 1, 0), fov_deg=90)
    up, point = np.array([0.0, 0.0, 1.0]), np.array([100.0, 0.0, 0.0])
    assert facing(near, point, up) == pytest.approx(math.sqrt(0.5))
    assert facing(near, point, -up) == pytest.approx(-math.sqrt(0.5))
    assert facing(ABOVE, point, up) == pytest.approx(1.0)
