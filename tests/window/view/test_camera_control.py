"""The camera keeps the pedal beside the cards that lie over the picture."""

from __future__ import annotations

from itertools import product
from types import SimpleNamespace

import numpy as np
import pytest

from mockup.model.scene import Camera
from mockup.scene.projection import projected
from mockup.window.photograph.held_photograph import HeldPhotograph
from mockup.window.state import State
from mockup.window.view.camera_control import CameraControl

WIDTH, HEIGHT = 584, 292  # the picture of a window of 640 by 400 units
POINTS = np.array(list(product((-33.0, 33.0), (-60.0, 60.0), (0.0, 39.0))))


class View:
    """What the camera asks of the view: one pane that shows a box."""

    def __init__(self) -> None:
        self.state, self.grid = State(view="above"), SimpleNamespace(rects=[None])
        self.over = (0.0, 0.0)

    def covered(self):
        return self.over

    def pane_size(self):
        return WIDTH, HEIGHT

    def points(self, part=None):
        return POINTS

    def change(self, state):
        self.state = state


@pytest.fixture
def view():
    return View()


@pytest.fixture
def camera(view):
    made = CameraControl(view, SimpleNamespace(design=None, faces={}), HeldPhotograph())
    made.motion_s = 0.0
    made.frame()
    return made


def seen(camera):
    xs = projected(camera.camera, (WIDTH, HEIGHT), POINTS)[:, 0]
    return xs.min(), xs.max()


@pytest.mark.parametrize("over", [(212.0, 0.0), (0.0, 288.0), (100.0, 200.0)])
def test_a_pedal_stands_whole_in_the_middle_of_what_is_free(view, camera, over):
    view.over = over
    camera.frame()
    left, right = seen(camera)
    assert over[0] <= left < right <= WIDTH - over[1]
    assert (left + right) / 2 == pytest.approx((over[0] + WIDTH - over[1]) / 2, abs=1.0)


def test_it_comes_back_when_the_card_goes(view, camera):
    before = camera.orbit
    view.over = (0.0, 288.0)
    camera.frame()
    view.over = (0.0, 0.0)
    camera.frame()
    assert camera.orbit == before


def test_what_was_looked_at_goes_aside_as_far_as_the_middle_does(view, camera):
    camera.turn(30.0, -20.0)
    before, size = sum(seen(camera)) / 2, camera.orbit.distance_mm
    view.over = (0.0, 288.0)
    camera.frame()
    assert sum(seen(camera)) / 2 == pytest.approx(before - 144.0, abs=6.0)  # perspective takes some of it
    assert camera.orbit.distance_mm == size


def test_fit_fits_what_is_free(view, camera):
    view.over = (0.0, 288.0)
    camera.frame()
    camera.zoom(3.0)
    camera.fit()
    left, right = seen(camera)
    assert 0 <= left < right <= WIDTH - 288


def test_a_photographs_own_camera_is_held_until_a_view_is_taken(view):
    photo = HeldPhotograph()
    camera = CameraControl(view, SimpleNamespace(design=None, faces={}), photo)
    own = Camera(eye=(0.0, -300.0, 300.0), target=(0.0, 0.0, 0.0), up=(0.0, 0.0, 1.0), fov_deg=30.0)
    photo.camera = lambda room: own
    view.state = view.state.with_page("photograph")
    camera.turn(40.0, 10.0)
    camera.zoom(2.0)
    assert camera.camera == own
    camera.take_view("player")
    assert camera.camera != own
    assert view.state.page is None
